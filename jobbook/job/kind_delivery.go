package job

import (
	"slices"
	"strings"

	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/source"
)

// Delivery is what came with one load: counted, gauged, measured.
type Delivery struct {
	Origin
	Title    Text
	Received Text // the day
	From     Text // whom from
	Items    []Received
}

// Received is one part of a delivery.
type Received struct {
	Part      Text
	Kind      Text
	Count     Whole     // came
	Broken    Whole     // of those, not fit for use
	Back      Whole     // of those, sent back
	Sticks    []Measure // lengths of sticks as they came
	Bent      []Ref     // runs whose bent rail or shoe came, all pieces of it
	Can       Ratio     // size of each can, of a finish
	Coat      Text
	Wide      Measure // as most of them are
	Narrowest Measure
	Widest    Measure
	Waist     Measure // of a turned baluster, at its thinnest
	High      Measure
	Long      Measure
	Thick     Measure
	Plow      Plow
	Pin       Pin     // the largest
	Bow       Measure // the worst
	Moisture  []Ratio // as a meter read it, per cent
	Batch     Text    // colour batch
	Note      Text
	At        source.Pos
}

// Usable is how many of the pieces that came can be used.
func (r Received) Usable() int { return max(0, r.Count.N-r.Broken.N-r.Back.N) }

var receivedFields = []field[Received]{
	textField("part", "the part, or the finish", func(r *Received) *Text { return &r.Part }),
	kindField(func(r *Received) *Text { return &r.Kind }),
	wholeField("count", "how many came", 0, mostPieces, func(r *Received) *Whole { return &r.Count }),
	wholeField("broken", "of those, not fit for use", 0, mostPieces, func(r *Received) *Whole { return &r.Broken }),
	wholeField("back", "of those, sent back", 0, mostPieces, func(r *Received) *Whole { return &r.Back }),
	lengthsField("sticks", "length of every stick as it came", func(r *Received) *[]Measure { return &r.Sticks }),
	wordsField("bent", "a list of runs", "runs whose bent handrail or shoe came, made to its radius, all pieces of it", func(r *Received) *[]Ref { return &r.Bent }),
	ratioField("can", "size of each can, of a finish", VolumeUnits, func(r *Received) *Ratio { return &r.Can }),
	textField("coat", "which coat of the finish", func(r *Received) *Text { return &r.Coat }),
	lengthField("wide", "width, or width across the foot, as most of them are", func(r *Received) *Measure { return &r.Wide }),
	lengthField("narrowest", "width of the narrowest that was gauged", func(r *Received) *Measure { return &r.Narrowest }),
	lengthField("widest", "width of the widest that was gauged", func(r *Received) *Measure { return &r.Widest }),
	lengthField("waist", "of a turned baluster: its thinnest turned place, the least that was gauged; where balusters came in another width than the part's file has, openings pass only with it", func(r *Received) *Measure { return &r.Waist }),
	lengthField("high", "height of a section", func(r *Received) *Measure { return &r.High }),
	lengthField("long", "length of the shortest, of what is bought by the piece", func(r *Received) *Measure { return &r.Long }),
	lengthField("thick", "thickness of a fillet or a rosette", func(r *Received) *Measure { return &r.Thick }),
	mapField("plow", "the groove of a handrail or a shoe, where it is narrowest and least deep", plowFields, func(r *Received) *Plow { return &r.Plow }),
	mapField("pin", "the pin of a baluster, the largest that was gauged", pinFields, func(r *Received) *Pin { return &r.Pin }),
	lengthField("bow", "how far the worst of them is bowed", func(r *Received) *Measure { return &r.Bow }),
	ratiosField("moisture", "what a moisture meter read, on several pieces", []string{"%"}, func(r *Received) *[]Ratio { return &r.Moisture }),
	textField("batch", "colour batch: a name of your own", func(r *Received) *Text { return &r.Batch }),
	textField("note", "anything else about it", func(r *Received) *Text { return &r.Note }),
}

var deliveryFields = []field[Delivery]{
	textField("title", "name on the page", func(x *Delivery) *Text { return &x.Title }),
	dateField("received", "the day it came", func(x *Delivery) *Text { return &x.Received }),
	textField("from", "whom it came from", func(x *Delivery) *Text { return &x.From }),
	placedList("items", "what came, part by part; one part may stand there more than once", receivedFields, func(x *Delivery) *[]Received { return &x.Items }, func(r *Received) *source.Pos { return &r.At }),
}

// Came are all items of a part, in the order of the deliveries.
func (j *Job) Came(kind, name string) (list []Received) {
	for _, x := range j.Deliveries {
		for _, r := range x.Items {
			if r.Part.Text == name && (!r.Kind.Given || r.Kind.Text == kind) {
				list = append(list, r)
			}
		}
	}
	return list
}

// BentCame reports whether the bent rail or shoe of a run was delivered.
func (j *Job) BentCame(kind, part, run string) bool {
	return slices.ContainsFunc(j.Came(kind, part), func(r Received) bool {
		return slices.ContainsFunc(r.Bent, func(name Ref) bool { return name.Text == run })
	})
}

// Gone reports whether nothing of an item is there to be used: what was read of it says nothing of what will be cut.
func (r Received) Gone() bool {
	return r.Count.Given && len(r.Sticks) == 0 && len(r.Bent) == 0 && r.Usable() == 0
}

// readings are what was measured of one part, over all deliveries.
type readings []Received

func (j *Job) readings(kind, name string) readings {
	return slices.DeleteFunc(readings(j.Came(kind, name)), Received.Gone)
}

// least is the smallest of the readings of one size, most the greatest; the size as written while none was read.
func (list readings) least(written Measure, of func(Received) Measure) Measure {
	return list.pick(written, of, func(a, b length.Length) bool { return a < b })
}

func (list readings) most(written Measure, of func(Received) Measure) Measure {
	return list.pick(written, of, func(a, b length.Length) bool { return a > b })
}

func (list readings) pick(written Measure, of func(Received) Measure, before func(a, b length.Length) bool) Measure {
	var found Measure
	for _, r := range list {
		if m := of(r); m.Given && (!found.Given || before(m.Length, found.Length)) {
			found = m
		}
	}
	return found.Or(written)
}

func (list readings) plow(written Plow) Plow {
	return Plow{list.least(written.Wide, func(r Received) Measure { return r.Plow.Wide }), list.least(written.Deep, func(r Received) Measure { return r.Plow.Deep })}
}

func readWide(r Received) Measure  { return r.Wide }
func readHigh(r Received) Measure  { return r.High }
func readLong(r Received) Measure  { return r.Long }
func readThick(r Received) Measure { return r.Thick }

// RealSize is a size that was read on delivery, beside the one in the part's file.
type RealSize struct {
	Kind, Part    string
	Title         Text
	What          string
	Written, Real Measure
}

// RealSizes are all sizes that the job is planned on because they were read on delivery; before is the same job as though nothing had been delivered.
func (j *Job) RealSizes(before *Job) (list []RealSize) {
	var part RealSize
	add := func(what string, written, real Measure) {
		if real.Given && real.At != written.At {
			part.What, part.Written, part.Real = what, written, real
			list = append(list, part)
		}
	}
	plow := func(written, real Plow) {
		add("plow, wide", written.Wide, real.Wide)
		add("plow, deep", written.Deep, real.Deep)
	}
	each(&part, "baluster", before.Balusters, j.Balusters, func(b *Baluster) (string, Text) { return b.Name, b.Title }, func(w, r *Baluster) {
		add("wide", w.Wide, r.Wide)
		if r.Under.Given {
			add("the narrowest is under that by", before.Tolerance.Width, r.Under)
		}
		add("the widest", Measure{}, r.Widest)
		if waist, ok := w.waist(); ok {
			add("waist", Measure{Length: waist, At: w.Wide.At, Given: true}, r.Waist)
		}
		add("long", w.Long, r.Long)
		add("pin, wide", w.Pin.Wide, r.Pin.Wide)
		add("pin, long", w.Pin.Long, r.Pin.Long)
	})
	each(&part, "newel", before.Newels, j.Newels, func(n *Newel) (string, Text) { return n.Name, n.Title }, func(w, r *Newel) {
		add("wide", w.Wide, r.Wide)
		add("long", w.Long, r.Long)
	})
	each(&part, "handrail", before.Handrails, j.Handrails, func(h *Handrail) (string, Text) { return h.Name, h.Title }, func(w, r *Handrail) {
		add("wide", w.Wide, r.Wide)
		add("high", w.High, r.High)
		plow(w.Plow, r.Plow)
	})
	each(&part, "shoe", before.Shoes, j.Shoes, func(s *Shoe) (string, Text) { return s.Name, s.Title }, func(w, r *Shoe) {
		add("wide", w.Wide, r.Wide)
		add("high", w.High, r.High)
		plow(w.Plow, r.Plow)
	})
	each(&part, "fillet", before.Fillets, j.Fillets, func(f *Fillet) (string, Text) { return f.Name, f.Title }, func(w, r *Fillet) {
		add("wide", w.Wide, r.Wide)
		add("thick", w.Thick, r.Thick)
	})
	each(&part, "rosette", before.Rosettes, j.Rosettes, func(p *Rosette) (string, Text) { return p.Name, p.Title }, func(w, r *Rosette) {
		add("wide", w.Wide, r.Wide)
		add("thick", w.Thick, r.Thick)
	})
	each(&part, "bolt", before.Bolts, j.Bolts, func(b *Bolt) (string, Text) { return b.Name, b.Title }, func(w, r *Bolt) { add("long", w.Long, r.Long) })
	return list
}

// each goes through the parts of one kind that both have.
func each[T any](part *RealSize, kind string, written, real []*T, name func(*T) (string, Text), do func(written, real *T)) {
	for _, r := range real {
		n, title := name(r)
		for _, w := range written {
			if other, _ := name(w); other == n {
				*part = RealSize{Kind: kind, Part: n, Title: title}
				do(w, r)
			}
		}
	}
}

// receive lays what was measured on delivery over the parts: the job is planned on what is there. Where a part was read more than once, in one delivery or in several, the reading
// counts that does harm when it is passed over: the narrowest and shallowest plow (what goes in has to fit), the least height of rail and shoe and the thinnest rosette (balusters and
// rails are cut to the longest, and can be taken down), the greatest width of a rail (the hand goes round it), the thickest fillet, the longest bolt and the largest pin (the bore).
func (j *Job) receive() {
	for _, h := range j.Handrails {
		list := j.readings("handrail", h.Name)
		h.Narrowest = list.least(Measure{}, readWide)
		h.Wide, h.High, h.Plow = list.most(h.Wide, readWide), list.least(h.High, readHigh), list.plow(h.Plow)
	}
	for _, s := range j.Shoes {
		list := j.readings("shoe", s.Name)
		s.Wide, s.High, s.Plow = list.most(s.Wide, readWide), list.least(s.High, readHigh), list.plow(s.Plow)
	}
	for _, f := range j.Fillets {
		list := j.readings("fillet", f.Name)
		f.Wide, f.Thick = list.most(f.Wide, func(r Received) Measure { return r.Widest.Or(r.Wide) }), list.most(f.Thick, readThick)
	}
	for _, p := range j.Rosettes {
		list := j.readings("rosette", p.Name)
		p.Wide, p.Thick = list.most(p.Wide, readWide), list.least(p.Thick, readThick)
	}
	for _, b := range j.Bolts {
		b.Long = j.readings("bolt", b.Name).most(b.Long, readLong)
	}
	for _, b := range j.Balusters {
		b.receive(j.readings("baluster", b.Name))
	}
	for _, n := range j.Newels {
		list := j.readings("newel", n.Name)
		wide, long := list.most(n.Wide, readWide), list.least(n.Long, readLong)
		least := list.least(Measure{}, func(r Received) Measure {
			if r.Narrowest.Given && (!r.Wide.Given || r.Narrowest.Length < r.Wide.Length) {
				return r.Narrowest
			}
			return r.Wide
		})
		if as, sized := real(n.Profile, n.Sized, n.Plain, n.Wide, least, long, "top"); sized && least.Given && wide.Given && least.Length < wide.Length {
			n.Slim, n.Narrowest = as, least
		}
		n.Profile, n.Sized = real(n.Profile, n.Sized, n.Plain, n.Wide, wide, long, "top")
		n.Wide, n.Long = wide, long
	}
}

// receive takes the sizes of the balusters that came. Where bundles differ, the least of their usual widths is planned with, since narrow ones leave the wide openings; what is
// narrower still is the tolerance, and the widest of all has to go into the plows.
func (b *Baluster) receive(list readings) {
	if len(list) == 0 {
		return
	}
	written := b.Wide
	wide, long := list.least(b.Wide, readWide), list.least(b.Long, readLong)
	b.Profile, b.Sized = real(b.Profile, b.Sized, b.Plain, b.Wide, wide, long, b.Trim.Text)
	b.Wide, b.Long = wide, long
	b.thinned(list, written)
	b.Pin.Wide = list.most(b.Pin.Wide, func(r Received) Measure { return r.Pin.Wide })
	b.Pin.Long = list.most(b.Pin.Long, func(r Received) Measure { return r.Pin.Long })
	if narrowest := list.least(Measure{}, func(r Received) Measure { return r.Narrowest }); narrowest.Given && b.Wide.Given {
		b.Under = Measure{Length: max(0, b.Wide.Length-narrowest.Length), At: narrowest.At, Given: true}
	}
	b.Widest = list.most(Measure{}, func(r Received) Measure { return r.Widest })
	if usual := list.most(Measure{}, readWide); usual.Length > max(b.Wide.Length, b.Widest.Length) { // another bundle is wider than the one that is planned with
		b.Widest = usual
	}
}

// real is a profile at the width and length that came; false while one of them is not known. A part that is the same all the way up comes to be whole by the readings alone.
func real(p profile.Profile, sized bool, plain string, was, wide, long Measure, trim string) (profile.Profile, bool) {
	if plain != "" {
		if !wide.Given || !long.Given {
			return p, sized
		}
		p = profile.Square(wide.Length, long.Length)
		for i := range p.Stations {
			p.Stations[i].Round = plain == "round"
		}
		return p, true
	}
	if !sized {
		return p, false
	}
	if was.Given && wide.Given {
		p = resized(p, was.Length, wide.Length)
	}
	if longer, ok := lengthened(p, long.Length, trim); ok {
		p = longer
	}
	return p, true
}

// resized is a profile of another width across the foot than it was: the foot, and square blocks as wide as it. What is turned stays, and
// so does a pin under the foot.
func resized(p profile.Profile, was, wide length.Length) profile.Profile {
	p.Stations = slices.Clone(p.Stations)
	over, foot := false, true // the pin, and still in the foot
	for i := range p.Stations {
		s := &p.Stations[i]
		over = over || s.Width == was
		foot = foot && (s.Width == was || !over)
		if s.Width == was && (foot || !s.Round) {
			s.Width = wide
		}
	}
	return p
}

// lengthened is a profile that came longer or shorter, at the end that is trimmed; false where it would end in its turning.
func lengthened(p profile.Profile, long length.Length, trim string) (profile.Profile, bool) {
	n := len(p.Stations)
	by := long - p.Long()
	p.Stations = slices.Clone(p.Stations)
	switch {
	case trim == "bottom":
		if p.Stations[1].At+by <= 0 {
			return p, false
		}
		for i := 1; i < n; i++ {
			p.Stations[i].At += by
		}
	case long <= p.Stations[n-2].At:
		return p, false
	default:
		p.Stations[n-1].At = long
	}
	return p, true
}

// readable are the sizes that say something of a kind of part; count, broken, back, bow, moisture, batch and note do of all but finishes.
var readable = map[string][]string{
	"baluster": {"wide", "narrowest", "widest", "waist", "long", "pin"},
	"newel":    {"wide", "narrowest", "long"},
	"handrail": {"sticks", "bent", "wide", "high", "plow"},
	"shoe":     {"sticks", "bent", "wide", "high", "plow"},
	"fillet":   {"sticks", "wide", "widest", "thick"},
	"rosette":  {"wide", "thick"},
	"bolt":     {"long"},
	"finish":   {"can", "coat"},
}

// gauged is a size that was written of an item, by its key.
type gauged struct {
	key string
	Measure
}

// sizes are all that were written, in the order of the keys.
func (r Received) sizes() (list []gauged) {
	for _, m := range r.Sticks {
		list = append(list, gauged{"sticks", m})
	}
	for _, run := range r.Bent {
		list = append(list, gauged{"bent", Measure{At: run.At, Given: true, Length: 1}})
	}
	for _, m := range []gauged{
		{"can", Measure{At: r.Can.At, Given: r.Can.Given, Length: length.Length(r.Can.Thousandths)}}, {"wide", r.Wide}, {"narrowest", r.Narrowest}, {"widest", r.Widest}, {"waist", r.Waist}, {"high", r.High}, {"long", r.Long},
		{"thick", r.Thick}, {"plow", r.Plow.Wide}, {"plow", r.Plow.Deep}, {"pin", r.Pin.Wide}, {"pin", r.Pin.Long},
	} {
		if m.Given {
			list = append(list, m)
		}
	}
	return list
}

// delivered checks what deliveries say.
func (d *decoder) delivered(j *Job) {
	for _, x := range j.Deliveries {
		for _, r := range x.Items {
			if d.part(j, x.Layer, r.Part, r.Kind, r.At) {
				d.item(j, r)
			}
		}
	}
	if len(d.problems) == 0 {
		j.receive()
	}
}

func (d *decoder) item(j *Job, r Received) {
	kind := r.Kind.Text
	if !r.Kind.Given {
		kind = j.Wares(r.Part.Text)[0]
	}
	for _, m := range r.sizes() {
		switch {
		case m.Length <= 0:
			d.at(m.At, 1, "write it as measured", "a size of nothing")
		case !slices.Contains(readable[kind], m.key):
			hint := "leave it out, or write it in note: "
			if known := readable[kind]; len(known) > 0 {
				hint = "of a " + kind + " are read: " + strings.Join(known, ", ")
			}
			d.at(m.At, 1, hint, "%s: says nothing of a %s", m.key, kind)
		}
	}
	var runs []string
	for _, run := range j.Runs {
		runs = append(runs, run.Name)
	}
	for _, run := range r.Bent {
		if !slices.Contains(runs, run.Text) {
			d.missing(run, "run", runs)
		}
	}
	if r.Count.Given && r.Broken.N+r.Back.N > r.Count.N {
		d.at(r.Count.At, 1, "count again: broken and sent back are of those that came", "%d came, %d of them are broken or sent back", r.Count.N, r.Broken.N+r.Back.N)
	}
	if sticks := slices.Contains(readable[kind], "sticks"); sticks && (r.Broken.N > 0 || r.Back.N > 0) {
		d.at(r.Broken.or(r.Back).At, 1, "write in sticks: only those that can be used, each with its own length", "which of the sticks are broken or sent back is not said")
	} else if sticks && r.Count.Given && r.Count.N != len(r.Sticks) {
		d.at(r.Count.At, 1, "write the length of every stick in sticks: , count: is not needed", "%d came, and the lengths of %d are there", r.Count.N, len(r.Sticks))
	}
	for _, m := range []struct {
		low, high     Measure
		summary, hint string
		at            Measure
	}{
		{r.Narrowest, r.Wide, "the narrowest is wider than most of them", "wide: is what most of them are, narrowest: the least of all", r.Narrowest},
		{r.Wide, r.Widest, "the widest is narrower than most of them", "wide: is what most of them are, widest: the most of all", r.Widest},
		{r.Narrowest, r.Widest, "the widest is narrower than the narrowest", "narrowest: is the least of all, widest: the most", r.Widest},
	} {
		if m.low.Given && m.high.Given && m.low.Length > m.high.Length {
			d.at(m.at.At, 1, m.hint, "%s", m.summary)
			break
		}
	}
	if r.Waist.Given {
		d.slender(j, r)
	}
	if r.Long.Given {
		d.longEnough(j, kind, r)
	}
}

// longEnough refuses a length at which a turned part would end in its turning: it is a slip of the tape, or another part.
func (d *decoder) longEnough(j *Job, kind string, r Received) {
	check := func(p profile.Profile, sized bool, trim string) {
		if sized && r.Long.Length > 0 {
			if _, ok := lengthened(p, r.Long.Length, trim); !ok {
				d.at(r.Long.At, 1, "measure it again; a part with another turning is a file of its own", "at %s it would end in its turning", d.print(r.Long.Length))
			}
		}
	}
	switch kind {
	case "baluster":
		for _, b := range j.Balusters {
			if b.Name == r.Part.Text {
				check(b.Profile, b.Sized, b.Trim.Text)
			}
		}
	case "newel":
		for _, n := range j.Newels {
			if n.Name == r.Part.Text {
				check(n.Profile, n.Sized, "top")
			}
		}
	}
}

// received are the lines of all deliveries.
func (j *Job) received() (list []Received) {
	for _, d := range j.Deliveries {
		list = append(list, d.Items...)
	}
	return list
}
