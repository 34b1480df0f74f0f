package book

import (
	"encoding/json"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/money"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/takeoff"
)

// The cutting plan and the buying list, as plan.json has them.

type dataCutting struct {
	Kind    string      `json:"kind" doc:"handrail, shoe or fillet" unit:"text"`
	Part    string      `json:"part" doc:"the part's name" unit:"text"`
	Title   string      `json:"title,omitempty" doc:"its name on a page" unit:"text"`
	Sticks  []dataStick `json:"sticks" doc:"every stick that is cut, in the order they are numbered" unit:"none"`
	Kerf    dataLength  `json:"kerf" doc:"width of a saw cut" unit:"length"`
	Trim    dataLength  `json:"trim" doc:"taken off each end of a bought stick" unit:"length"`
	Rough   dataLength  `json:"rough" doc:"what pieces are cut longer than the cut list says, to be fitted" unit:"length"`
	RunOut  *dataLength `json:"runOut,omitempty" doc:"what a stick with pieces cut at an angle loses where the first runs out, and what no stick is filled nearer than; absent where none is cut at an angle" unit:"length"`
	Priced  bool        `json:"priced" doc:"the least is of money; else, while a price is to be asked for, of the length bought" unit:"none"`
	Assumed bool        `json:"assumed" doc:"no supplier says in which lengths it is sold: the shop's usual ones are taken" unit:"none"`
	Cost    json.Number `json:"cost,omitempty" doc:"of what is bought" unit:"currency"`
	Bound   json.Number `json:"bound,omitempty" doc:"no way of cutting costs less" unit:"currency"`
	Bought  dataLength  `json:"bought" doc:"all bought sticks end to end" unit:"length"`
	Least   *dataLength `json:"least,omitempty" doc:"no way of cutting buys less, where there are no prices" unit:"length"`
	Proven  bool        `json:"proven" doc:"cost, or length, is the least there is" unit:"none"`
	Steps   int         `json:"steps" min:"0" doc:"work that the search took" unit:"steps"`
	Figure  string      `json:"figure,omitempty" doc:"id of the working of what is bought" unit:"text"`
}

type dataStick struct {
	Number   int              `json:"number" min:"1" doc:"the stick's number in the cutting plan of its part" unit:"none"`
	Long     dataLength       `json:"long" doc:"its length" unit:"length"`
	Source   string           `json:"source" enum:"stick" doc:"where it comes from" unit:"text"`
	Supplier string           `json:"supplier,omitempty" doc:"who sells it, or the rack it lies on: name of the file" unit:"text"`
	Pieces   []dataStickPiece `json:"pieces" doc:"what is cut from it, the longest first" unit:"none"`
	Left     dataLength       `json:"left" doc:"what is left of it" unit:"length"`
	Keep     bool             `json:"keep" doc:"what is left is worth keeping" unit:"none"`
}

type dataStickPiece struct {
	Piece int        `json:"piece" min:"0" doc:"index in pieces" unit:"none"`
	N     int        `json:"n" min:"1" doc:"which one of them" unit:"none"`
	Long  dataLength `json:"long" doc:"as it comes off the stick" unit:"length"`
	Saw   dataLength `json:"saw" doc:"what its cut takes along the stick: the kerf, more where it is cut at an angle" unit:"length"`
}

type dataBuying struct {
	Currency string      `json:"currency" doc:"sign of the money that every amount is in" unit:"text"`
	Orders   []dataOrder `json:"orders" doc:"what is bought, by supplier" unit:"none"`
	Known    json.Number `json:"known" doc:"sum of every line that has a price" unit:"currency"`
	Complete bool        `json:"complete" doc:"every line has its price, and every part is counted" unit:"none"`
	Figure   string      `json:"figure,omitempty" doc:"id of its working" unit:"text"`
}

type dataOrder struct {
	Supplier string      `json:"supplier,omitempty" doc:"name of the supplier's file; absent for what nobody sells yet" unit:"text"`
	Title    string      `json:"title,omitempty" doc:"its name on a page" unit:"text"`
	By       string      `json:"by,omitempty" doc:"day to order by; absent while the day of need or the time it takes is not known" unit:"date"`
	Lead     *int        `json:"lead,omitempty" min:"0" doc:"from order to door" unit:"days"`
	Lines    []dataLine  `json:"lines" doc:"so many packs, sticks or cans each" unit:"none"`
	Known    json.Number `json:"known" doc:"sum of the lines that have a price" unit:"currency"`
	Figure   string      `json:"figure,omitempty" doc:"id of its working" unit:"text"`
}

type dataLine struct {
	Kind   string      `json:"kind" doc:"kind of the part, or finish" unit:"text"`
	Part   string      `json:"part" doc:"the part's name" unit:"text"`
	Title  string      `json:"title" doc:"its name on a page" unit:"text"`
	Coat   string      `json:"coat,omitempty" doc:"of a finish: which coat" unit:"text"`
	Count  int         `json:"count" min:"0" doc:"packs, sticks or cans" unit:"none"`
	Pack   int         `json:"pack,omitempty" min:"0" doc:"pieces in a pack; absent for sticks and cans" unit:"pieces"`
	Long   *dataLength `json:"long,omitempty" doc:"length of a stick" unit:"length"`
	Can    string      `json:"can,omitempty" doc:"size of a can" unit:"text"`
	Needed int         `json:"needed" min:"0" doc:"pieces that the job needs, of parts bought by the piece" unit:"pieces"`
	Spare  int         `json:"spare" min:"0" doc:"more, by the shop's rule" unit:"pieces"`
	Held   int         `json:"held" min:"0" doc:"of both, those on hand" unit:"pieces"`
	Each   json.Number `json:"each,omitempty" doc:"price of one; absent while it is to be asked for" unit:"currency"`
	Amount json.Number `json:"amount,omitempty" doc:"price of all" unit:"currency"`
	Figure string      `json:"figure,omitempty" doc:"id of its working" unit:"text"`
}

type dataLabel struct {
	Mark   string `json:"mark" doc:"what is written on the piece; no two pieces of a job share one" unit:"text"`
	Piece  int    `json:"piece" min:"0" doc:"index in pieces" unit:"none"`
	N      int    `json:"n" min:"1" doc:"which of the pieces of that cut" unit:"none"`
	Number int    `json:"number" min:"0" doc:"which of its sort in its run, from the datum end where that is known" unit:"none"`
	Of     int    `json:"of" min:"1" doc:"how many of its sort the run has" unit:"pieces"`
	Ends   string `json:"ends,omitempty" doc:"which way it lies or stands" unit:"text"`
	Bevel  string `json:"bevel,omitempty" doc:"which of its ends are cut at an angle" unit:"text"`
	Tread  string `json:"tread,omitempty" doc:"what a baluster of a flight stands on" unit:"text"`
}

type dataFixing struct {
	Fastening string        `json:"fastening" doc:"how the joint is made: name of the file" unit:"text"`
	Joins     string        `json:"joins" doc:"the sort of joint" unit:"text"`
	With      string        `json:"with" doc:"name of the fixing" unit:"text"`
	Run       string        `json:"run,omitempty" doc:"name of the run; absent for a post" unit:"text"`
	Where     string        `json:"where,omitempty" doc:"the end, or the post" unit:"text"`
	Count     int           `json:"count" min:"1" doc:"how many" unit:"pieces"`
	Places    []dataLength  `json:"places" doc:"from the datum face, where each has a place of its own; along the rake where there is one" unit:"length"`
	Rows      []dataFootRow `json:"rows,omitempty" doc:"of bolts or lag screws at a post's foot, where they are bored, the upper first" unit:"none"`
	Through   string        `json:"through,omitempty" doc:"what it passes, with its wood" unit:"text"`
	Into      string        `json:"into,omitempty" doc:"what it holds in, with its wood" unit:"text"`
	Bores     []dataBore    `json:"bores" doc:"holes for one" unit:"none"`
	Driver    string        `json:"driver,omitempty" doc:"what drives it" unit:"text"`
	Wax       bool          `json:"wax" doc:"its thread is waxed" unit:"none"`
	Glue      bool          `json:"glue" doc:"glue goes in as well" unit:"none"`
	Notes     []string      `json:"notes" doc:"what one must know" unit:"text"`
}

type dataBore struct {
	For     string      `json:"for" doc:"clearance, pilot, head" unit:"text"`
	Bit     *dataLength `json:"bit,omitempty" doc:"a real drill bit; absent while it is not known" unit:"length"`
	Deep    *dataLength `json:"deep,omitempty" doc:"how deep; absent where it goes right through, or is not known" unit:"length"`
	From    *dataLength `json:"from,omitempty" doc:"least of the published band" unit:"length"`
	To      *dataLength `json:"to,omitempty" doc:"most of the published band, or the figure that the bit was chosen by" unit:"length"`
	Through bool        `json:"through" doc:"it goes right through" unit:"none"`
	Note    string      `json:"note,omitempty" doc:"what one must know of the hole" unit:"text"`
	Cite    string      `json:"cite,omitempty" doc:"what stands behind it" unit:"text"`
	Status  string      `json:"status,omitempty" enum:"status" doc:"how sure that is" unit:"text"`
	Figure  string      `json:"figure,omitempty" doc:"id of its working" unit:"text"`
}

func (d dataWriter) fixing(x takeoff.Fixing) dataFixing {
	return dataFixing{
		Fastening: x.Fastening.Name, Joins: x.Fastening.Joins.Text, With: x.With.Name, Run: x.Run, Where: x.Where, Count: x.Count, Places: eachOf(x.Places, d.length), Rows: eachOf(x.Rows, d.footRow),
		Through: x.Through, Into: x.Into, Driver: x.Driver, Wax: x.Wax, Glue: x.Glue, Notes: eachOf(x.Notes, asIs),
		Bores: eachOf(x.Bores, func(b takeoff.Bore) dataBore {
			out := dataBore{For: b.For, Bit: d.lengthIf(b.Hole.Bit > 0, b.Hole.Bit), Deep: d.lengthIf(b.Deep > 0, b.Deep), From: d.lengthIf(b.Hole.From > 0, b.Hole.From), To: d.lengthIf(b.Hole.To > 0, b.Hole.To), Through: b.Through, Note: b.Hole.Note, Figure: b.Fig}
			if b.Hole.Bit > 0 {
				out.Cite, out.Status = b.Hole.Cite.Text, b.Hole.Cite.Status.String()
			}
			return out
		}),
	}
}

func (d dataWriter) label(l takeoff.Label) dataLabel {
	return dataLabel{l.Mark, l.Piece, l.N, l.Number, l.Of, l.Ends, l.Bevel, l.Tread}
}

func (d dataWriter) labelsTable() File {
	s := sheet{path: "data/labels.csv", head: []string{"mark", "run", "piece", "number", "of", d.in("length"), "length", "ends", "bevel", "tread"}}
	for _, l := range d.plan.Takeoff.Labels {
		c := d.plan.Takeoff.Pieces[l.Piece]
		long, longText := d.both(!c.ToFit, c.Length)
		s.row(cellText(l.Mark), cellText(c.Run), cellText(c.What), cellCount(l.Number), cellCount(l.Of), long, longText, cellText(l.Ends), cellText(l.Bevel), cellText(l.Tread))
	}
	for _, l := range d.plan.Takeoff.Blanks {
		s.row(cellText(l.Mark), cellText(l.Run), cellText(l.What), cellCount(l.Number), cellCount(l.Of), cellText(""), cellText(""), cellText(l.Ends), cellText(""), cellText(""))
	}
	return s.file()
}

func (d dataWriter) fixingsTable() File {
	s := sheet{path: "data/fixings.csv", head: []string{"joint", "with", "run", "where", "count", "bore", d.in("bit"), "bit", d.in("deep"), "deep", "driver", "wax", "status"}}
	for _, x := range d.plan.Takeoff.Fixings {
		row := func(b takeoff.Bore) {
			bit, bitText := d.both(b.Hole.Bit > 0, b.Hole.Bit)
			deep, deepText := d.both(b.Deep > 0, b.Deep)
			status := ""
			if b.Hole.Bit > 0 {
				status = b.Hole.Cite.Status.String()
			}
			s.row(cellText(x.Fastening.Joins.Text), cellText(x.With.Name), cellText(x.Run), cellText(x.Where), cellCount(x.Count), cellText(b.For), bit, bitText, deep, deepText, cellText(x.Driver), cellYesNo(x.Wax), cellText(status))
		}
		if len(x.Bores) == 0 {
			row(takeoff.Bore{})
		}
		for _, b := range x.Bores {
			row(b)
		}
	}
	return s.file()
}

type dataAlternative struct {
	Name     string       `json:"name" doc:"name of its file" unit:"text"`
	Title    string       `json:"title,omitempty" doc:"its name on a page" unit:"text"`
	Changes  []dataChange `json:"changes" doc:"keys that it lays over those of the job" unit:"none"`
	Runs     []dataWay    `json:"runs" doc:"how the runs come out" unit:"none"`
	Fails    int          `json:"fails" min:"0" doc:"checks that fail" unit:"none"`
	Asks     int          `json:"asks" min:"0" doc:"checks to settle with the authority" unit:"none"`
	Missing  int          `json:"missing" min:"0" doc:"readings to take and decisions to make" unit:"none"`
	Minutes  int          `json:"minutes" min:"0" doc:"working time of all steps" unit:"minutes"`
	Buying   json.Number  `json:"buying" doc:"what is bought, as far as prices are known" unit:"currency"`
	Complete bool         `json:"complete" doc:"every price and count in it is known" unit:"none"`
	Price    json.Number  `json:"price,omitempty" doc:"total price; absent while it is not whole" unit:"currency"`
}

type dataChange struct {
	Of    string     `json:"of" doc:"the file that it is laid over: job.md, a run's name, all runs, settings" unit:"text"`
	Key   string     `json:"key" doc:"the key" unit:"text"`
	Value string     `json:"value,omitempty" doc:"its value as written; absent for one left blank" unit:"text"`
	At    *dataPlace `json:"at,omitempty" doc:"where it was written" unit:"none"`
}

type dataWay struct {
	Run    string         `json:"run" doc:"name of the run" unit:"text"`
	Chosen *dataCandidate `json:"chosen,omitempty" doc:"the count that would be built; absent where it cannot be laid out" unit:"none"`
}

func (d dataWriter) alternative(a plan.Alternative) dataAlternative {
	out := dataAlternative{Name: a.Of.Name, Title: a.Of.Title.Text, Buying: "0.00", Runs: []dataWay{}, Changes: eachOf(a.Of.Changes, func(c job.Change) dataChange {
		return dataChange{c.Of, c.Key, c.Value, placeIf(c.At)}
	})}
	if a.Plan == nil {
		return out
	}
	out.Fails, out.Asks = verdicts(a.Plan, finding.Fail), verdicts(a.Plan, finding.AskAuthority)
	out.Missing, out.Minutes, out.Buying, out.Complete = len(a.Plan.Missing), a.Plan.Sequence.Minutes, amountOf(a.Plan.Buying.Known), a.Plan.Buying.Complete
	if a.Plan.Price.Known && a.Plan.Price.Complete {
		out.Price = amountOf(a.Plan.Price.Total)
	}
	for _, r := range a.Plan.Layout.Runs {
		way := dataWay{Run: r.Name}
		if r.Chosen != nil {
			c := d.candidate(*r.Chosen)
			way.Chosen = &c
		}
		out.Runs = append(out.Runs, way)
	}
	return out
}

// alternativesTable sets the ways to build the job below each other, first as drawn: a row for each run, then one for the whole job.
func (d dataWriter) alternativesTable() File {
	s := sheet{path: "data/alternatives.csv", head: []string{
		"alternative", "title", "run", "baluster", "balusters", d.in("gap"), d.in("spacing"), d.in("worst opening"), "comparison", d.in("limit"), "verdict",
		d.in("top of rail"), d.in("handrail"), d.in("shoe"), "checks that fail", "checks to ask about", "readings to take", "working time (min)", "to buy", "to buy is whole", "price", "currency",
	}}
	if len(d.plan.Alternatives) == 0 {
		return s.file()
	}
	s.way(d, "", "As drawn", d.plan)
	for _, a := range d.plan.Alternatives {
		if a.Plan != nil {
			s.way(d, a.Of.Name, wayTitle(a.Of), a.Plan)
		}
	}
	return s.file()
}

func (s *sheet) way(d dataWriter, name, title string, p *plan.Plan) {
	all, whole := 0, true
	for _, r := range p.Layout.Runs {
		row := []cell{cellText(name), cellText(title), cellText(r.Name), cellText(balusterOf(r))}
		if c := r.Chosen; c != nil {
			all += c.Count
			row = append(row, cellCount(c.Count), d.decimals(c.Gap), d.decimals(c.Spacing), d.decimals(c.Worst))
			limit, comparison := cell(""), cell("")
			if r.Limit.Known {
				limit, comparison = d.decimals(r.Limit.Value), cellText(r.Limit.Op.String())
			}
			row = append(row, comparison, limit, cellText(c.Verdict().String()))
		} else {
			whole = false
			row = append(row, "", "", "", "", "", "", "")
		}
		top := r.Levels.RailTop
		if r.Rake != nil {
			top = r.Rake.Top
		}
		topCell, _ := d.both(top > 0, top)
		rail, shoe := cell(""), length.Length(0)
		if r.Handrail != nil {
			rail = d.decimals(r.Handrail.Length)
		}
		for _, c := range r.ShoeCuts() {
			shoe += c.Length
		}
		shoeCell, _ := d.both(shoe > 0, shoe)
		s.row(append(row, topCell, rail, shoeCell, "", "", "", "", "", "", "", "")...)
	}
	balusters, price, currency := cell(""), cell(""), ""
	if whole {
		balusters = cellCount(all)
	}
	if p.Price.Known && p.Price.Complete {
		price = cell(p.Price.Total.String())
	}
	if p.Job != nil {
		currency = p.Job.Shop.Currency.Text
	}
	s.row(cellText(name), cellText(title), "", "", balusters, "", "", "", "", "", "", "", "", "", cellCount(verdicts(p, finding.Fail)), cellCount(verdicts(p, finding.AskAuthority)),
		cellCount(len(p.Missing)), cellCount(p.Sequence.Minutes), cell(p.Buying.Known.String()), cellYesNo(p.Buying.Complete), price, cellText(currency))
}

// verdicts counts the checks of what is to be built that come to a verdict.
func verdicts(p *plan.Plan, v finding.Verdict) (n int) {
	for _, f := range p.Findings {
		if f.Verdict == v && !p.OfBuilt(f) && (p.Job == nil || !p.OfOld(f)) {
			n++
		}
	}
	return n
}

// stickSources are the words for takeoff.StickSource, in order.
var stickSources = []string{"bought", "delivered", "rack", "made"}

func (d dataWriter) cutting(c takeoff.Cutting) dataCutting {
	out := dataCutting{
		Kind: c.Kind, Part: c.Part, Title: c.Title, Kerf: d.length(c.Kerf), Trim: d.length(c.Trim), Rough: d.length(c.Rough), RunOut: d.lengthIf(len(c.Bevels) > 0, c.RunOut()), Priced: c.Priced, Assumed: c.Assumed,
		Bought: d.length(c.Bought), Proven: c.Proven, Steps: c.Steps, Figure: c.Figure, Least: d.lengthIf(!c.Priced, c.LeastLong),
		Sticks: eachOf(c.Sticks, func(s takeoff.Stick) dataStick {
			return dataStick{s.N, d.length(s.Long), stickSources[s.Source-1], s.From.Name, eachOf(s.Pieces, func(p takeoff.StickPiece) dataStickPiece {
				return dataStickPiece{p.Piece, p.N, d.length(p.Long), d.length(max(p.Saw, c.Kerf))}
			}), d.length(s.Left), s.Keep}
		}),
	}
	if c.Priced {
		out.Cost, out.Bound = amountOf(c.Cost), amountOf(c.Bound)
	}
	return out
}

func amountOf(m money.Money) json.Number { return json.Number(m.String()) }

func (d dataWriter) buying(b takeoff.Buying) dataBuying {
	return dataBuying{d.job.Shop.Currency.Text, eachOf(b.Orders, d.order), amountOf(b.Known), b.Complete, b.Figure}
}

func (d dataWriter) order(o takeoff.Order) dataOrder {
	out := dataOrder{Supplier: o.Supplier.Name, Title: o.Supplier.Title, By: o.By, Lines: eachOf(o.Lines, d.line), Known: amountOf(o.Known), Figure: o.Figure}
	if o.Lead.Given {
		out.Lead = &o.Lead.N
	}
	return out
}

func (d dataWriter) line(l takeoff.Line) dataLine {
	out := dataLine{
		Kind: l.Kind, Part: l.Part, Title: l.Title, Coat: l.Coat, Count: l.Count, Pack: l.Pack, Long: d.lengthIf(l.Long > 0, l.Long),
		Needed: l.Needed, Spare: l.Spare, Held: l.Held, Figure: l.Figure,
	}
	if l.Can.Given {
		out.Can = ratio(l.Can)
	}
	if l.Each.Given {
		out.Each, out.Amount = amountOf(l.Each.Money), amountOf(l.Amount)
	}
	return out
}

func (d dataWriter) sticksTable() File {
	s := sheet{path: "data/sticks.csv", head: []string{"part", "stick", "source", "from", d.in("length"), "length", "mark", "piece", "run", d.in("cut off"), "cut off", d.in("left"), "left", "keep"}}
	marks := map[[2]int]string{}
	for _, l := range d.plan.Takeoff.Labels {
		marks[[2]int{l.Piece, l.N}] = l.Mark
	}
	for _, c := range d.plan.Takeoff.Cuttings {
		for _, st := range c.Sticks {
			long, longText := d.both(true, st.Long)
			left, leftText := d.both(true, st.Left)
			for _, p := range st.Pieces {
				piece := d.plan.Takeoff.Pieces[p.Piece]
				off, offText := d.both(true, p.Long)
				s.row(cellText(c.Part), cellCount(st.N), cellText(stickSources[st.Source-1]), cellText(st.From.Name), long, longText,
					cellText(marks[[2]int{p.Piece, p.N}]), cellText(piece.What), cellText(piece.Run), off, offText, left, leftText, cellYesNo(st.Keep))
			}
		}
	}
	return s.file()
}

func (d dataWriter) orderTable() File {
	s := sheet{path: "data/order.csv", head: []string{"supplier", "order by", "kind", "part", "title", "count", "pieces in a pack", d.in("stick"), "stick", "can", "needed", "spare", "on hand", "each", "amount", "currency"}}
	for _, o := range d.plan.Buying.Orders {
		for _, l := range o.Lines {
			long, longText := d.both(l.Long > 0, l.Long)
			can, each, amount := cell(""), cell(""), cell("")
			if l.Can.Given {
				can = cellText(ratio(l.Can))
			}
			if l.Each.Given {
				each, amount = cell(l.Each.Money.String()), cell(l.Amount.String())
			}
			s.row(cellText(o.Supplier.Name), cellText(o.By), cellText(l.Kind), cellText(l.Part), cellText(l.Title), cellCount(l.Count), cellCount(l.Pack), long, longText, can,
				cellCount(l.Needed), cellCount(l.Spare), cellCount(l.Held), each, amount, cellText(d.job.Shop.Currency.Text))
		}
	}
	return s.file()
}
