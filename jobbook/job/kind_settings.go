package job

import (
	"balustrade/jobbook/source"
)

// Settings are the shop's ways: nearest wins key by key, so that a shop need only write what differs from the library's.
type Settings struct {
	Tolerance Tolerance
	Division  Measure // of marks and cuts, in inches
	DivisionM Measure // of marks and cuts, in millimetres
	Fit       Measure // taken off a baluster so that it goes in
	Loose     Measure // the most play that a baluster or a fillet may have in its plow
	Hold      Measure // the least of a baluster that is to be left in its plow or hole
	Scribe    Measure // the most that a shoe is scribed; beyond, balusters are cut to their own lengths
	Plumb     Measure // how far two clears may differ before a post or wall is called out of plumb; the job's division where absent
	Spare     Ratio   // balusters ordered beyond those needed, per cent
	Alike     Measure // cut lengths that differ by no more than this are cut alike, to the shortest
	Hole      Measure // how much wider than its pin a hole is bored
	HoleDeep  Measure // how much deeper
	Room      Measure // the least gap beside a new baluster between old ones
	Reveal    Measure // how much of a newel's block stands over the highest rail
	Rates     Rates
	Calendar  Calendar   // usual hours and crew
	Name      Text       // of the shop, for the client
	Contact   Text       // where it is reached
	Currency  Text       // sign of the money that prices are in
	Kerf      Measure    // width of a saw cut
	EndTrim   Measure    // taken off each end of a bought stick, to get behind checks and staples
	Rough     Measure    // what rails and shoes are cut longer off the stick, to be fitted
	Within    Measure    // how far off its length a piece may be and be used as it is
	Keep      Measure    // an offcut this long is worth keeping
	Bow       Measure    // the most that a piece may be bowed
	Settled   Ratio      // how near the moisture of delivered wood must be to what it comes to in the room, in points
	Sticks    []Measure  // lengths that sticks are sold in where no supplier says, of jobs in inches
	SticksM   []Measure  // the same, of jobs in millimetres
	Weather   Weather    // what the air must be like for any coat
	Drying    DryingRule // how much longer coats dry in cold and damp
	Strips    Strips
	Horses    Horses
	Supplies  Supplies
	Retighten Retighten
	Files     []source.Pos
}

var settingsFields = append([]field[Settings]{
	toleranceField("what may go wrong at each baluster", func(s *Settings) *Tolerance { return &s.Tolerance }),
	lengthField("division", "marks and cuts of jobs in inches are rounded to this", func(s *Settings) *Measure { return &s.Division }),
	lengthField("division-mm", "marks and cuts of jobs in millimetres are rounded to this", func(s *Settings) *Measure { return &s.DivisionM }),
	lengthField("fit", "taken off a baluster's length so that it goes in between two plows", func(s *Settings) *Measure { return &s.Fit }),
	lengthField("loose", "the most that a plow may be wider than the baluster or the fillet that stands in it; not judged where absent", func(s *Settings) *Measure { return &s.Loose }),
	lengthField("hold", "the least of a baluster that is still in its plow or its hole when fit, rounding and marking all go against it", func(s *Settings) *Measure { return &s.Hold }),
	lengthField("scribe", "the most a shoe is scribed to a floor out of level; beyond it each baluster gets its own length", func(s *Settings) *Measure { return &s.Scribe }),
	lengthField("plumb", "two clears that differ by more than this show a post or wall out of plumb; the job's division where absent", func(s *Settings) *Measure { return &s.Plumb }),
	lengthField("alike", "lengths of balusters that differ by no more than this are cut alike, to the shortest of them", func(s *Settings) *Measure { return &s.Alike }),
	lengthField("hole", "how much wider than its pin a hole is bored", func(s *Settings) *Measure { return &s.Hole }),
	lengthField("hole-deep", "how much deeper than its pin a hole is bored, for the glue", func(s *Settings) *Measure { return &s.HoleDeep }),
	lengthField("room", "the least gap beside a new baluster between old ones, so that a drill and a driver still go in", func(s *Settings) *Measure { return &s.Room }),
	lengthField("reveal", "how much of a newel's block is to stand over the highest rail that meets it", func(s *Settings) *Measure { return &s.Reveal }),
	mapField("calendar", "the shop's usual hours and crew", workFields, func(s *Settings) *Calendar { return &s.Calendar }),
	mapField("rates", "what prices are reckoned with", rateFields, func(s *Settings) *Rates { return &s.Rates }),
	textField("name", "the shop's name, for the client's document", func(s *Settings) *Text { return &s.Name }),
	textField("contact", "where the shop is reached, for the client's document", func(s *Settings) *Text { return &s.Contact }),
	mapField("retighten", "when bolts are tightened for the first time: after the first heating season; no day is worked out where absent", retightenFields, func(s *Settings) *Retighten { return &s.Retighten }),
	textField("currency", "sign of the money that prices are in", func(s *Settings) *Text { return &s.Currency }),
	lengthField("kerf", "width of a saw cut", func(s *Settings) *Measure { return &s.Kerf }),
	lengthField("end-trim", "taken off each end of a bought stick", func(s *Settings) *Measure { return &s.EndTrim }),
	lengthField("rough", "how much longer than they are to be, rails and shoes are cut off the stick, to be fitted", func(s *Settings) *Measure { return &s.Rough }),
	lengthField("within", "how far off its length a piece that is cut already may be and be used as it is", func(s *Settings) *Measure { return &s.Within }),
	lengthField("keep", "an offcut this long is worth keeping", func(s *Settings) *Measure { return &s.Keep }),
	percentField("settled", "how near the moisture of delivered wood must be to what it comes to in the room, in points of a per cent", 100, func(s *Settings) *Ratio { return &s.Settled }),
	lengthField("bow", "the most that a delivered piece may be bowed; not judged where absent", func(s *Settings) *Measure { return &s.Bow }),
	lengthsField("sticks", "lengths that rails, shoes and fillets are sold in where no supplier says, for jobs in inches", func(s *Settings) *[]Measure { return &s.Sticks }),
	lengthsField("sticks-mm", "the same, for jobs in millimetres", func(s *Settings) *[]Measure { return &s.SticksM }),
	percentField("spare", "balusters ordered beyond those needed: at least one, but none for 0 %", 100, func(s *Settings) *Ratio { return &s.Spare }),
}, coatingSettings...)

// nearest lays settings of a nearer layer over those of a farther one, key by key.
func (s *Settings) nearest(near Settings) {
	s.Tolerance = near.Tolerance.Or(s.Tolerance)
	for _, m := range []struct {
		to   *Measure
		from Measure
	}{{&s.Division, near.Division}, {&s.DivisionM, near.DivisionM}, {&s.Fit, near.Fit}, {&s.Loose, near.Loose}, {&s.Hold, near.Hold}, {&s.Scribe, near.Scribe}, {&s.Plumb, near.Plumb}, {&s.Alike, near.Alike}, {&s.Hole, near.Hole}, {&s.HoleDeep, near.HoleDeep}, {&s.Reveal, near.Reveal}, {&s.Room, near.Room}, {&s.Kerf, near.Kerf}, {&s.EndTrim, near.EndTrim}, {&s.Bow, near.Bow}, {&s.Keep, near.Keep}, {&s.Within, near.Within}, {&s.Rough, near.Rough}} {
		*m.to = m.from.Or(*m.to)
	}
	if near.Settled.Given {
		s.Settled = near.Settled
	}
	s.Rates = near.Rates.Or(s.Rates)
	s.Calendar = near.Calendar.usual(s.Calendar)
	s.Currency = near.Currency.Or(s.Currency)
	s.Name, s.Contact = near.Name.Or(s.Name), near.Contact.Or(s.Contact)
	if len(near.Sticks) > 0 {
		s.Sticks = near.Sticks
	}
	if len(near.SticksM) > 0 {
		s.SticksM = near.SticksM
	}
	if near.Spare.Given {
		s.Spare = near.Spare
	}
	s.Weather, s.Drying = near.Weather.Or(s.Weather), near.Drying.Or(s.Drying)
	s.Strips, s.Horses = near.Strips.or(s.Strips), near.Horses.or(s.Horses)
	if near.Retighten != (Retighten{}) {
		s.Retighten = near.Retighten
	}
	s.Supplies = near.Supplies.or(s.Supplies)
}
