package job

import (
	"slices"

	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/source"
)

// Baluster is a baluster as bought.
type Baluster struct {
	Origin
	Title   Text
	Species Text
	Profile profile.Profile
	Sized   bool       // the profile is complete
	Plain   string     // square or round, of one without stations
	Blank   source.Pos // the first station that is left blank; zero where there is none
	Long    Measure
	Wide    Measure // across the foot, as bought
	Trim    Text    // the end that is cut: top or bottom
	Top     Text    // square or pin
	Bottom  Text    // square, pin or let in
	Pin     Pin
	LetIn   Measure // how deep the foot goes into the tread or the floor
	Under   Measure // how far under its width the narrowest is that was delivered; the shop's tolerance holds while it is not given
	Widest  Measure // the widest that was delivered, where any was gauged
	Waist   Measure // the thinnest turned place of those that were delivered, where any was gauged

	WaistOpen source.Pos // of what came in another width than the part's file has, and whose waist nobody gauged; zero where there is none
}

// Pin is the turned tenon at the end of a baluster.
type Pin struct {
	Wide, Long Measure
}

// Newel is a post as bought.
type Newel struct {
	Origin
	Title   Text
	Species Text
	Profile profile.Profile
	Sized   bool
	Plain   string // square or round, of one without stations
	Long    Measure
	Wide    Measure
	Half    Flag // split down its length and planted on a wall

	Narrowest Measure         // of those that came, where they differ: what is left to bend
	Slim      profile.Profile // as the narrowest
}

// Plow is the groove that takes balusters and fillets.
type Plow struct {
	Wide, Deep Measure
}

// Handrail is a rail's section.
type Handrail struct {
	Origin
	Title   Text
	Species Text
	Wide    Measure
	High    Measure
	Plow    Plow
	Girth   Measure   // round the section, for finishing and the grip; from width and height where not given
	Section Text      // round, rectangular, or another; empty while nobody says
	Outline []Breadth // the section from its top down, plow not counted; the last at its height
	Across  Measure   // greatest distance across the section
	Recess  Recess

	Narrowest Measure // width of the narrowest that came, which is what bends; the widest is what the hand goes round
}

// Breadth is how wide a rail's section is at a depth below its top. Two at one depth are a step; between two depths it runs straight.
type Breadth struct {
	At, Wide Measure
}

// Recess is the finger recess of a handrail too large to close a hand round.
type Recess struct {
	Starts Measure // below the tallest part
	Deep   Measure // at the place where it is that deep
	Within Measure // how far below the widest part it is that deep
	Kept   Measure // how deep it still is down to
	To     Measure // this far below the tallest part
	Wide   Measure // width of the rail above the recess
}

// Bolt is the hardware that holds a rail to a post, hidden in the rail's end.
type Bolt struct {
	Origin
	Title    Text
	Wide     Measure // diameter
	Long     Measure
	InPost   Measure // length of the end that is screwed into the post
	Pilot    Measure // bore in the post
	Bore     Measure // bore in the end of the rail
	Access   Measure // bore from below, for the washer and the nut
	Reach    Measure // from the end of the rail to the middle of the access bore
	AccessUp Measure // how deep the access bore is
}

// Shoe is the rail under the balusters.
type Shoe struct {
	Origin
	Title   Text
	Species Text
	Wide    Measure
	High    Measure
	Plow    Plow
}

// Fillet fills a plow between balusters.
type Fillet struct {
	Origin
	Title   Text
	Species Text
	Wide    Measure
	Thick   Measure
}

// Rosette is the plate between a rail and a wall.
type Rosette struct {
	Origin
	Title   Text
	Species Text
	Wide    Measure
	Thick   Measure
}

// station is one line of a profile as written: {at: 7, square: 1 1/4} or {at: 7, round: 1 1/8}.
type station struct {
	at, square, round Measure
	where             source.Pos
}

var stationFields = []field[station]{
	lengthField("at", "height above the bottom end as bought", func(s *station) *Measure { return &s.at }),
	lengthField("square", "width across the flats there", func(s *station) *Measure { return &s.square }),
	lengthField("round", "diameter there", func(s *station) *Measure { return &s.round }),
}

// turning is what a baluster and a newel have in common: a section up their length, given by stations, or by one width.
type turning struct {
	stations []station
	list     source.Pos // of the stations
	blank    source.Pos // the list left blank, or the first station that is
	section  Text
	long     Measure
	wide     Measure
}

func turningFields[T any](what string, at func(*T) *turning) []field[T] {
	return []field[T]{
		lengthField("long", "length as bought", func(t *T) *Measure { return &at(t).long }),
		lengthField("wide", "width across the flats, or diameter, where it is the same all the way up", func(t *T) *Measure { return &at(t).wide }),
		wordField("section", "shape of a "+what+" that is the same all the way up; square where absent", []string{"square", "round"}, func(t *T) *Text { return &at(t).section }),
		{"profile", "a list", "stations up the length, from the bottom as bought; two at one height are a step, straight between them", keysOf(stationFields), func(d *decoder, n *source.Node, to *T) {
			if n.Blank() {
				at(to).blank = n.At
				return
			}
			if n.Kind != source.List {
				d.problem(n, "write a list: - {at: 0, square: 1 1/4}", "want a list for profile, found %s", shape(n))
				return
			}
			at(to).list = n.At
			for _, item := range n.Items {
				s := station{where: item.At}
				decode(d, item, "a station", stationFields, &s)
				at(to).stations = append(at(to).stations, s)
			}
		}},
	}
}

// profile builds the profile of a turning; false while something is still to be measured or is wrong.
func (t *turning) profile(d *decoder) (profile.Profile, bool) {
	if len(t.stations) == 0 {
		if !t.long.Given || !t.wide.Given || !t.blank.IsZero() {
			return profile.Profile{}, false
		}
		p := profile.Square(t.wide.Length, t.long.Length)
		if t.section.Text == "round" {
			for i := range p.Stations {
				p.Stations[i].Round = true
			}
		}
		for _, m := range []Measure{t.wide, t.long} {
			if m.Length <= 0 {
				d.nothing(m)
				return profile.Profile{}, false
			}
		}
		if i, why := p.Check(); i >= 0 {
			d.at(t.wide.At, 1, "write the sizes as read", "%s", why)
			return profile.Profile{}, false
		}
		return p, true
	}
	var p profile.Profile
	whole := true
	for _, s := range t.stations {
		switch {
		case s.square.Given && s.round.Given:
			d.at(s.where, 1, "write square where it is square, round where it is turned", "a station has both square and round")
			return profile.Profile{}, false
		case !s.at.Given || !s.square.Given && !s.round.Given:
			if whole {
				t.blank = s.where
			}
			whole = false
		default:
			w := s.square.Or(s.round)
			p.Stations = append(p.Stations, profile.Station{At: s.at.Length, Width: w.Length, Round: s.round.Given})
		}
	}
	if !whole {
		return profile.Profile{}, false
	}
	if i, why := p.Check(); i >= 0 {
		d.at(t.stations[min(i, len(t.stations)-1)].where, 1, "write the stations from the bottom up, the first at 0 and the last at the length as bought", "%s", why)
		return profile.Profile{}, false
	}
	if t.long.Given && t.long.Length != p.Long() {
		d.at(t.long.At, 1, "leave long out, or make the last station stand at it", "long is %s but the last station stands at %s", d.print(t.long.Length), d.print(p.Long()))
		return profile.Profile{}, false
	}
	if t.wide.Given && !slices.ContainsFunc(p.Stations, func(s profile.Station) bool { return s.Width == t.wide.Length }) {
		d.at(t.wide.At, 1, "leave wide out, or write the width of the station that is meant", "wide is %s but no station is that wide", d.print(t.wide.Length))
		return profile.Profile{}, false
	}
	return p, true
}

// plain is the section of a part that is the same all the way up; empty for one with stations.
func (t *turning) plain() string {
	switch {
	case len(t.stations) > 0 || !t.list.IsZero() || !t.blank.IsZero():
		return ""
	case t.section.Given:
		return t.section.Text
	}
	return "square"
}

func (d *decoder) print(l length.Length) string { return d.system.With(l) }

// sizes fills length and foot width of a turning from its profile where they were not written.
func (t *turning) sizes(ok bool) (long, wide Measure) {
	long, wide = t.long, t.wide
	if ok && len(t.stations) > 0 {
		last, first := t.stations[len(t.stations)-1], t.stations[0]
		if !long.Given {
			long = last.at
		}
		if !wide.Given {
			wide = first.square.Or(first.round)
		}
	}
	return long, wide
}

var pinFields = []field[Pin]{
	lengthField("wide", "diameter of the pin", func(p *Pin) *Measure { return &p.Wide }),
	lengthField("long", "length of the pin", func(p *Pin) *Measure { return &p.Long }),
}

type balusterFile struct {
	Baluster
	turning
}

var balusterFields = append([]field[balusterFile]{
	textField("title", "name on the page", func(b *balusterFile) *Text { return &b.Baluster.Title }),
	textField("species", "wood", func(b *balusterFile) *Text { return &b.Baluster.Species }),
	wordField("trim", "the end that is cut to length; top where absent", []string{"top", "bottom"}, func(b *balusterFile) *Text { return &b.Baluster.Trim }),
	wordField("top", "how the top end goes in: square into the plow, or a pin into a bored hole; square where absent", []string{"square", "pin"}, func(b *balusterFile) *Text { return &b.Baluster.Top }),
	wordField("bottom", "how the bottom end goes in: square into the plow or on the floor, with a pin below, or let in whole; square where absent", []string{"square", "pin", "let in"}, func(b *balusterFile) *Text { return &b.Baluster.Bottom }),
	lengthField("let-in", "how deep a foot that is let in goes into the floor or the tread", func(b *balusterFile) *Measure { return &b.Baluster.LetIn }),
	mapField("pin", "the pin, of a pinned end; below, the foot is what stands over it", pinFields, func(b *balusterFile) *Pin { return &b.Baluster.Pin }),
}, turningFields("baluster", func(b *balusterFile) *turning { return &b.turning })...)

// overPin takes the width of the foot from over the pin, where the stations begin with that. Where nobody says how long the pin is, a
// turned end may be one, and the foot is not known.
func (b *balusterFile) overPin() {
	first, pin := profile.Station{}, b.Baluster.Pin
	if len(b.Baluster.Profile.Stations) > 0 {
		first = b.Baluster.Profile.Stations[0]
	}
	if !b.Baluster.Sized || len(b.stations) == 0 || b.wide.Given || b.Baluster.Bottom.Text != "pin" || !first.Round {
		return
	}
	if !pin.Long.Given {
		if !pin.Wide.Given || pin.Wide.Length == first.Width {
			b.Baluster.Wide = Measure{At: pin.Long.At}
		}
		return
	}
	_, wide := b.Baluster.Profile.WidthAt(pin.Long.Length)
	at := b.Baluster.Wide.At
	for _, s := range b.stations {
		if s.at.Length <= pin.Long.Length {
			at = s.square.Or(s.round).At
		}
	}
	b.Baluster.Wide = Measure{Length: wide, At: at, Given: wide > 0}
}

type newelFile struct {
	Newel
	turning
}

var newelFields = append([]field[newelFile]{
	textField("title", "name on the page", func(p *newelFile) *Text { return &p.Newel.Title }),
	textField("species", "wood", func(p *newelFile) *Text { return &p.Newel.Species }),
	flagField("half", "yes for a half newel, split down its length and planted on a wall", func(p *newelFile) *Flag { return &p.Newel.Half }),
}, turningFields("newel", func(p *newelFile) *turning { return &p.turning })...)

var plowFields = []field[Plow]{
	lengthField("wide", "width of the groove", func(p *Plow) *Measure { return &p.Wide }),
	lengthField("deep", "depth of the groove", func(p *Plow) *Measure { return &p.Deep }),
}

var handrailFields = []field[Handrail]{
	textField("title", "name on the page", func(h *Handrail) *Text { return &h.Title }),
	textField("species", "wood", func(h *Handrail) *Text { return &h.Species }),
	lengthField("wide", "greatest width of the section", func(h *Handrail) *Measure { return &h.Wide }),
	lengthField("high", "height of the section", func(h *Handrail) *Measure { return &h.High }),
	mapField("plow", "the groove underneath; leave it out where there is none", plowFields, func(h *Handrail) *Plow { return &h.Plow }),
	lengthField("girth", "round the section with a string, for the finish and the grip; where absent, the outline, or twice width and height, for the finish, and for the grip width and height of a rectangle, as far as they decide", func(h *Handrail) *Measure { return &h.Girth }),
	wordField("section", "whether the section is round or rectangular; for the grip and for what it carries", []string{"round", "rectangular", "other"}, func(h *Handrail) *Text { return &h.Section }),
	listField("outline", "of a section that is neither: how wide it is at depths below its top, traced from a cut end; two at one depth are a step, straight between them, the plow left out; for what it carries", breadthFields, func(h *Handrail) *[]Breadth { return &h.Outline }),
	lengthField("across", "greatest distance across the section, corner to corner; for the grip; where absent, from width and height of a rectangle, as far as they decide", func(h *Handrail) *Measure { return &h.Across }),
	mapField("recess", "the finger recess of a section more than a hand goes round; on both sides alike", recessFields, func(h *Handrail) *Recess { return &h.Recess }),
}

var breadthFields = []field[Breadth]{
	lengthField("at", "depth below the top, the first at 0 and the last at the rail's height", func(b *Breadth) *Measure { return &b.At }),
	lengthField("wide", "width of the section there", func(b *Breadth) *Measure { return &b.Wide }),
}

var recessFields = []field[Recess]{
	lengthField("starts", "where it begins, below the tallest part", func(r *Recess) *Measure { return &r.Starts }),
	lengthField("deep", "how deep it goes", func(r *Recess) *Measure { return &r.Deep }),
	lengthField("within", "how far below the widest part it is that deep", func(r *Recess) *Measure { return &r.Within }),
	lengthField("kept", "how deep it still is at its lower end", func(r *Recess) *Measure { return &r.Kept }),
	lengthField("to", "where that is, below the tallest part", func(r *Recess) *Measure { return &r.To }),
	lengthField("wide", "width of the rail above the recess", func(r *Recess) *Measure { return &r.Wide }),
}

var boltFields = []field[Bolt]{
	textField("title", "name on the page", func(b *Bolt) *Text { return &b.Title }),
	lengthField("wide", "diameter", func(b *Bolt) *Measure { return &b.Wide }),
	lengthField("long", "length", func(b *Bolt) *Measure { return &b.Long }),
	lengthField("in-post", "length of the end that is screwed into the post", func(b *Bolt) *Measure { return &b.InPost }),
	lengthField("pilot", "diameter of the bore in the post", func(b *Bolt) *Measure { return &b.Pilot }),
	lengthField("bore", "diameter of the bore in the end of the rail", func(b *Bolt) *Measure { return &b.Bore }),
	lengthField("access", "diameter of the bore from below", func(b *Bolt) *Measure { return &b.Access }),
	lengthField("access-deep", "how deep that bore is", func(b *Bolt) *Measure { return &b.AccessUp }),
	lengthField("reach", "from the end of the rail to the middle of the bore from below", func(b *Bolt) *Measure { return &b.Reach }),
}

var shoeFields = []field[Shoe]{
	textField("title", "name on the page", func(s *Shoe) *Text { return &s.Title }),
	textField("species", "wood", func(s *Shoe) *Text { return &s.Species }),
	lengthField("wide", "width", func(s *Shoe) *Measure { return &s.Wide }),
	lengthField("high", "height", func(s *Shoe) *Measure { return &s.High }),
	mapField("plow", "the groove on top; leave it out where there is none", plowFields, func(s *Shoe) *Plow { return &s.Plow }),
}

var filletFields = []field[Fillet]{
	textField("title", "name on the page", func(f *Fillet) *Text { return &f.Title }),
	textField("species", "wood", func(f *Fillet) *Text { return &f.Species }),
	lengthField("wide", "width, the plow's", func(f *Fillet) *Measure { return &f.Wide }),
	lengthField("thick", "thickness", func(f *Fillet) *Measure { return &f.Thick }),
}

var rosetteFields = []field[Rosette]{
	textField("title", "name on the page", func(r *Rosette) *Text { return &r.Title }),
	textField("species", "wood", func(r *Rosette) *Text { return &r.Species }),
	lengthField("wide", "diameter or width", func(r *Rosette) *Measure { return &r.Wide }),
	lengthField("thick", "how far it stands off the wall", func(r *Rosette) *Measure { return &r.Thick }),
}
