package layout

import (
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/working"
)

// shape is a baluster as it stands: its face over its height above the floor the guard stands on, and the heights between
// which a ball can be.
type shape struct {
	face      profile.Face
	low, high length.Length
	widest    length.Length

	part int             // of a stepped floor: which stretch it stands on, counted from 0
	of   profile.Profile // as it is cut, and
	up   length.Length   // the height that its bottom stands at
}

// asBought is the whole baluster, while the heights that it stands between are not known.
func asBought(p profile.Profile, bottom length.Length) shape {
	return shape{face: p.Face(0), low: bottom, high: p.Long(), widest: p.Widest(0, p.Long()), of: p}
}

// bought is the profile of the baluster as bought; false while it is not chosen or not whole. While only its length is still to be
// measured, a plain stick of its width stands for it.
func (b *builder) bought(waits string) (profile.Profile, bool) {
	part := b.r.Baluster
	if part == nil {
		b.need("which baluster", "baluster: ", waits, b.r.Parts.Baluster.At)
		return profile.Profile{}, false
	}
	b.footAt = part.Wide.At
	if !part.Wide.Given && part.Sized && part.Bottom.Text == "pin" && !part.Pin.Long.Given {
		b.needIn(part.File, "length of the baluster's pin; what stands over it is the foot", "pin: {long: }", "gap, count, marks", part.Pin.Long.At)
		return profile.Profile{}, false
	}
	if !part.Wide.Given {
		b.needIn(part.File, "width of the baluster across the foot", "wide: ", "gap, count, marks", part.Wide.At)
		return profile.Profile{}, false
	}
	if !part.Blank.IsZero() { // a turning that is not whole says nothing of the openings beside it
		b.needIn(part.File, "a station of the baluster's profile that is left blank, or all of them", "profile: ", "the openings, and everything after them", part.Blank)
		return profile.Profile{}, false
	}
	if !part.Sized {
		b.needIn(part.File, "length of the baluster as bought", "long: ", "whether it is long enough", part.Long.At)
		return profile.Square(part.Wide.Length, plain), true
	}
	b.waistOpen()
	return part.Profile, true
}

// shape works out the baluster's length and where its profile stands.
func (b *builder) shape() {
	part := b.r.Baluster
	p, ok := b.bought("everything but the clear")
	if !ok {
		return
	}
	bottom, _ := b.sockets()
	if !b.Levels.Known {
		b.fallback = true
		b.foot, b.head = part.Wide.Length, part.Wide.Length
		b.shapes = []shape{asBought(p, bottom)}
		return
	}
	b.stick, b.stickLong = p, b.length()
	stances := []stance{{}}
	if b.Floor.How == "lengths" {
		stances = b.Floor.stances()
	}
	for _, on := range stances {
		f := on.floor
		if b.stickLong-f <= bottom { // the room is smaller than the sockets: the check on the room says so
			b.foot, b.head = part.Wide.Length, part.Wide.Length
			b.shapes = []shape{asBought(p, 0)}
			b.fallback = true
			return
		}
		s := b.standing(f)
		s.part = on.part
		b.shapes = append(b.shapes, s)
		fit := trimmed(p, part.Trim.Text, b.stickLong-f)
		_, b.foot = fit.WidthAt(bottom)
		b.head, _ = fit.WidthAt(b.Levels.RailUnder - (b.Levels.ShoeTop + f - bottom))
	}
}

// standing is the baluster that stands where the floor is so much above the floor at the datum end.
func (b *builder) standing(floor length.Length) shape {
	bottom, _ := b.sockets()
	fit := trimmed(b.stick, b.r.Baluster.Trim.Text, b.stickLong-floor)
	low := b.Levels.ShoeTop + floor
	z := low - bottom
	return shape{face: fit.Face(0).Lift(z.Float()), low: low, high: b.Levels.RailUnder, widest: fit.Widest(low-z, b.Levels.RailUnder-z), of: fit, up: z}
}

// plain is the length of the stick that stands for a baluster whose length is still to be measured: taller than any guard.
const plain = 3 * length.Metre

// trimmed is a profile cut to a length at the end named; where it is too short, its top runs on as it is.
func trimmed(p profile.Profile, end string, long length.Length) profile.Profile {
	off := p.Long() - long
	switch {
	case off < 0:
		last := p.Stations[len(p.Stations)-1]
		last.At = long
		return profile.Profile{Stations: append(append([]profile.Station{}, p.Stations...), last)}
	case end == "bottom":
		return p.Cut(off, 0)
	}
	return p.Cut(0, off)
}

// sockets are how far a baluster goes into shoe or floor, and into the rail.
func (b *builder) sockets() (bottom, top length.Length) {
	part := b.r.Baluster
	if b.r.Shoe != nil {
		bottom = b.r.Shoe.Plow.Deep.Length
	}
	switch part.Bottom.Text {
	case "pin":
		bottom += part.Pin.Long.Length
	case "let in":
		bottom += part.LetIn.Length
	}
	if part.Top.Text == "pin" {
		return bottom, part.Pin.Long.Length
	}
	if b.r.Handrail != nil {
		top = b.r.Handrail.Plow.Deep.Length
	}
	return bottom, top
}

// length works out the cut length of a baluster, where the floor is followed of one at the datum end; the series of all of them stands
// for it once there are marks.
func (b *builder) length() length.Length {
	fig := b.work("baluster", "length of a baluster", "l", b.lengthExpr(nil))
	if b.Floor.How == "lengths" {
		b.Figures = b.Figures[:len(b.Figures)-1]
	}
	return fig.Exact(b.sys)
}

// lengthExpr is the baluster's length: T - t + p_r - (f + s - p_s) - fit, plus pins, all from one floor line.
func (b *builder) lengthExpr(floor working.Expr) working.Expr {
	part := b.r.Baluster
	top := b.found("T", "top of the handrail above the floor the guard stands on, at the datum end", "", b.Levels.RailTop)
	top.Figure = b.ID + "/rail-top"
	e := working.Expr(working.Difference(top, b.in("t", "height of the handrail's section", b.r.Handrail.High)))
	pin := b.in("p_pin", "length of the pin", part.Pin.Long)
	if (part.Top.Text == "pin" || part.Bottom.Text == "pin") && !part.Pin.Long.Given {
		b.needIn(part.File, "length of the baluster's pin", "pin: {long: }", "length of the balusters", part.Pin.Long.At)
	}
	if part.Top.Text == "pin" {
		e = working.Sum(e, pin)
	} else if b.r.Handrail.Plow.Deep.Given {
		e = working.Sum(e, b.in("p_r", "depth of the plow in the handrail", b.r.Handrail.Plow.Deep))
	}
	if floor != nil {
		e = working.Difference(e, floor)
	} else if b.Floor.How == "scribe" {
		e = working.Difference(e, b.found("f_low", "lowest point of the floor above the floor at the datum end", "level readings", b.Floor.low()))
	}
	if b.r.Shoe != nil {
		e = working.Difference(e, b.in("s", "height of the shoe", b.r.Shoe.High))
		if b.r.Shoe.Plow.Deep.Given {
			e = working.Sum(e, b.in("p_s", "depth of the plow in the shoe", b.r.Shoe.Plow.Deep))
		}
	}
	space := working.Work(b.ID+"/space", "room for a baluster between the bottoms of its two sockets", "l_0", b.sys.String(), e, working.Geometry)
	fit := b.fit(space)
	e = working.Difference(e, fit)
	switch part.Bottom.Text {
	case "pin":
		e = working.Sum(e, pin)
	case "let in":
		e = working.Sum(e, b.in("p_let", "how deep its foot is let in", part.LetIn))
	}
	return e
}

// fit is what is taken off so that a baluster goes in: the shop's, or what it takes to swing in between two plows.
func (b *builder) fit(space *working.Figure) working.Expr {
	shop := b.in("fit", "taken off so that a baluster goes in", b.job.Shop.Fit)
	part := b.r.Baluster
	id := b.ID + "/fit"
	for _, f := range b.Figures {
		if f.ID == id {
			return f.In()
		}
	}
	plows := b.r.ShoePlowed() && b.r.RailPlowed() && part.Bottom.Text != "pin" && part.Bottom.Text != "let in"
	if !plows || !space.Value.Known() {
		return shop
	}
	b.Figures = append(b.Figures, space)
	l := space.In()
	w := b.in("b", "width of the baluster", part.Wide)
	fig := b.work("fit", "taken off so that a baluster can be swung in between two plows", "fit_b",
		working.Greatest(shop, working.Difference(working.Root(working.Sum(working.Product(l, l), working.Product(w, w))), l)),
		working.Citation{Text: "1/16 in or so, common practice; and the diagonal of the baluster", Status: working.CommonPractice})
	return fig.In()
}
