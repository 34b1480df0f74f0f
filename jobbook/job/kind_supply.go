package job

import (
	"iter"
	"slices"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/length"
	"balustrade/jobbook/money"
	"balustrade/jobbook/source"
)

// Amount is money as somebody wrote it. Given is false where the key is blank or absent: a price to ask for.
type Amount struct {
	money.Money
	At    source.Pos
	Given bool
}

// Supplier is somebody who sells parts: what, in which sizes, at which price, and how long it takes.
type Supplier struct {
	Origin
	Title  Text
	Lead   Whole // days from the order to the door
	Offers []Offer
}

// Offer is one way in which a part is sold: by the piece, in packs, in sticks, or in cans. Price is that of one pack, stick or can.
type Offer struct {
	Part  Text    // the part's name
	Kind  Text    // where parts of two kinds share the name
	Pack  Whole   // pieces in a pack; one where absent
	Long  Measure // of one stick; not given for what is bought by the piece
	Can   Ratio   // of one can, in one of VolumeUnits
	Coat  Text    // which coat of a finish the can holds
	Price Amount
	Lead  Whole // days, where it differs from the supplier's
	At    source.Pos
}

// Rack is what a shop or a job has on hand already.
type Rack struct {
	Origin
	Offcuts []Offcut
	Pieces  []Held
	Cans    []HeldCan
}

// Offcut is a length left over from another stick, ends clean: all of it can be used.
type Offcut struct {
	Part  Text
	Kind  Text
	Long  Measure
	Count Whole // one where absent
	Note  Text
	At    source.Pos
}

// N is how many offcuts of this length there are.
func (o Offcut) N() int { return o.Count.OrOne() }

// Held is pieces on hand of a part that is bought by the piece.
type Held struct {
	Part  Text
	Kind  Text
	Count Whole
	At    source.Pos
}

// HeldCan is finish on hand.
type HeldCan struct {
	Finish Text
	Coat   Text
	Left   Ratio
	Gone   int64 // of it, what other jobs of the yard take, in the unit of Ratio.Volume
	At     source.Pos
}

// Count is how many pieces one pack of the offer holds.
func (o Offer) Count() int { return o.Pack.OrOne() }

// VolumeUnits are the units that a can is written in.
var VolumeUnits = []string{"gal", "qt", "pt", "fl oz", "L", "ml"}

// Volume is a can's size in sixteenths of a nanolitre, in which litres and US measures (1 gal is 3.785411784 L, NIST Handbook 44,
// appendix C) are both whole.
func (r Ratio) Volume() int64 {
	const gallon, litre = 16 * 3_785_411_784, 16 * 1_000_000_000
	of := int64(0)
	switch r.Unit {
	case "gal":
		of = gallon
	case "qt":
		of = gallon / 4
	case "pt":
		of = gallon / 8
	case "fl oz":
		of = gallon / 128
	case "L":
		of = litre
	case "ml":
		of = litre / 1000
	}
	return int64(length.Rounded(exact.New(of, 1000).Mul(exact.Of(r.Thousandths)), length.Nanometre, length.Down)) // a whole number, not a length
}

// VolumeUnit is what volumes are told in where lengths are in that system, fl oz or L, and how much one of it is in the unit of Volume.
func VolumeUnit(s length.System) (unit string, one int64) {
	unit = "fl oz"
	if s == length.Millimetres {
		unit = "L"
	}
	return unit, Ratio{Thousandths: 1000, Unit: unit}.Volume()
}

func (d *decoder) amount(n *source.Node) Amount {
	a := Amount{At: n.At}
	text, ok := d.scalar(n, "a price")
	if !ok {
		return a
	}
	m, err := money.Parse(text)
	if err != nil {
		d.problem(n, err.(*money.Error).Hint, "%s", err)
		return a
	}
	a.Money, a.Given = m, true
	return a
}

func amountField[T any](key, doc string, at func(*T) *Amount) field[T] {
	return field[T]{key, "an amount of money", doc, nil, func(d *decoder, n *source.Node, to *T) { *at(to) = d.amount(n) }}
}

// offerFile is one line of a supplier's list, as written: several lengths at one price by the foot or metre are an offer each.
type offerFile struct {
	Offer
	lengths  []Measure
	perFoot  Amount
	perMetre Amount
}

const mostPieces = 100_000

var offerFields = []field[offerFile]{
	amountField("price", "of one piece, pack, stick or can", func(o *offerFile) *Amount { return &o.Price }),
	wholeField("pack", "pieces in a pack; one where absent", 1, mostPieces, func(o *offerFile) *Whole { return &o.Pack }),
	lengthField("long", "length of one stick, of what is cut from sticks", func(o *offerFile) *Measure { return &o.Long }),
	lengthsField("lengths", "of sticks that are sold by the foot or the metre", func(o *offerFile) *[]Measure { return &o.lengths }),
	amountField("per-foot", "price of a foot of every one of the lengths", func(o *offerFile) *Amount { return &o.perFoot }),
	amountField("per-metre", "price of a metre of every one of the lengths", func(o *offerFile) *Amount { return &o.perMetre }),
	ratioField("can", "size of one can, of a finish", VolumeUnits, func(o *offerFile) *Ratio { return &o.Can }),
	textField("coat", "the coat that the can is for; every one of the finish where absent", func(o *offerFile) *Text { return &o.Coat }),
	wholeField("lead", "days from order to door, where it differs from the supplier's", 0, 1000, func(o *offerFile) *Whole { return &o.Lead }),
	kindField(func(o *offerFile) *Text { return &o.Kind }),
}

// WareKinds are the kinds of part that can be sold, held or delivered.
var WareKinds = []string{"baluster", "newel", "handrail", "shoe", "fillet", "rosette", "bolt", "fixing", "finish", "supply"}

func kindField[T any](at func(*T) *Text) field[T] {
	return wordField("kind", "which kind of part it is, where two share the name", WareKinds, at)
}

var supplierFields = []field[Supplier]{
	textField("title", "name on the page", func(s *Supplier) *Text { return &s.Title }),
	wholeField("lead", "days from the order to the door", 0, 1000, func(s *Supplier) *Whole { return &s.Lead }),
	{"sells", "keys and values", "what is sold, by the part's name; below each an offer, or a list of them", keysOf(offerFields), func(d *decoder, n *source.Node, s *Supplier) {
		if n.Blank() {
			return
		}
		if n.Kind != source.Map {
			d.problem(n, "write square-1-1-4: {price: 6.20}", "want keys and values for sells, found %s", shape(n))
			return
		}
		for _, e := range n.Entries {
			part := Text{Text: e.Key, At: e.At, Given: true}
			for _, item := range d.items(e.Value) {
				o := offerFile{Offer: Offer{Part: part, At: item.At}}
				if !item.Blank() {
					decode(d, item, "an offer", offerFields, &o)
				}
				s.Offers = append(s.Offers, o.offers(d)...)
			}
			if e.Value.Blank() {
				s.Offers = append(s.Offers, Offer{Part: part, At: e.At, Price: Amount{At: e.Value.At}})
			}
		}
	}},
}

// offers are the line's offers, one for each length.
func (o offerFile) offers(d *decoder) []Offer {
	forms := 0
	for _, given := range []bool{o.Pack.Given, o.Long.Given || len(o.lengths) > 0, o.Can.Given} {
		if given {
			forms++
		}
	}
	if forms > 1 {
		d.at(o.At, 1, "write an offer for each: - {pack: , price: }", "an offer is by the pack, by the stick or by the can, not two of them")
		return nil
	}
	if o.Long.Given && o.Long.Length <= 0 {
		d.at(o.Long.At, 1, "write the length as it is sold", "a stick of nothing")
		return nil
	}
	if o.Can.Given && o.Can.Thousandths == 0 {
		d.at(o.Can.At, 1, "write the size as it is sold", "a can of nothing")
		return nil
	}
	per, unit := o.perFoot, 12*length.Inch
	if o.perMetre.Given {
		per, unit = o.perMetre, 1000*length.Millimetre
	}
	if o.perFoot.Given && o.perMetre.Given {
		d.at(o.perMetre.At, 1, "keep one of them", "an offer has both per-foot and per-metre")
		return nil
	}
	if per.Given && o.Price.Given {
		d.at(o.Price.At, 1, "keep price: for one stick, or per-foot:", "an offer has a price and a price by length")
		return nil
	}
	if len(o.lengths) == 0 {
		if per.Given && !o.Long.Given {
			sticks := "[8', 10', 12']"
			if d.system == length.Millimetres {
				sticks = "[2400, 3000]"
			}
			d.at(per.At, 1, "add lengths: "+sticks, "a price by length, and no length")
			return nil
		}
		if per.Given {
			o.Price = per.times(o.Long.Length, unit)
		}
		return []Offer{o.Offer}
	}
	if o.Price.Given && len(o.lengths) > 1 {
		d.at(o.Price.At, 1, "write per-foot: or per-metre: , or an offer for each length", "one price for sticks of several lengths")
		return nil
	}
	var list []Offer
	for _, l := range o.lengths {
		one := o.Offer
		one.Long = l
		if per.Given {
			one.Price = per.times(l.Length, unit)
		}
		list = append(list, one)
	}
	return list
}

// times is the price of a length at so much a unit, rounded to the hundredth.
func (a Amount) times(l, unit length.Length) Amount {
	a.Money = money.Of(a.Number().Mul(exact.New(int64(l), int64(unit))))
	return a
}

var offcutFields = []field[Offcut]{
	textField("part", "the part it was cut from", func(o *Offcut) *Text { return &o.Part }),
	lengthField("long", "its length, ends clean", func(o *Offcut) *Measure { return &o.Long }),
	wholeField("count", "how many alike; one where absent", 0, mostPieces, func(o *Offcut) *Whole { return &o.Count }),
	textField("note", "anything else about it", func(o *Offcut) *Text { return &o.Note }),
	kindField(func(o *Offcut) *Text { return &o.Kind }),
}

var heldFields = []field[Held]{
	textField("part", "the part", func(h *Held) *Text { return &h.Part }),
	wholeField("count", "how many are there", 0, mostPieces, func(h *Held) *Whole { return &h.Count }),
	kindField(func(h *Held) *Text { return &h.Kind }),
}

var heldCanFields = []field[HeldCan]{
	textField("finish", "the finish", func(h *HeldCan) *Text { return &h.Finish }),
	textField("coat", "which coat of it", func(h *HeldCan) *Text { return &h.Coat }),
	ratioField("left", "how much is left in the can", VolumeUnits, func(h *HeldCan) *Ratio { return &h.Left }),
}

var rackFields = []field[Rack]{
	placedList("offcuts", "lengths left over that can be cut again", offcutFields, func(r *Rack) *[]Offcut { return &r.Offcuts }, func(o *Offcut) *source.Pos { return &o.At }),
	placedList("pieces", "whole pieces on hand", heldFields, func(r *Rack) *[]Held { return &r.Pieces }, func(h *Held) *source.Pos { return &h.At }),
	placedList("cans", "finish on hand", heldCanFields, func(r *Rack) *[]HeldCan { return &r.Cans }, func(h *HeldCan) *source.Pos { return &h.At }),
}

// Wares are the kinds of part that have this name here.
func (j *Job) Wares(name string) (kinds []string) {
	for w := range j.wares() {
		if w.name == name {
			kinds = append(kinds, w.kind)
		}
	}
	return kinds
}

type ware struct{ kind, name string }

// wares are all parts within reach, by kind and name.
func (j *Job) wares() iter.Seq[ware] {
	return func(yield func(ware) bool) {
		_ = waresOf("baluster", j.Balusters, func(b *Baluster) string { return b.Name }, yield) &&
			waresOf("newel", j.Newels, func(n *Newel) string { return n.Name }, yield) &&
			waresOf("handrail", j.Handrails, func(h *Handrail) string { return h.Name }, yield) &&
			waresOf("shoe", j.Shoes, func(s *Shoe) string { return s.Name }, yield) &&
			waresOf("fillet", j.Fillets, func(f *Fillet) string { return f.Name }, yield) &&
			waresOf("rosette", j.Rosettes, func(r *Rosette) string { return r.Name }, yield) &&
			waresOf("bolt", j.Bolts, func(b *Bolt) string { return b.Name }, yield) &&
			waresOf("fixing", j.Fixings, func(f *Fixing) string { return f.Name }, yield) &&
			waresOf("finish", j.Coatings, func(f *Finish) string { return f.Name }, yield) &&
			waresOf("supply", j.supplyNames, func(name string) string { return name }, yield)
	}
}

// waresOf goes on while it is asked to.
func waresOf[T any](kind string, parts []T, name func(T) string, yield func(ware) bool) bool {
	for _, p := range parts {
		if !yield(ware{kind, name(p)}) {
			return false
		}
	}
	return true
}

// part checks the name of a part in a price list, on a rack or in a delivery. A shop's own lists serve other jobs too: a name there that this job does not know is passed over. False where
// there is nothing to go on with.
func (d *decoder) part(j *Job, layer source.Layer, part, kind Text, at source.Pos) bool {
	kinds := j.Wares(part.Text)
	switch {
	case !part.Given:
		d.at(at, 1, "add part: , its name", "a part without a name")
		return false
	case len(kinds) == 0:
		if layer == source.Job {
			var known []string
			for w := range j.wares() {
				known = append(known, w.name)
			}
			slices.Sort(known)
			d.missing(part, "part", slices.Compact(known))
		}
		return false
	case kind.Given && !slices.Contains(kinds, kind.Text):
		d.at(kind.At, len(kind.Text), "write kind: "+kinds[0], "there is no %s named %q", kind.Text, clip(part.Text))
	case !kind.Given && len(kinds) > 1:
		d.at(part.At, len([]rune(part.Text)), "add kind: "+kinds[0]+", or kind: "+kinds[1], "parts of two kinds are named %q", clip(part.Text))
	}
	return true
}

// supply checks the names of parts in price lists and racks.
func (d *decoder) supply(j *Job) {
	for _, s := range j.Suppliers {
		for _, o := range s.Offers {
			d.part(j, s.Layer, o.Part, o.Kind, o.At)
			d.coatKnown(j, o.Part, o.Coat)
		}
	}
	for _, r := range j.Racks {
		for _, o := range r.Offcuts {
			d.part(j, r.Layer, o.Part, o.Kind, o.At)
			if o.Long.Given && o.Long.Length <= 0 {
				d.at(o.Long.At, 1, "write its length, or take it off the list", "an offcut of nothing")
			}
		}
		for _, h := range r.Pieces {
			d.part(j, r.Layer, h.Part, h.Kind, h.At)
		}
		for _, c := range r.Cans {
			d.part(j, r.Layer, c.Finish, Text{Text: "finish", Given: true, At: c.Finish.At}, c.At)
			d.coatKnown(j, c.Finish, c.Coat)
		}
	}
}
