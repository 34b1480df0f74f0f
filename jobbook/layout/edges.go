package layout

import (
	"strconv"
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// edges checks what the guard is fixed to: the walls that hold its rail, and the wood under its posts and pins.
func (b *builder) edges() {
	for i, e := range []job.End{b.r.From, b.r.To} {
		side := []string{"from", "to"}[i]
		b.held(e, side)
		if e.Over.Yes && !e.Fitting.Given && !e.Fitting.At.IsZero() {
			b.need("from the middle of the post to the joint with the fitting ("+side+"); without one, leave fitting out", side+": {fitting: }", "length of the handrail", e.Fitting.At)
		}
	}
	b.edge()
	if s := b.r.Stair; s != nil && !s.Bracket.Given && !s.Bracket.At.IsZero() {
		b.need("thickness of the brackets; where there are none, leave bracket out", "bracket: ", "where the first baluster of each tread stands", s.Bracket.At)
	}
}

// held looks at what holds the rail at a wall. A toggle in plasterboard carries tens of pounds (from memory), a guard's rail takes two hundred.
func (b *builder) held(e job.End, side string) {
	half := e.Post != nil && e.Post.Part != nil && e.Post.Part.Half.Yes // planted on a wall, and held by it
	switch {
	case !e.IsWall() && !half:
	case !e.Held.Given:
		b.need("what holds the rail at the wall ("+side+"): a stud, blocking, or nothing yet; look inside", side+": {held: }", "whether the wall end carries the guard's load", e.Held.At)
	case e.Held.Text == "toggles":
		b.Findings = append(b.Findings, finding.Finding{
			ID: "check/" + b.ID + "/held-" + side, Group: b.ID, Verdict: finding.Fail, At: e.Held.At, Status: working.Memory, Rules: "what carries a guard's load",
			Title: "the rail's end at the wall (" + which(side) + " end) is held by toggles alone", Cure: "let blocking in between the studs, or find a stud; plasterboard alone does not carry a guard",
		})
	}
}

// edge checks, across the edge, that posts and pins land on solid wood, and that there is something under the posts to fix them to.
func (b *builder) edge() {
	e := b.r.Edge
	if e == (job.Edge{}) {
		return
	}
	read := true
	for _, q := range []struct {
		m         job.Measure
		what, key string
	}{
		{e.Back, "from the open edge back to the middle of the guard", "back"},
		{e.Overhang, "how much of the edge has nothing under it; 0 where it all rests on something", "overhang"},
		{e.Solid, "how wide the solid wood is behind the overhang", "solid"},
	} {
		if !q.m.Given {
			b.need(q.what, "edge: {"+q.key+": }", "whether posts and pins land on solid wood", q.m.At)
			read = false
		}
	}
	land := func(id, what string, wide length.Length, over bool, cure string) {
		if !read {
			return
		}
		half := wide / 2
		if !over {
			b.check("edge-out-"+id, what+": its outer side behind the overhang", e.Back.Length-half, finding.AtLeast, e.Overhang.Length, e.Back.At, e.Overhang.At, "", cure)
		}
		b.check("edge-in-"+id, what+": its inner side within the solid wood", e.Back.Length+half, finding.AtMost, e.Overhang.Length+e.Solid.Length, e.Back.At, e.Solid.At, "", cure)
	}
	for i, end := range []End{b.From, b.To} {
		if end.Newel == nil || !end.Newel.Sized || end.Newel.Half.Yes {
			continue
		}
		foot := []*job.Post{b.r.From.Post, b.r.To.Post}[i].Foot.Text
		bolted := foot == "bolted" || foot == "lagged" // notched over the edge and bolted through what is under it
		side := []string{"from", "to"}[i]
		tread, landing := 0, true
		if b.Rake != nil { // its edge is that of its treads; a post on the landing or on the floor below stands at another
			f, ok := b.footing(i == 1)
			if tread, landing = f.tread, f.tread == len(b.Rake.Treads); !ok || tread == 0 {
				continue
			}
		}
		if b.Rake == nil || !landing {
			land(side, "the newel "+end.Name+" on the edge", end.Newel.Wide.Length, bolted, "set the guard back, notch the newel over the edge with a bolted foot, or let blocking in")
		}
		if landing {
			b.framed(side, end.Name)
		} else if !bolted { // the string holds what is bolted or lagged to it
			b.blocked(side, "under tread "+strconv.Itoa(tread)+", between the strings, where "+end.Name+" stands", "the treads alone carry the newel", "let blocking in under the tread, from string to string, or bolt the newel to the string")
		}
	}
	if p := b.r.Baluster; p != nil && (p.Bottom.Text == "pin" || p.Bottom.Text == "let in") {
		wide := p.Pin.Wide
		if p.Bottom.Text == "let in" {
			wide = p.Wide
		}
		if wide.Given {
			land("pin", "the balusters' holes along the edge", wide.Length, false, "set the guard back, or take balusters that need no hole")
		}
	}
	if e.Cap.Given && b.r.Shoe != nil && b.r.Shoe.Wide.Given {
		b.check("cap", "shoe's width against the cap that it stands on", b.r.Shoe.Wide.Length, finding.AtMost, e.Cap.Length, b.r.Shoe.Wide.At, e.Cap.At, "", "take a narrower shoe, or a wider cap")
	}
}

// framed asks for what carries a post at the edge of a floor: joists across the edge, or blocking between those that run along it.
func (b *builder) framed(side, post string) {
	switch e := b.r.Edge; {
	case !e.Joists.Given:
		b.need("which way the joists run under the edge", "edge: {joists: }", "what the posts are fixed to", e.Joists.At)
	case e.Joists.Text == "along":
		b.blocked(side, "between the joists where "+post+" stands", "the joists run along the edge", "let blocking in to the next joists before the post is fixed, and have it looked at")
	}
}

// blocked asks whether there is blocking under a post, and fails where there is none.
func (b *builder) blocked(side, where, because, cure string) {
	switch e := b.r.Edge; {
	case !e.Blocking.Given:
		b.need("whether there is blocking "+where+"; look inside", "edge: {blocking: }", "what the posts are fixed to", e.Blocking.At)
	case !e.Blocking.Yes:
		b.Findings = append(b.Findings, finding.Finding{
			ID: "check/" + b.ID + "/blocking-" + side, Group: b.ID, Verdict: finding.Fail, At: e.Blocking.At, Status: working.CommonPractice, Rules: "what carries a guard's load",
			Title: because + ", and there is no blocking " + where, Cure: cure,
		})
	}
}

// RailBore is what is bored into one end of a handrail for its bolt. Nil figures are not known.
type RailBore struct {
	Deep   *working.Figure // of the bore in the end, along the axis
	Access *working.Figure // of the bore from below, from the rail's underside
}

// bores works out how deep the two bores for a bolt go: the one in the end takes what stands out of the post and opens into the one from
// below, and that one goes past the axis by half its own width, so that the washer stands on the axis.
func (b *builder) bores() {
	bolt, h := b.r.Bolt, b.r.Handrail
	if bolt == nil || h == nil || b.r.Stays() {
		return
	}
	cite := working.Citation{Text: "a bolt with a nut in the rail, common practice", Status: working.CommonPractice}
	for i, e := range []job.End{b.r.From, b.r.To} {
		side := []string{"from", "to"}[i]
		if e.Post == nil || e.Over.Yes {
			continue
		}
		if bolt.Long.Given && bolt.InPost.Given && bolt.Long.Length > bolt.InPost.Length {
			out := working.Expr(working.Difference(b.in("l", "length of the bolt", bolt.Long), b.in("l_p", "of it in the post", bolt.InPost)))
			if bolt.Reach.Given {
				out = working.Greatest(out, b.in("e", "from the end to the middle of the bore from below", bolt.Reach))
			}
			b.RailBores[i].Deep = b.work("bore-"+side, "bore in the rail's end for its bolt, deep", "l_b", out, cite)
		}
		switch {
		case bolt.AccessUp.Given:
			b.RailBores[i].Access = b.work("access-"+side, "bore from below, deep, by the bolt's part", "l_a", b.in("l_a", "how deep the bore from below is", bolt.AccessUp))
		case bolt.Access.Given && h.High.Given:
			up := working.Expr(working.Sum(working.Quotient(b.in("t", "height of the handrail's section", h.High), working.Constant(2)), working.Quotient(b.in("d", "diameter of the bore from below", bolt.Access), working.Constant(2))))
			if e.BoltUp.Given {
				up = working.Sum(up, b.in("u", "how far the bolt is moved up", e.BoltUp))
			} else if e.BoltLow.Given {
				up = working.Difference(up, b.in("u", "how far the bolt is moved down", e.BoltLow))
			}
			f := b.work("access-"+side, "bore from below, deep: to the axis and half its own width past it", "l_a", up, cite)
			b.RailBores[i].Access = f
			b.check("access-"+side, "bore from below in the rail's end at "+e.Post.Name+", with the wood over it, against the rail's height", f.Exact(b.sys)+overBore, finding.AtMost, h.High.Length, e.BoltUp.Or(bolt.Access).At, h.High.At, f.ID, "take a bolt with a narrower bore from below (access:), or a higher rail")
		}
	}
}

// Hole is a hole for the end of a baluster.
type Hole struct {
	Where string        // in the handrail, in the shoe, in the tread, in the floor
	Wide  length.Length // diameter, or side of a square one
	Deep  length.Length // along the baluster's axis
	Round bool
	Count int
	Note  string
	Wides string // ids of the figures
	Deeps string
}

// holes works out what is bored or cut for the balusters' ends: wider than the pin by the shop's ease, up to the next bit, and deeper for
// the glue. Where the rail is fixed before its balusters, a top pin must go in as far again as the bottom one stands down.
func (b *builder) holes() {
	part := b.r.Baluster
	if part == nil || b.Chosen == nil || b.Chosen.Count == 0 {
		return
	}
	bits := length.Inch / 64
	if b.sys == length.Millimetres {
		bits = length.Millimetre / 2
	}
	bit := working.Length("d_b", "step of the drill bits", bits, b.sys, source.Pos{}).Because("drill bits, common practice")
	below := "in the floor"
	switch {
	case b.r.Shoe != nil:
		below = "in the shoe"
	case b.Rake != nil:
		below = "in the treads"
	}
	pin := func(id, where string, lift working.Expr, note string) {
		if !part.Pin.Wide.Given || !part.Pin.Long.Given {
			b.needIn(part.File, "diameter and length of the baluster's pin", "pin: {wide: , long: }", "the holes it goes into", part.Pin.Wide.Or(part.Pin.Long).At)
			return
		}
		wide := b.work("hole-"+id, "hole "+where+" for a baluster's pin, up to the next bit", "w_h", working.RoundTo(working.Sum(b.in("w_p", "diameter of the pin", part.Pin.Wide), b.in("e_h", "how much wider a hole is bored", b.job.Shop.Hole)), bit, length.Up),
			working.Citation{Text: "ease of a glued pin, common practice", Status: working.CommonPractice})
		deep := working.Sum(b.in("l_p", "length of the pin", part.Pin.Long), b.in("e_g", "how much deeper, for the glue", b.job.Shop.HoleDeep))
		if lift != nil {
			deep = working.Sum(deep, lift)
		}
		d := b.work("hole-deep-"+id, "depth of the hole "+where+", along the baluster", "l_h", deep, working.Citation{Text: "room for the glue, common practice", Status: working.CommonPractice})
		b.Holes = append(b.Holes, Hole{Where: where, Wide: wide.Exact(b.sys), Deep: d.Exact(b.sys), Round: true, Count: b.Chosen.Count, Note: note, Wides: wide.ID, Deeps: d.ID})
	}
	if part.Top.Text == "pin" {
		var lift working.Expr
		note := ""
		switch {
		case part.Bottom.Text == "pin" && part.Pin.Long.Given:
			lift = b.in("l_d", "lift: the bottom pin has to clear its hole", part.Pin.Long)
		case part.Bottom.Text == "let in" && part.LetIn.Given:
			lift = b.in("l_d", "lift: the foot has to clear what it is let into", part.LetIn)
		case b.r.ShoePlowed():
			lift = b.in("l_d", "lift: the foot has to clear the plow of the shoe", b.r.Shoe.Plow.Deep)
		}
		if lift != nil && b.r.Stays() {
			note = "deep enough to lift a baluster in under the rail that stays"
		} else if lift != nil {
			note = "deep enough to lift a baluster in under a rail that is fixed; where the rail goes on over its balusters it need be no deeper than the pin and the glue"
		}
		pin("top", "in the handrail", lift, note)
		if h := b.r.Handrail; h != nil && h.High.Given && len(b.Holes) > 0 {
			const over = length.Inch / 2 // wood left over the hole; common practice, no source
			cure := "put the rail on over its balusters and bore less deep, or take shorter pins"
			if b.r.Stays() {
				cure = "take shorter pins, or balusters without a pin above: the rail stays"
			}
			b.check("hole-top", "hole in the handrail, with the wood over it, against the rail's height", b.Holes[len(b.Holes)-1].Deep+over, finding.AtMost, h.High.Length, part.Pin.Long.At, h.High.At, b.ID+"/hole-deep-top", cure)
		}
	}
	switch part.Bottom.Text {
	case "pin":
		before := len(b.Holes)
		if pin("bottom", below, nil, ""); len(b.Holes) > before {
			b.throughShoe(b.Holes[before], part.Pin.Long.At)
		}
	case "let in":
		if part.LetIn.Given {
			h := Hole{Where: below, Wide: b.foot, Deep: part.LetIn.Length, Round: strings.HasPrefix(b.footShape(), "round"), Count: b.Chosen.Count, Note: "cut to the foot as it came; let in whole"}
			b.Holes = append(b.Holes, h)
			b.throughShoe(h, part.LetIn.At)
		}
	}
}

// throughShoe checks that a hole in the shoe does not come out below it, where the drill would go on into the floor and what lies hidden in
// it. The hole begins in the bottom of the plow, where there is one. On a rake it is plumb and the shoe is not: its bottom comes nearest to
// the underside on the uphill side, half its width from the axis. A shoe that is scribed is lower where the floor is highest.
func (b *builder) throughShoe(h Hole, at source.Pos) {
	shoe := b.r.Shoe
	if shoe == nil || !shoe.High.Given || b.Rake != nil && !b.sloped() {
		return
	}
	deep := b.found("l_h", "depth of the hole", "", h.Deep)
	if h.Deeps != "" {
		deep = of(h.Deeps, deep)
	}
	takes, title := working.Expr(deep), "hole in the shoe for a baluster's end"
	high := working.Expr(b.in("s", "height of the shoe", shoe.High))
	if shoe.Plow.Deep.Given {
		plow := working.Expr(b.in("p_s", "depth of the plow in the shoe", shoe.Plow.Deep))
		if b.Rake != nil {
			plow = working.Product(plow, b.sec())
		}
		takes, title = working.Sum(takes, plow), title+", with the plow that it begins in"
	}
	if b.Rake != nil {
		wide := b.found("w_h", "width of the hole", "", h.Wide)
		if h.Wides != "" {
			wide = of(h.Wides, wide)
		}
		takes = working.Sum(takes, working.Quotient(working.Product(wide, b.tan()), working.Constant(2)))
		high, title = working.Product(high, b.sec()), title+", plumb and at its uphill side"
	}
	if b.Rake == nil && b.Floor.How == "scribe" {
		high, title = working.Difference(high, b.found("f", "taken off the shoe at the most, where the floor is highest", "level readings", b.Floor.Out)), title+", where the shoe is scribed the most"
	}
	left := b.work("hole-shoe", "shoe left under a baluster's hole", "u_h", working.Difference(high, takes))
	cure := "take a higher shoe, or shorter pins; a drill that comes through goes on into the floor"
	if b.r.Baluster.Bottom.Text == "let in" {
		cure = "let the feet in less deep, or take a higher shoe; a drill that comes through goes on into the floor"
	}
	if b.r.Stays() {
		cure = "take balusters with shorter ends below: the shoe stays"
	}
	b.check("hole-shoe", title+": shoe left under it", left.Exact(b.sys), finding.Over, 0, at, shoe.High.At, left.ID, cure)
}

// footShape is the shape of a baluster's foot.
func (b *builder) footShape() string {
	if s := b.stick.Stations; len(s) > 0 && s[0].Round {
		return "round"
	}
	return "square"
}

// turnings says which end is trimmed, and how the turnings of neighbours line up.
func (b *builder) turnings() {
	part := b.r.Baluster
	if part == nil || !part.Turned() || b.Chosen == nil {
		return
	}
	trim := or(part.Trim.Text, "top")
	other := map[string]string{"top": "bottom", "bottom": "top"}[trim]
	switch {
	case b.r.Stays():
		b.TurningsWords = "Trimmed at the " + trim + ": hold one beside an old baluster before the rest are cut, to see how the turnings line up."
	case b.Rake == nil && b.Floor.How != "lengths":
		b.TurningsWords = "All are trimmed alike at the " + trim + ": the turnings stand in one level line."
	case b.Rake == nil && trim == "top", b.Rake != nil && b.Rake.OnTreads && trim == "top":
		b.TurningsWords = "Trimmed at the top: the feet are alike, and the turnings step with what the balusters stand on."
	case b.Rake == nil:
		b.TurningsWords = "Trimmed at the bottom: the heads are alike, and the turnings stand in one line under the rail."
	case b.Rake.OnTreads:
		b.TurningsWords = "Trimmed at the bottom: the heads are alike, and the turnings climb with the rail; the feet differ."
	default:
		b.TurningsWords = "All are alike, the " + trim + " trimmed: the turnings climb with the rake, each above its neighbour by the spacing times the slope. The " + other + " keeps its whole block."
	}
}
