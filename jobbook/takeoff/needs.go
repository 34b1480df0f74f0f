package takeoff

import (
	"slices"
	"strconv"
	"strings"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

var (
	counted = working.Citation{Text: "count of the layout", Status: working.Derived}
	summed  = working.Citation{Text: "sum of the cut list", Status: working.Derived}
	spared  = working.Citation{Text: "spare balusters by the shop's settings", Status: working.CommonPractice}
)

// taking is a take-off under way.
type taking struct {
	job      *job.Job
	accounts []*account // by kind, then as the runs first use the part
	at       map[string]*account
	waits    []wait

	needs    []Need
	figures  []*working.Figure
	missing  []finding.Reading
	findings []finding.Finding
	asks     []finding.Reading
	made     MadeTake
}

// account is one part while its pieces are added up.
type account struct {
	Need
	terms []working.Expr // of Order, or of Running
}

// wait is a run that waits for a reading, and for what.
type wait struct {
	run  *layout.Run
	what string
}

func (t *taking) account(kind string, o job.Origin, title, species job.Text) *account {
	id := "order/" + kind + "/" + o.Name
	if a := t.at[id]; a != nil {
		return a
	}
	a := &account{Need: Need{Kind: kind, Part: o.Name, Title: title.Text, Species: species.Text, Origin: o, Complete: true}}
	if a.Title == "" {
		a.Title = o.Name
	}
	t.at[id] = a
	t.accounts = append(t.accounts, a)
	return a
}

func (a *account) id() string { return "order/" + a.Kind + "/" + a.Part }

// count adds pieces that are bought by the piece.
func (a *account) count(n int, in *working.Input) {
	a.Count += n
	in.Symbol = a.symbol("n")
	a.terms = append(a.terms, in)
}

// run adds the pieces of one cut of a part bought by length. A cut without a length of its own is counted but not run up.
func (a *account) run(c layout.Cut, sys length.System) {
	a.Count += c.Count
	if c.Length <= 0 {
		a.Complete = false
		return
	}
	long := working.Length(a.symbol("l"), c.What+" of "+c.Run+", as it comes off the stick", c.Stick(), sys, source.Pos{}).Because("cut list, " + c.Which)
	long.Figure = c.Figure
	var term working.Expr = long
	if c.Count != 1 {
		pieces := working.Count(a.symbol("c"), "pieces of "+c.Run+" of that length", int64(c.Count), source.Pos{}).Because("cut list")
		term = working.Product(pieces, long)
	}
	a.terms = append(a.terms, term)
	a.Running += length.Length(c.Count) * c.Stick()
	a.Longest = max(a.Longest, c.Stick())
}

func (a *account) symbol(letter string) string { return letter + "_" + strconv.Itoa(len(a.terms)+1) }

// open notes that a run's pieces of a part can't be counted yet.
func (t *taking) open(a *account, r *layout.Run, what string) {
	a.Complete = false
	t.waits = append(t.waits, wait{r, what})
}

func (t *taking) balusters(l layout.Layout) {
	for _, r := range l.Runs {
		part := r.Job.Baluster
		if part == nil {
			continue
		}
		a := t.account("baluster", part.Origin, part.Title, part.Species)
		a.Bought = part.Long.Length
		if r.Chosen == nil {
			t.open(a, r, "balusters")
			continue
		}
		in := working.Count("", "balusters of "+r.Title, int64(r.Chosen.Count), source.Pos{}).Because(r.Why)
		if r.Job.Count.Given {
			in.At = r.Job.Count.At
		}
		a.count(r.Chosen.Count, in)
		for _, c := range r.Balusters {
			a.Longest = max(a.Longest, c.Stick())
		}
	}
}

func (t *taking) newels() {
	for _, p := range t.job.Posts {
		if t.job.Stays(&p) {
			continue
		}
		if p.Part == nil {
			t.missing = append(t.missing, finding.Reading{
				What: "which newel stands at " + p.Name, Where: t.job.File + ", posts: {" + p.Name + ": {newel: }}",
				Why: "how many newels to order", Group: "job", At: p.At,
			})
			continue
		}
		a := t.account("newel", p.Part.Origin, p.Part.Title, p.Part.Species)
		a.Bought = p.Part.Long.Length
		a.count(1, working.Count("", "newel at "+p.Name, 1, p.At))
	}
}

func (t *taking) handrails(l layout.Layout) {
	for _, r := range l.Runs {
		if part := r.Job.Handrail; part != nil && !r.Job.Stays() {
			t.all(t.account("handrail", part.Origin, part.Title, part.Species), r, r.RailCuts(), "handrail")
		}
		if s := r.Job.Stair; s != nil && s.WallRail.Part != nil {
			part := s.WallRail.Part
			var cuts []layout.Cut
			if r.WallRail != nil {
				cuts = append(cuts, *r.WallRail)
			}
			t.all(t.account("handrail", part.Origin, part.Title, part.Species), r, cuts, "wall rail")
		}
	}
}

func (t *taking) shoes(l layout.Layout) {
	for _, r := range l.Runs {
		if part := r.Job.Shoe; part != nil && !r.Job.Stays() {
			t.all(t.account("shoe", part.Origin, part.Title, part.Species), r, r.ShoeCuts(), "shoe")
		}
	}
}

// all adds the pieces of a run's rail or shoe; none are not known yet.
func (t *taking) all(a *account, r *layout.Run, cuts []layout.Cut, what string) {
	if len(cuts) == 0 {
		t.open(a, r, what)
	}
	for _, c := range cuts {
		a.run(c, t.job.System)
	}
}

func (t *taking) fillets(l layout.Layout) {
	for _, r := range l.Runs {
		for _, groove := range []struct {
			what   string
			plowed bool
		}{{"shoe fillet", r.Job.ShoePlowed()}, {"rail fillet", r.Job.RailPlowed()}} {
			part, found := r.Job.FilletOf(groove.what), false
			if part == nil {
				continue
			}
			for _, c := range r.Fillets {
				if c.What == groove.what {
					a := t.account("fillet", part.Origin, part.Title, part.Species)
					found = true
					a.run(c, t.job.System)
					if c.Length <= 0 {
						t.open(a, r, c.Which+" "+groove.what)
					}
				}
			}
			if empty := r.Chosen != nil && r.Chosen.Count == 0; groove.plowed && !found && !empty {
				t.open(t.account("fillet", part.Origin, part.Title, part.Species), r, groove.what+"s")
			}
		}
	}
}

// bolts are one for each end of a rail at a post's face, and one for each joint.
func (t *taking) bolts(l layout.Layout) {
	for _, r := range l.Runs {
		part := r.Job.Bolt
		if part == nil || r.Job.Stays() {
			continue
		}
		a := t.account("bolt", part.Origin, part.Title, job.Text{})
		a.Bought = part.Long.Length
		n := len(r.Job.Joints)
		for _, e := range []job.End{r.Job.From, r.Job.To} {
			if e.Post != nil && !e.Over.Yes {
				n++
			}
		}
		if n > 0 {
			a.count(n, working.Count("", "rail ends and joints of "+r.Title, int64(n), r.Job.Parts.Bolt.At))
		}
	}
}

func (t *taking) rosettes(l layout.Layout) {
	for _, r := range l.Runs {
		if r.Job.Stays() {
			continue
		}
		for _, e := range []job.End{r.Job.From, r.Job.To} {
			if p := e.Plate; p != nil {
				t.account("rosette", p.Origin, p.Title, p.Species).count(1, working.Count("", "rosette of "+r.Title, 1, e.Where.At))
			}
		}
	}
}

// close works out each part's order.
func (t *taking) close() {
	t.needs = slices.Grow(t.needs, len(t.accounts))
	for _, a := range t.accounts {
		switch a.Kind {
		case "handrail", "shoe", "fillet":
			a.Order = a.Count
			if len(a.terms) > 0 {
				t.work(a, a.id(), "running length of "+a.Title, "R", t.job.System.String(), working.Total(a.terms), summed)
			}
		default:
			t.order(a)
		}
		t.needs = append(t.needs, a.Need)
	}
}

func (t *taking) work(a *account, id, title, symbol, unit string, e working.Expr, cites ...working.Citation) *working.Figure {
	f := working.Work(id, title, symbol, unit, e, cites...)
	if !a.Complete {
		f.Note = "What is known so far: a run still waits for readings."
	}
	t.figures = append(t.figures, f)
	a.Figure = id
	return f
}

// order is the count of a part bought by the piece, with the shop's spare balusters.
func (t *taking) order(a *account) {
	a.Order = a.Count
	if len(a.terms) == 0 {
		return
	}
	title := "order: " + a.Title
	spare := t.job.Shop.Spare
	if a.Kind != "baluster" || a.Count == 0 || !spare.Given || spare.Thousandths <= 0 {
		t.work(a, a.id(), title, "N", "", working.Total(a.terms), counted)
		return
	}
	needed := t.work(a, a.id()+"/count", "needed: "+a.Title, "N", "", working.Total(a.terms), counted)
	p := &working.Input{Symbol: "p", Name: "ordered beyond those needed", Value: exact.New(spare.Thousandths, 1000), Unit: "%", At: spare.At}
	one, hundred := working.Constant(1), working.Constant(100) // per cent
	more := working.Greatest(one, working.RoundTo(working.Quotient(working.Product(needed.In(), p), hundred), one, length.Up))
	f := t.work(a, a.id(), title, "O", "", working.Sum(needed.In(), more), spared)
	if n, whole := f.Value.Int64(); whole {
		a.Order = int(n)
		a.Spare = a.Order - a.Count
	}
}

// waiting names each run that waits, once, with everything there that can't be ordered yet.
func (t *taking) waiting(l layout.Layout) {
	for _, r := range l.Runs {
		var what []string
		for _, w := range t.waits {
			if w.run == r {
				what = append(what, w.what)
			}
		}
		if len(what) > 0 {
			t.missing = append(t.missing, finding.Reading{
				What: "the readings that " + r.Title + " waits for", Where: r.Job.File,
				Why: "how much to order: " + strings.Join(what, ", "), Group: r.ID, At: source.Pos{File: r.Job.File},
			})
		}
	}
}
