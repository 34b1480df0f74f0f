package job

import (
	"slices"

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
	Can       Ratio     // size of each can, of a finish
	Coat      Text
	Wide      Measure // as most of them are
	Narrowest Measure
	Widest    Measure
	High      Measure
	Long      Measure
	Thick     Measure
	Plow      Plow
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
	ratioField("can", "size of each can, of a finish", VolumeUnits, func(r *Received) *Ratio { return &r.Can }),
	textField("coat", "which coat of the finish", func(r *Received) *Text { return &r.Coat }),
	lengthField("wide", "width, or width across the foot, as most of them are", func(r *Received) *Measure { return &r.Wide }),
	lengthField("narrowest", "width of the narrowest that was gauged", func(r *Received) *Measure { return &r.Narrowest }),
	lengthField("widest", "width of the widest that was gauged", func(r *Received) *Measure { return &r.Widest }),
	lengthField("high", "height of a section", func(r *Received) *Measure { return &r.High }),
	lengthField("long", "length of the shortest, of what is bought by the piece", func(r *Received) *Measure { return &r.Long }),
	lengthField("thick", "thickness of a fillet or a rosette", func(r *Received) *Measure { return &r.Thick }),
	mapField("plow", "the groove of a handrail or a shoe, where it is narrowest and least deep", plowFields, func(r *Received) *Plow { return &r.Plow }),
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

// receive lays what was measured on delivery over the parts: the job is planned on what is there. Of several readings of a plow the narrowest counts, of balusters the narrowest and
// the widest of all; of other sizes the last that was read.
func (j *Job) receive() {
	set := func(to *Measure, read Measure) {
		if read.Given {
			*to = read
		}
	}
	least := func(to *Measure, read Measure, first bool) {
		if read.Given && (first || !to.Given || read.Length < to.Length) {
			*to = read
		}
	}
	plow := func(to *Plow, read Plow, first bool) {
		least(&to.Wide, read.Wide, first)
		least(&to.Deep, read.Deep, first)
	}
	for _, h := range j.Handrails {
		for i, r := range j.Came("handrail", h.Name) {
			set(&h.Wide, r.Wide)
			set(&h.High, r.High)
			plow(&h.Plow, r.Plow, i == 0)
		}
	}
	for _, s := range j.Shoes {
		for i, r := range j.Came("shoe", s.Name) {
			set(&s.Wide, r.Wide)
			set(&s.High, r.High)
			plow(&s.Plow, r.Plow, i == 0)
		}
	}
	for _, f := range j.Fillets {
		for _, r := range j.Came("fillet", f.Name) {
			set(&f.Wide, r.Widest.Or(r.Wide))
			set(&f.Thick, r.Thick)
		}
	}
	for _, p := range j.Rosettes {
		for _, r := range j.Came("rosette", p.Name) {
			set(&p.Wide, r.Wide)
			set(&p.Thick, r.Thick)
		}
	}
	for _, b := range j.Bolts {
		for _, r := range j.Came("bolt", b.Name) {
			set(&b.Long, r.Long)
		}
	}
	for _, b := range j.Balusters {
		var narrowest Measure
		for i, r := range j.Came("baluster", b.Name) {
			if r.Wide.Given {
				b.Profile, b.Wide = sized(b.Profile, b.Wide.Length, r.Wide.Length), r.Wide
			}
			if r.Long.Given && (i == 0 || r.Long.Length < b.Long.Length) {
				b.Profile, b.Long = lengthened(b.Profile, r.Long.Length, b.Trim.Text), r.Long
			}
			least(&narrowest, r.Narrowest, false)
			if w := r.Widest; w.Given && (!b.Widest.Given || w.Length > b.Widest.Length) {
				b.Widest = w
			}
		}
		if narrowest.Given && b.Wide.Given {
			b.Under = Measure{Length: max(0, b.Wide.Length-narrowest.Length), At: narrowest.At, Given: true}
		}
	}
	for _, n := range j.Newels {
		for _, r := range j.Came("newel", n.Name) {
			if r.Wide.Given {
				n.Profile, n.Wide = sized(n.Profile, n.Wide.Length, r.Wide.Length), r.Wide
			}
			if r.Long.Given {
				n.Profile, n.Long = lengthened(n.Profile, r.Long.Length, "top"), r.Long
			}
		}
	}
}

// sized is a profile whose square places of one width, or all of a plain one, are of another.
func sized(p profile.Profile, from, to length.Length) profile.Profile {
	p.Stations = slices.Clone(p.Stations)
	plain := true
	for _, s := range p.Stations {
		plain = plain && s.Width == p.Stations[0].Width && s.Round == p.Stations[0].Round
	}
	for i := range p.Stations {
		if s := &p.Stations[i]; s.Width == from && (!s.Round || plain) {
			s.Width = to
		}
	}
	return p
}

// lengthened is a profile that came longer or shorter, at the end that is trimmed: its last block there is.
func lengthened(p profile.Profile, long length.Length, trim string) profile.Profile {
	n := len(p.Stations)
	if n < 2 || long <= 0 {
		return p
	}
	p.Stations = slices.Clone(p.Stations)
	by := long - p.Stations[n-1].At
	if trim == "bottom" {
		if p.Stations[1].At+by < 0 {
			return p
		}
		for i := 1; i < n; i++ {
			p.Stations[i].At += by
		}
		return p
	}
	if long < p.Stations[n-2].At {
		return p
	}
	p.Stations[n-1].At = long
	return p
}

// delivered checks what deliveries say.
func (d *decoder) delivered(j *Job) {
	for _, x := range j.Deliveries {
		for _, r := range x.Items {
			if !d.part(j, x.Layer, r.Part, r.Kind, r.At) {
				continue
			}
			if r.Count.Given && r.Broken.N+r.Back.N > r.Count.N {
				d.at(r.Count.At, 1, "count again: broken and sent back are of those that came", "%d came, %d of them are broken or sent back", r.Count.N, r.Broken.N+r.Back.N)
			}
			for _, m := range []Measure{r.Wide, r.Narrowest, r.Widest, r.High, r.Long, r.Thick, r.Plow.Wide, r.Plow.Deep} {
				if m.Given && m.Length <= 0 {
					d.at(m.At, 1, "write it as measured", "a size of nothing")
				}
			}
			if r.Narrowest.Given && r.Wide.Given && r.Narrowest.Length > r.Wide.Length {
				d.at(r.Narrowest.At, 1, "wide: is what most of them are, narrowest: the least of all", "the narrowest is wider than most of them")
			}
			if r.Widest.Given && r.Wide.Given && r.Widest.Length < r.Wide.Length {
				d.at(r.Widest.At, 1, "wide: is what most of them are, widest: the most of all", "the widest is narrower than most of them")
			}
		}
	}
	if len(d.problems) == 0 {
		j.receive()
	}
}
