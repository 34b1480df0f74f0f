package layout

import (
	"fmt"
	"slices"
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// plows checks what goes into the grooves of shoe and rail: neither too wide for its plow nor loose in it.
func (b *builder) plows(part *job.Baluster) {
	if s := b.r.Shoe; s != nil && part.Bottom.Text != "pin" {
		b.inPlow("plow-shoe", "baluster", "shoe", b.foot, chosenAt(part.Origin, b.r.Parts.Baluster, b.footAt), s.Plow, part.Bottom.Text == "let in")
	}
	if f := b.r.ShoeFillet; f != nil && f.Wide.Given && b.r.Shoe != nil {
		b.inPlow("fillet-shoe", "fillet", "shoe", f.Wide.Length, chosenAt(f.Origin, b.r.Parts.ShoeFillet, f.Wide.At), b.r.Shoe.Plow, false)
	}
	if h := b.r.Handrail; h != nil && part.Top.Text != "pin" {
		if f := b.r.RailFillet; f != nil && f.Wide.Given {
			b.inPlow("fillet-rail", "fillet", "handrail", f.Wide.Length, chosenAt(f.Origin, b.r.Parts.RailFillet, f.Wide.At), h.Plow, false)
		}
		if b.head > 0 {
			b.inPlow("plow-rail", "baluster", "handrail", b.head, chosenAt(part.Origin, b.r.Parts.Baluster, b.footAt), h.Plow, false)
		}
	}
}

// chosenAt is where a part of the library was chosen, for nobody writes in its file; of another part where its width was written.
func chosenAt(o job.Origin, ref job.Ref, wide source.Pos) source.Pos {
	if o.Layer == source.Library && wide.File == o.File && !ref.At.IsZero() {
		return ref.At
	}
	return wide
}

// inPlow is one of them. held says that something else than the plow holds it, so that it may stand loose there.
func (b *builder) inPlow(id, what, groove string, width length.Length, at source.Pos, p job.Plow, held bool) {
	if !p.Wide.Given {
		return
	}
	play, loose := p.Wide.Length-width, b.job.Shop.Loose
	if loose.Given && !held && play > loose.Length {
		cure := b.goesWith(what, groove, width, p.Wide.Length)
		b.check(id, "play of a "+what+" in the plow of the "+groove, play, finding.AtMost, loose.Length, at, loose.At, "", cure)
		f := &b.Findings[len(b.Findings)-1]
		f.Rules, f.Status = "the shop's settings, common practice", working.CommonPractice
		f.Note = "it is " + b.tape(width) + " wide there, the plow " + b.tape(p.Wide.Length)
		return
	}
	title := what + "'s width against the " + groove + "'s plow"
	if what == "baluster" {
		title = "baluster's width at the " + strings.TrimPrefix(groove, "hand") + " against the plow"
	}
	cure := ""
	if play < 0 {
		cure = b.goesWith(what, groove, width, p.Wide.Length)
	}
	b.check(id, title, width, finding.AtMost, p.Wide.Length, at, p.Wide.At, "", cure)
}

// goesWith is what would put a width and a plow together: parts that the job, the shop and the library have, by name.
func (b *builder) goesWith(what, groove string, width, plow length.Length) string {
	loose := b.job.Shop.Loose.Length
	goes := func(wide, plow length.Length) bool { return wide <= plow && plow-wide <= loose }
	var rails, inside []job.Origin
	if what == "baluster" {
		if groove == "shoe" {
			for _, s := range b.job.Shoes {
				if s.Plow.Wide.Given && goes(width, s.Plow.Wide.Length) {
					rails = append(rails, s.Origin)
				}
			}
		} else {
			for _, h := range b.job.Handrails {
				if h.Plow.Wide.Given && goes(width, h.Plow.Wide.Length) {
					rails = append(rails, h.Origin)
				}
			}
		}
		for _, x := range b.job.Balusters {
			if !x.Sized {
				continue
			}
			s, end := x.Profile.Stations[0], x.Bottom.Text
			if groove != "shoe" {
				s, end = x.Profile.Stations[len(x.Profile.Stations)-1], x.Top.Text
			}
			if end != "pin" && goes(s.Width, plow) {
				inside = append(inside, x.Origin)
			}
		}
	} else {
		for _, x := range b.job.Fillets {
			if x.Wide.Given && goes(x.Wide.Length, plow) {
				inside = append(inside, x.Origin)
			}
		}
	}
	var ways []string
	if names := nearest(rails); names != "" {
		ways = append(ways, "take a "+groove+" with a plow for it ("+names+")")
	}
	in := "take a " + what + " " + b.tape(plow) + " wide"
	if names := nearest(inside); names != "" {
		in = "take a " + what + " that goes into the plow (" + names + ")"
	}
	return strings.Join(append(ways, in), ", or ")
}

// nearest names parts, those of the job first, then the shop's, then the library's; no more than can be chosen from.
func nearest(list []job.Origin) string {
	const most = 4
	slices.SortStableFunc(list, func(x, y job.Origin) int { return int(y.Layer) - int(x.Layer) })
	var names []string
	for _, o := range list {
		if len(names) == most {
			names = append(names, fmt.Sprintf("%d more", len(list)-most))
			break
		}
		names = append(names, o.Name)
	}
	return strings.Join(names, ", ")
}

// hold checks that a baluster still reaches into its plows, or holes, with all that goes against it: what is taken off so that it goes in, what its length is rounded down, and a marking error. It may be pushed up or
// down as far as that, so the shallower of the two counts.
func (b *builder) hold(part *job.Baluster) {
	if b.fallback || len(b.Balusters) == 0 || b.r.Handrail == nil {
		return
	}
	type socket struct {
		words string
		deep  job.Measure
		plow  bool
	}
	var sockets []socket
	if part.Top.Text == "pin" {
		sockets = append(sockets, socket{"hole in the handrail", part.Pin.Long, false})
	} else {
		sockets = append(sockets, socket{"plow of the handrail", b.r.Handrail.Plow.Deep, true})
	}
	switch s := b.r.Shoe; {
	case part.Bottom.Text == "pin":
		sockets = append(sockets, socket{"hole for its foot", part.Pin.Long, false})
	case part.Bottom.Text == "let in":
		sockets = append(sockets, socket{"place that its foot is let into", part.LetIn, false})
	case s != nil:
		sockets = append(sockets, socket{"plow of the shoe", s.Plow.Deep, true})
	}
	var least socket
	for _, s := range sockets {
		if s.deep.Given && (!least.deep.Given || s.deep.Length < least.deep.Length) {
			least = s
		}
	}
	if !least.deep.Given {
		return
	}
	var fit working.Expr = b.in("fit", "taken off so that a baluster goes in", b.job.Shop.Fit)
	at := b.job.Shop.Fit.At
	for _, f := range b.Figures {
		if f.ID == b.ID+"/fit" {
			fit = f.In()
		}
	}
	loss := working.Sum(fit, b.found("e_c", "what the shortest comes out under its length, rounded and cut alike", "cut list", b.under), b.in("e_m", "marking error", b.job.Tolerance.Mark))
	if b.Rake != nil && least.plow { // a plow is as deep as it is square to the rake
		loss = working.Quotient(loss, b.sec())
	}
	fig := b.work("hold", "least that is left of a baluster in the "+least.words, "h", working.Difference(b.in("p", "how deep it goes in", least.deep), loss),
		working.Citation{Text: "all of it the bad way", Status: working.CommonPractice})
	op, limit := finding.Over, job.Measure{}
	if b.job.Shop.Hold.Given && b.job.Shop.Hold.Length > 0 {
		op, limit = finding.AtLeast, b.job.Shop.Hold
	}
	b.check("hold", "least that is left of a baluster in the "+least.words, fig.Exact(b.sys), op, limit.Length, at, limit.At, fig.ID, "take less off so that it goes in (fit: in the settings), or take a deeper plow or a longer pin")
	f := &b.Findings[len(b.Findings)-1]
	if limit.Given {
		f.Rules, f.Status = "the shop's settings, common practice", working.CommonPractice
	}
}

// cutUnder remembers how far the shortest cut comes out under the length that it should have.
func (b *builder) cutUnder(exact, cut length.Length) { b.under = max(b.under, exact-cut) }
