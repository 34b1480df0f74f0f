package job

import (
	"slices"
	"strconv"

	"balustrade/jobbook/working"
)

// Weather is what air and wood must be like while a coat goes on and dries.
type Weather struct {
	Least    Bound // temperature of air and wood
	Most     Bound
	Humidity Bound // at most so much, per cent
	Dew      Bound // the wood at least so much over the dew point
	Status   working.Status
}

// DryingRule is how much longer a coat dries than the can says where it is cold and damp.
type DryingRule struct {
	At         Bound // temperature that the can's times hold at
	Doubles    Bound // so much colder, and it takes twice as long
	AtHumidity Bound // relative humidity that the can's times hold up to, per cent
	Damp       Bound // how many times as long at the most humidity that it may go on in
	Status     working.Status
}

// Or is the weather itself, filled up key by key from a farther one. What has no status is the shop's own word.
func (w Weather) Or(far Weather) Weather {
	w, far = w.stamped(), far.stamped()
	return Weather{Least: w.Least.or(far.Least), Most: w.Most.or(far.Most), Humidity: w.Humidity.or(far.Humidity), Dew: w.Dew.or(far.Dew)}
}

func (w Weather) stamped() Weather {
	for _, b := range []*Bound{&w.Least, &w.Most, &w.Humidity, &w.Dew} {
		b.stamp(w.Status)
	}
	return w
}

// Or is the rule itself, filled up key by key from a farther one.
func (r DryingRule) Or(far DryingRule) DryingRule {
	r, far = r.stamped(), far.stamped()
	return DryingRule{At: r.At.or(far.At), Doubles: r.Doubles.or(far.Doubles), AtHumidity: r.AtHumidity.or(far.AtHumidity), Damp: r.Damp.or(far.Damp)}
}

func (r DryingRule) stamped() DryingRule {
	for _, b := range []*Bound{&r.At, &r.Doubles, &r.AtHumidity, &r.Damp} {
		b.stamp(r.Status)
	}
	return r
}

// Bound is a number of the weather or of the drying rule, and how sure it is.
type Bound struct {
	Ratio
	Status working.Status
}

func (b *Bound) stamp(s working.Status) {
	if b.Status == 0 {
		b.Status = s
	}
	if b.Status == 0 {
		b.Status = working.Local
	}
}

func (b Bound) or(far Bound) Bound {
	if b.Given {
		return b
	}
	return far
}

var weatherFields = []field[Weather]{
	ratioField("least", "no colder than this, air and wood", TemperatureUnits, func(w *Weather) *Ratio { return &w.Least.Ratio }),
	ratioField("most", "no warmer than this; no limit where absent", TemperatureUnits, func(w *Weather) *Ratio { return &w.Most.Ratio }),
	ratioField("humidity", "relative humidity no higher than this", []string{"%"}, func(w *Weather) *Ratio { return &w.Humidity.Ratio }),
	ratioField("over-dew-point", "the wood at least so many degrees warmer than the dew point", TemperatureUnits, func(w *Weather) *Ratio { return &w.Dew.Ratio }),
	statusField("status", "how sure these are; local where absent", func(w *Weather) *working.Status { return &w.Status }),
}

var dryingFields = []field[DryingRule]{
	ratioField("at", "temperature that the can's times hold at; warmer is not reckoned shorter", TemperatureUnits, func(r *DryingRule) *Ratio { return &r.At.Ratio }),
	ratioField("doubles", "so many degrees colder, and it dries twice as long", TemperatureUnits, func(r *DryingRule) *Ratio { return &r.Doubles.Ratio }),
	ratioField("at-humidity", "relative humidity that the can's times hold up to", []string{"%"}, func(r *DryingRule) *Ratio { return &r.AtHumidity.Ratio }),
	ratioField("damp", "how many times as long it dries in the most humid air that it may go on in; in between in a straight line", []string{""}, func(r *DryingRule) *Ratio { return &r.Damp.Ratio }),
	statusField("status", "how sure these are; local where absent", func(r *DryingRule) *working.Status { return &r.Status }),
}

func weatherField[T any](doc string, at func(*T) *Weather) field[T] {
	return mapField("weather", doc, weatherFields, at)
}

func dryingField[T any](doc string, at func(*T) *DryingRule) field[T] {
	return mapField("drying", doc, dryingFields, at)
}

// Strips are what balusters stand on while they are coated: strips of lumber with a screw for each.
type Strips struct {
	Long   Measure
	Pitch  Measure // from one baluster to the next
	Count  Whole   // on hand
	Apart  Measure // from one strip to the next
	Turns  Whole   // how many goes a coat takes: two where one side dries before the other is coated
	Minute Ratio   // to coat one baluster once
}

// Horses are what rails, shoes and posts lie on.
type Horses struct {
	Pairs  Whole
	Wide   Measure // that can be laid on
	Apart  Measure // between pieces
	Turns  Whole
	Minute Ratio // to coat one piece once
}

// or takes all of the nearer shop's strips: half of one rack and half of another are no rack.
func (s Strips) or(far Strips) Strips {
	if s == (Strips{}) {
		return far
	}
	return s
}

func (h Horses) or(far Horses) Horses {
	if h == (Horses{}) {
		return far
	}
	return h
}

var stripsFields = []field[Strips]{
	lengthField("long", "length of one strip", func(s *Strips) *Measure { return &s.Long }),
	lengthField("pitch", "from one baluster to the next on it", func(s *Strips) *Measure { return &s.Pitch }),
	wholeField("count", "strips on hand", 1, 1000, func(s *Strips) *Whole { return &s.Count }),
	lengthField("apart", "from one strip to the next, for the brush and for you", func(s *Strips) *Measure { return &s.Apart }),
	wholeField("turns", "goes that a coat takes: 1 where they stand, 2 where one side dries before the other is coated; one where absent", 1, 4, func(s *Strips) *Whole { return &s.Turns }),
	ratioField("minutes", "to coat one baluster once", []string{"", "min"}, func(s *Strips) *Ratio { return &s.Minute }),
}

var horsesFields = []field[Horses]{
	wholeField("pairs", "pairs of horses on hand", 1, 1000, func(h *Horses) *Whole { return &h.Pairs }),
	lengthField("wide", "that can be laid on, of one pair", func(h *Horses) *Measure { return &h.Wide }),
	lengthField("apart", "between one piece and the next", func(h *Horses) *Measure { return &h.Apart }),
	wholeField("turns", "goes that a coat takes: 1 where pieces hang or lie on points, 2 where one side dries before the other is coated; one where absent", 1, 4, func(h *Horses) *Whole { return &h.Turns }),
	ratioField("minutes", "to coat one piece once", []string{"", "min"}, func(h *Horses) *Ratio { return &h.Minute }),
}

// Supplies are how far sandpaper and tape go, and how many brushes and rags are used up.
type Supplies struct {
	Sheet   Ratio   // surface that a sheet sands once
	Roll    Measure // length of a roll of masking tape
	Brushes Whole   // for each finish
	Rags    Whole   // for each coat of each finish
	Status  working.Status

	BrushStatus, RagStatus working.Status // how sure each is: local where it is the shop's own
}

// or fills what is not given up from the farther settings.
func (s Supplies) or(far Supplies) Supplies {
	own := s.Status
	if own == 0 {
		own = working.Local
	}
	s.BrushStatus, s.RagStatus = own, own
	if !s.Sheet.Given {
		s.Sheet = far.Sheet
	}
	if !s.Brushes.Given {
		s.Brushes, s.BrushStatus = far.Brushes, far.BrushStatus
	}
	if !s.Rags.Given {
		s.Rags, s.RagStatus = far.Rags, far.RagStatus
	}
	s.Roll = s.Roll.Or(far.Roll)
	return s
}

// Names of supplies in price lists and on racks; that of sandpaper goes on with its grit.
const (
	Sandpaper   = "sandpaper-"
	MaskingTape = "masking-tape"
	Brush       = "brush"
	Rag         = "rag"
)

// supplies are the names of all supplies that the finishes within reach can ask for.
func (j *Job) supplies() []string {
	var grits []int
	for _, f := range j.Coatings {
		for _, s := range f.Bare {
			for _, g := range s.Grits {
				grits = append(grits, g.N)
			}
		}
		for _, c := range f.Coats {
			if c.Grit.Given {
				grits = append(grits, c.Grit.N)
			}
		}
	}
	slices.Sort(grits)
	names := []string{MaskingTape, Brush, Rag}
	for _, g := range slices.Compact(grits) {
		names = append(names, Sandpaper+strconv.Itoa(g))
	}
	return names
}

var suppliesFields = []field[Supplies]{
	ratioField("sheet", "surface that one sheet of sandpaper sands once", []string{"sq ft", "m2"}, func(s *Supplies) *Ratio { return &s.Sheet }),
	lengthField("roll", "length of one roll of masking tape", func(s *Supplies) *Measure { return &s.Roll }),
	wholeField("brushes", "brushes that are bought for each finish", 0, 1000, func(s *Supplies) *Whole { return &s.Brushes }),
	wholeField("rags", "rags that are used up for each coat of each finish", 0, 1000, func(s *Supplies) *Whole { return &s.Rags }),
	statusField("status", "how sure the numbers of brushes and rags are; local where absent", func(s *Supplies) *working.Status { return &s.Status }),
}

// coatingSettings are the shop's ways of coating.
var coatingSettings = []field[Settings]{
	weatherField("what the air must be like for any coat", func(s *Settings) *Weather { return &s.Weather }),
	dryingField("how much longer coats dry in cold and damp than the can says", func(s *Settings) *DryingRule { return &s.Drying }),
	mapField("strips", "what balusters stand on while they are coated; batches are not reckoned where absent", stripsFields, func(s *Settings) *Strips { return &s.Strips }),
	mapField("horses", "what rails, shoes and posts lie on while they are coated", horsesFields, func(s *Settings) *Horses { return &s.Horses }),
	mapField("supplies", "how far sandpaper and tape go, and how many brushes and rags are used up; sandpaper and tape are not counted where absent", suppliesFields, func(s *Settings) *Supplies { return &s.Supplies }),
}
