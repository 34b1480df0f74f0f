package finish

import (
	"strconv"
	"strings"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
)

// Drying is how long to wait, in minutes.
type Drying struct {
	Minutes int             // to reckon with: the longer of the written times, and longer in cold and damp; 0 while nothing is written
	Longer  bool            // than is written
	Figure  *working.Figure // of Minutes, in hours; nil while nothing is written
	Within  int             // the next coat goes on without sanding within so many minutes; 0 where nobody says
	Closed  bool            // that time is over before the coat is dry
}

// System is a finish that the job uses: how long its coats dry here, and when it bears hands and tape.
type System struct {
	Finish *job.Finish
	Coats  []Drying // as in the finish, each of coats alike
	Hands  Drying   // from the last coat until it is dry to the hand
	AsLast bool     // Hands is not written: no sooner than the last coat could be coated again
	Tape   Drying   // from the last coat until it takes tape and hard cleaning
}

// System finds a finish that is used; nil for another.
func (f *Finishing) System(of *job.Finish) *System {
	for i := range f.Systems {
		if of != nil && f.Systems[i].Finish == of {
			return &f.Systems[i]
		}
	}
	return nil
}

// system works out the times of a finish, once.
func (w *worker) system(f *job.Finish) *System {
	if s := w.out.System(f); s != nil {
		return s
	}
	s := System{Finish: f}
	for i := range f.Coats {
		c := &f.Coats[i]
		d := w.drying(f, c, c.Dries, strconv.Itoa(i+1), "how long the "+name(c)+" dries", "the "+name(c)+" dries, by its can", c.Status)
		if !c.Dries.Given {
			w.askFor(f.File, "how long the "+name(c)+" dries before the next coat; read the can", "coats: {dry: }", "when the next coat can go on", c.Dry.At)
		}
		if c.Within.Given {
			d.Within = c.Within.Least
			d.Closed = d.Minutes > d.Within
		}
		s.Coats = append(s.Coats, d)
	}
	if len(f.Coats) > 0 {
		last := &f.Coats[len(f.Coats)-1]
		s.Tape = w.drying(f, last, f.Tape, "tape", "how long "+finishTitle(f)+" cures before tape and hard cleaning", "until it takes tape, by its can", last.Status)
		s.Hands = w.drying(f, last, f.Hands, "hands", "how long "+finishTitle(f)+" dries before hands", "until it is dry to the hand, by its can", last.Status)
		if !f.Hands.Given {
			s.AsLast, s.Hands = true, s.Coats[len(s.Coats)-1]
			s.Hands.Within, s.Hands.Closed = 0, false
		}
	}
	w.out.Systems = append(w.out.Systems, s)
	return &w.out.Systems[len(w.out.Systems)-1]
}

const (
	hour    = 60 // minutes
	quarter = 4  // of an hour: what drying times are rounded up to
)

// drying is how long a coat dries in the air as it was read: the longer of the can's times, twice as long for so many degrees under the can's temperature, and longer where it is more humid than
// the can reckons. Air in which the coat may not go on counts as the worst in which it may. It is never reckoned shorter than written.
func (w *worker) drying(f *job.Finish, c *job.Coat, s job.Span, id, title, from string, status working.Status) (d Drying) {
	if !s.Given {
		return d
	}
	if status == 0 {
		status = working.CommonPractice
	}
	a, rule, limits := w.out.Air, c.Drying.Or(f.Drying).Or(w.job.Shop.Drying), c.Weather.Or(f.Weather).Or(w.job.Shop.Weather)
	cites := []working.Citation{{Text: "the time written for the finish; read the can", Status: status}}
	var e working.Expr = &working.Input{Symbol: "d", Name: from, Value: exact.New(int64(s.Most), hour), Unit: "h", At: s.At}
	temperature := func(symbol, name string, b job.Bound, of func(job.Ratio) exact.Number) *working.Input {
		return &working.Input{Symbol: symbol, Name: name, Value: of(b.Ratio), Unit: a.Unit, At: b.At}
	}
	var notes []string
	if a.Temperature != nil && rule.At.Given && rule.Doubles.Given && rule.Doubles.Thousandths > 0 {
		var t working.Expr = a.Temperature
		if a.Surface != nil {
			t = working.Least(t, a.Surface)
		}
		if limits.Least.Given {
			t = working.Greatest(t, temperature("T_1", "no coat goes on colder than this", limits.Least, w.degrees))
		}
		under := working.Difference(temperature("T_0", "temperature that the can's time holds at", rule.At, w.degrees), t)
		e = working.Product(e, working.Doubled(working.Greatest(working.Constant(0), working.Quotient(under, temperature("D", "so much colder, and it dries twice as long", rule.Doubles, w.apart)))))
		cites = append(cites, working.Citation{Text: "twice as long for each " + tenths(w.apart(rule.Doubles.Ratio)) + " " + a.Unit + " under " + tenths(w.degrees(rule.At.Ratio)) + " " + a.Unit, Status: rule.Doubles.Status})
	}
	if h0, h1, k := rule.AtHumidity, limits.Humidity, rule.Damp; a.Humidity != nil && h0.Given && h1.Given && k.Given && h1.Thousandths > h0.Thousandths && k.Thousandths > 1000 {
		percent := func(symbol, name string, b job.Bound) *working.Input {
			return &working.Input{Symbol: symbol, Name: name, Value: thousandths(b.Ratio), Unit: "%", At: b.At}
		}
		low := percent("H_0", "humidity that the can's time holds up to", h0)
		over := working.Quotient(working.Difference(a.Humidity, low), working.Difference(percent("H_1", "the most humid that it may go on in", h1), low))
		times := &working.Input{Symbol: "k", Name: "times as long in the most humid air", Value: thousandths(k.Ratio), At: k.At}
		e = working.Product(e, working.Sum(working.Constant(1), working.Product(working.Difference(times, working.Constant(1)), working.Greatest(working.Constant(0), working.Least(working.Constant(1), over)))))
		cites = append(cites, working.Citation{Text: "up to " + working.Decimal(thousandths(k.Ratio)) + " times as long from " + tenths(thousandths(h0.Ratio)) + " to " + tenths(thousandths(h1.Ratio)) + " % humidity, in a straight line", Status: k.Status})
	}
	if a.Temperature == nil {
		notes = append(notes, "The air was not read: this is the can's own time, in the can's own air.")
	} else if !a.ForCoating {
		notes = append(notes, "In the air as it was read when the guard was measured.")
	}
	up := (&working.Input{Symbol: "r", Name: "rounded up to a quarter of an hour", Value: exact.New(1, quarter), Unit: "h"}).Because("so that nobody waits for a minute")
	d.Figure = working.Work("coating/"+f.Name+"/"+id, title, "t_"+strings.ReplaceAll(id, "-", "_"), "h", working.RoundTo(e, up, length.Up), cites...)
	d.Figure.Note = strings.Join(notes, " ")
	if !d.Figure.Value.Known() { // more than can be counted: nothing is reckoned
		d.Figure = nil
		return d
	}
	w.out.Figures = append(w.out.Figures, d.Figure)
	const most = 1_000_000_000 // minutes; beyond, the rule was written wrong
	n, whole := d.Figure.Value.Mul(exact.Of(hour)).Int64()
	if !whole || n > most {
		return d
	}
	d.Minutes = int(n)
	d.Longer = d.Minutes >= s.Most+hour/quarter
	return d
}
