package book

import (
	"encoding/json"

	"balustrade/jobbook/money"
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

// stickSources are the words for takeoff.StickSource, in order.
var stickSources = []string{"bought", "delivered", "rack"}

func (d dataWriter) cutting(c takeoff.Cutting) dataCutting {
	out := dataCutting{
		Kind: c.Kind, Part: c.Part, Title: c.Title, Kerf: d.length(c.Kerf), Trim: d.length(c.Trim), Rough: d.length(c.Rough), Priced: c.Priced, Assumed: c.Assumed,
		Bought: d.length(c.Bought), Proven: c.Proven, Steps: c.Steps, Figure: c.Figure, Least: d.lengthIf(!c.Priced, c.LeastLong),
		Sticks: eachOf(c.Sticks, func(s takeoff.Stick) dataStick {
			return dataStick{s.N, d.length(s.Long), stickSources[s.Source-1], s.From.Name, eachOf(s.Pieces, func(p takeoff.StickPiece) dataStickPiece {
				return dataStickPiece{p.Piece, p.N, d.length(p.Long)}
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
	s := sheet{path: "data/sticks.csv", head: []string{"part", "stick", "source", "from", d.in("length"), "length", "piece", "run", "which", d.in("cut off"), "cut off", d.in("left"), "left", "keep"}}
	for _, c := range d.plan.Takeoff.Cuttings {
		for _, st := range c.Sticks {
			long, longText := d.both(true, st.Long)
			left, leftText := d.both(true, st.Left)
			for _, p := range st.Pieces {
				piece := d.plan.Takeoff.Pieces[p.Piece]
				off, offText := d.both(true, p.Long)
				s.row(cellText(c.Part), cellCount(st.N), cellText(stickSources[st.Source-1]), cellText(st.From.Name), long, longText,
					cellText(piece.What), cellText(piece.Run), cellText(piece.Which), off, offText, left, leftText, cellYesNo(st.Keep))
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
