package layout

import (
	"math/big"

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
}

// shape works out the baluster's length and where its profile stands.
func (b *builder) shape() {
	part := b.r.Baluster
	if part == nil {
		b.need("which baluster", "baluster: ", "everything but the clear", b.r.Parts.Baluster.At)
		return
	}
	b.footAt = part.Wide.At
	if !part.Wide.Given {
		b.needIn(part.File, "width of the baluster across the foot", "wide: ", "gap, count, marks", part.Wide.At)
		return
	}
	if !part.Blank.IsZero() { // a turning that is not whole says nothing of the openings beside it
		b.needIn(part.File, "a station of the baluster's profile that is left blank", "profile: ", "the openings, and everything after them", part.Blank)
		return
	}
	p := part.Profile
	if !part.Sized { // its length is still to be measured: a plain stick of its width stands for it
		b.needIn(part.File, "length of the baluster as bought", "long: ", "whether it is long enough", part.Long.At)
		p = profile.Square(part.Wide.Length, plain)
	}
	bottom, _ := b.sockets()
	if !b.Levels.Known {
		b.fallback = true
		b.foot, b.head = part.Wide.Length, part.Wide.Length
		b.shapes = []shape{{p.Face(0), bottom, p.Long(), p.Widest(0, p.Long())}}
		return
	}
	long, short := b.lengths()
	for _, cut := range []struct{ long, stands length.Length }{{long, b.longStands()}, {short, b.shortStands()}} {
		if len(b.shapes) > 0 && long == short {
			break
		}
		if cut.long <= bottom { // the room is smaller than the sockets: the check on the room says so
			b.foot, b.head = part.Wide.Length, part.Wide.Length
			b.shapes = []shape{{p.Face(0), 0, p.Long(), p.Widest(0, p.Long())}}
			b.fallback = true
			return
		}
		fit := trimmed(p, part.Trim.Text, cut.long)
		z := cut.stands - bottom
		s := shape{face: fit.Face(0).Lift(z.Float()), low: cut.stands, high: b.Levels.RailUnder}
		s.widest = fit.Widest(s.low-z, s.high-z)
		b.shapes = append(b.shapes, s)
		_, b.foot = fit.WidthAt(bottom)
		b.head, _ = fit.WidthAt(s.high - z)
	}
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
	if part.Bottom.Text == "pin" {
		bottom += part.Pin.Long.Length
	}
	if part.Top.Text == "pin" {
		return bottom, part.Pin.Long.Length
	}
	if b.r.Handrail != nil {
		top = b.r.Handrail.Plow.Deep.Length
	}
	return bottom, top
}

// Where the floor is followed, the longest baluster stands on its lowest point and the shortest on its highest; otherwise they are alike.
func (b *builder) longStands() length.Length {
	if b.Floor.How == "lengths" {
		return b.Levels.ShoeTop + b.Floor.low()
	}
	return b.Levels.ShoeTop
}

func (b *builder) shortStands() length.Length {
	if b.Floor.How == "lengths" {
		return b.Levels.ShoeTop + b.Floor.high()
	}
	return b.Levels.ShoeTop
}

// lengths works out the cut length of the balusters: one for all, or a series along a floor that is followed. It gives the longest
// and the shortest that the run could have.
func (b *builder) lengths() (long, short length.Length) {
	expr := b.lengthExpr(nil)
	fig := b.work("baluster", "length of a baluster", "l", expr)
	if b.Floor.How != "lengths" {
		l := fig.Exact(b.sys)
		return l, l
	}
	b.Figures = b.Figures[:len(b.Figures)-1] // the series stands for it, once there are marks
	l := fig.Exact(b.sys)
	return l - b.Floor.low(), l - b.Floor.high()
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
	if part.Bottom.Text == "pin" {
		e = working.Sum(e, pin)
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
	plows := b.r.Shoe != nil && b.r.Shoe.Plow.Deep.Given && b.r.Handrail.Plow.Deep.Given && part.Top.Text != "pin" && part.Bottom.Text != "pin"
	if !plows || space.Value == nil {
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

// mulDiv is x·y/z to the nearest, without overflow; 0 where z is 0.
func mulDiv(x, y, z int64) int64 {
	if z == 0 {
		return 0
	}
	r := new(big.Rat).SetFrac(new(big.Int).Mul(big.NewInt(x), big.NewInt(y)), big.NewInt(z))
	return int64(length.FromRat(r, length.Nanometre, length.Nearest))
}
