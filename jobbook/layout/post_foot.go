package layout

import (
	"strconv"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// This file is a newel's foot below the floor: where the rows of its bolts or lag screws are, up from its bottom end too, and the wood that is under the lowest of them.

// endDistance is how many diameters of a bolt or lag screw of wood are to be between its axis and the newel's bottom end: common practice, no source. It is what NDS 12.5.1 asks for the full value of
// one that is loaded square to the grain, and of a lag screw that is drawn out, both from memory; towards the end it asks for 7 in softwood and 5 in hardwood, and a newel is not lifted.
const endDistance = 4

var endRule = working.Citation{Text: "4 diameters to the end of the wood, common practice; NDS 12.5.1 asks as much square to the grain (from memory)", Status: working.CommonPractice}

// askDeep asks how far a post's foot goes below the floor, and says how far it has to, where that is known.
func (b *builder) askDeep(p *job.Post) {
	what := "how far the foot of " + p.Name + " goes below the floor"
	why := "its length, where its block and its turning stand"
	if p.Rowed() {
		why += ", where its bolts are bored"
		if last, ok := lowest(p); ok {
			least := last.Length
			what += ": its lowest row of fixings is " + b.tape(last.Length) + " below it"
			if with := b.job.Holder(p); with != nil && with.Wide.Given {
				least += endDistance * with.Wide.Length
				what += ", and with the wood that is to be under that row it is " + b.tape(least) + " at the least"
			}
		}
	}
	b.needIn(b.job.File, what, "posts: {"+p.Name+": {deep: }}", why, p.Deep.At)
}

// turnedOpen reports a turned newel of which nobody says yet how far its foot goes below the floor, or how much is taken off it: where its turning stands is not known.
func turnedOpen(j *job.Job, p *job.Post) bool {
	return p != nil && p.Part != nil && p.Part.Sized && !alike(p.Part) && (j.DeepOpen(p) || offOpen(p))
}

// shapeOpen reports an end whose turning has no place yet: what was read at rail height can't be compared with what was read at the floor.
func (b *builder) shapeOpen() bool { return b.From.Open || b.To.Open }

// lowest is the lowest row of a post's fixings; false while a row is still to be measured.
func lowest(p *job.Post) (last job.Measure, ok bool) {
	for _, r := range p.Rows {
		if !r.Given {
			return job.Measure{}, false
		}
		last = r
	}
	return last, len(p.Rows) > 0
}

// footed lists the rows of fixings at the foot, and checks that the newel goes down past the lowest of them.
func (n *node) footed(p *Post) {
	if p.Stays || n.post.Part == nil || !n.post.Sinks() {
		return
	}
	if n.job.DeepOpen(n.post) {
		n.askDeep(n.post)
	}
	if !n.post.Rowed() {
		return
	}
	below := "as it is now, or what else " + n.Name + " stands on"
	for i, r := range n.post.Rows {
		row := FootRow{Below: r.Length}
		if !r.Given {
			p.Rows = append(p.Rows, row)
			continue
		}
		k := strconv.Itoa(i + 1)
		down := n.in("d_"+k, "row "+k+" of its fixings below the floor", r)
		f := n.work("row/"+k, "row "+k+" of the fixings at the foot of "+n.Name+", below the floor "+below, "r_"+k, down)
		row.Figure = f.ID
		if n.post.Deep.Given && !offOpen(n.post) {
			up := n.work("row/"+k+"/bench", "row "+k+" of the fixings at the foot of "+n.Name+", up from the newel's bottom end as cut", "u_"+k,
				working.Difference(n.in("g", "how far its foot goes below the floor", n.post.Deep), f.In()))
			row.Bench = up.ID
			row.Up = max(up.Exact(n.sys), 0)
		}
		p.Rows = append(p.Rows, row)
	}
	last, ok := lowest(n.post)
	if !ok || !n.post.Deep.Given || offOpen(n.post) {
		return
	}
	n.under(p, last)
}

// under checks the wood below the lowest row.
func (n *node) under(p *Post, last job.Measure) {
	figure := p.Rows[len(p.Rows)-1].Bench
	has := n.post.Deep.Length - last.Length
	title := "wood of the newel below the lowest row of fixings at the foot of " + n.Name + ", down to its bottom end"
	with := n.job.Holder(n.post)
	plain := with == nil || with.Type.Text != "bolt" && with.Type.Text != "lag screw"
	if plain || !with.Wide.Given && has <= 0 {
		n.check("foot-wood", title, has, finding.Over, 0, n.post.Deep.At, last.At, figure, "the newel has to go down past its lowest row (deep:), or the rows go up")
		if plain {
			n.noted("how much it wants to be is for the papers of what holds it")
			if has > 0 { // nobody worked out how much is enough
				n.Findings[len(n.Findings)-1].Verdict = finding.AskAuthority
			}
		}
		return
	}
	if !with.Wide.Given {
		at := with.Wide.At
		if at.IsZero() {
			at = source.Pos{File: with.File}
		}
		n.needIn(with.File, "diameter of "+with.Title.Text, "wide: ", "how much wood is to be below the lowest row of them at the foot of "+n.Name, at)
		return
	}
	limit := n.work("foot-wood/least", "wood that is to be below the lowest row of fixings at the foot of "+n.Name, "e_m",
		working.Product(working.Constant(endDistance), n.in("D", "diameter of "+with.Title.Text, with.Wide)), endRule)
	least := limit.Length(n.sys, length.Nanometre, length.Up)
	wanted := (last.Length + least).Round(n.div.Length, length.Up)
	cure := "let it go down " + n.tape(wanted) + " at the least (deep:)"
	if higher := (least - has).Round(n.div.Length, length.Up); higher < n.post.Rows[0].Length { // the upper row stays below the floor
		cure += ", or set the rows " + n.tape(higher) + " higher"
	}
	n.check("foot-wood", title, has, finding.AtLeast, least, n.post.Deep.At, with.Wide.At, figure, cure)
	n.Findings[len(n.Findings)-1].Status = working.CommonPractice
	n.noted("four diameters: common practice, no source; NDS 12.5.1 asks as much where they are loaded square to the grain, and more where they are pulled towards the end (from memory)")
}
