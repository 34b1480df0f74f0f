package finish

import (
	"strings"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Air is the air that coats go on and dry in, as far as it was read.
type Air struct {
	ForCoating  bool            // read where coats go on; else as it was when the guard was measured
	Temperature *working.Input  // in Unit; nil while it was not read
	Humidity    *working.Input  // per cent; likewise
	Surface     *working.Input  // of the wood, in Unit; nil while it was not read
	Dew         *working.Figure // dew point in Unit, to a tenth and rounded up; nil while it is not known
	Unit        string          // °F for a job in inches, °C for one in millimetres
}

// magnus is the formula for the dew point, with the coefficients over water: good for -45 to 60 °C.
var magnus = working.Citation{Text: "Magnus formula with the coefficients of WMO-No. 8, Guide to Instruments and Methods of Observation, part I, annex 4.B", Status: working.Published}

const (
	magnusLeast = -45 // °C
	magnusMost  = 60
	celsiusZero = 32 // °F
)

func inCelsius(unit string) bool { return strings.HasSuffix(unit, "C") }

// degrees is a temperature in the job's unit.
func (w *worker) degrees(r job.Ratio) exact.Number {
	t := thousandths(r)
	switch {
	case inCelsius(r.Unit) == inCelsius(w.out.Air.Unit):
	case inCelsius(r.Unit):
		t = t.Mul(exact.New(9, 5)).Add(exact.Of(celsiusZero))
	default:
		t = t.Sub(exact.Of(celsiusZero)).Mul(exact.New(5, 9))
	}
	return t
}

// apart is a difference of temperatures in the job's unit.
func (w *worker) apart(r job.Ratio) exact.Number {
	t := thousandths(r)
	switch {
	case inCelsius(r.Unit) == inCelsius(w.out.Air.Unit):
	case inCelsius(r.Unit):
		t = t.Mul(exact.New(9, 5))
	default:
		t = t.Mul(exact.New(5, 9))
	}
	return t
}

// air takes the air that coats go on in: as it was read there, or else as it was when the guard was measured.
func (w *worker) air() {
	a := &w.out.Air
	a.Unit = "°F"
	if w.job.System == length.Millimetres {
		a.Unit = "°C"
	}
	c := w.job.Climate
	read, place := c.Coating.Air, "where coats go on"
	a.ForCoating = read.Given()
	if !a.ForCoating {
		read, place = c.Now, "of the room, when the guard was measured"
	}
	if !read.Given() {
		return
	}
	h := thousandths(read.Humidity)
	if h.Sign() <= 0 || h.Cmp(exact.Of(100)) > 0 {
		w.askFor(w.job.File, "a relative humidity "+place+" of more than nothing and no more than 100 %", "air: {coating: {humidity: }}", "the dew point, and how long coats dry", read.Humidity.At)
		return
	}
	a.Temperature = &working.Input{Symbol: "T", Name: "temperature " + place, Value: w.degrees(read.Temperature), Unit: a.Unit, At: read.Temperature.At}
	a.Humidity = &working.Input{Symbol: "H", Name: "relative humidity " + place, Value: h, Unit: "%", At: read.Humidity.At}
	if s := c.Coating.Surface; s.Given && a.ForCoating {
		a.Surface = &working.Input{Symbol: "T_w", Name: "temperature of the wood", Value: w.degrees(s), Unit: a.Unit, At: s.At}
	}
	w.dewPoint(a)
}

// coefficient is a number of a published formula, in decimals.
func coefficient(symbol, decimals, unit string) *working.Input {
	r, _ := exact.Parse(decimals)
	return (&working.Input{Symbol: symbol, Name: "coefficient", Value: r, Unit: unit}).Because("the formula")
}

// dewPoint is where this air, cooled, begins to leave water on a surface.
func (w *worker) dewPoint(a *Air) {
	work := func(id, title, symbol, unit string, e working.Expr) *working.Figure {
		f := working.Work("coating/"+id, title, symbol, unit, e, magnus)
		w.out.Figures = append(w.out.Figures, f)
		return f
	}
	t := a.Temperature
	fahrenheit := !inCelsius(a.Unit)
	celsius := t.Value
	if fahrenheit {
		celsius = celsius.Sub(exact.Of(celsiusZero)).Mul(exact.New(5, 9))
	}
	if celsius.Cmp(exact.Of(magnusLeast)) < 0 || celsius.Cmp(exact.Of(magnusMost)) > 0 {
		w.askFor(w.job.File, "a temperature where coats go on that one can work in", "air: {coating: {temperature: }}", "the dew point, and how long coats dry", t.At)
		return
	}
	if fahrenheit {
		t = work("celsius", "temperature in degrees Celsius", "t", "°C", working.Quotient(working.Product(working.Difference(t, working.Constant(celsiusZero)), working.Constant(5)), working.Constant(9))).In()
	}
	b, c := coefficient("b", "17.62", ""), coefficient("c", "243.12", "°C")
	gamma := work("gamma", "g of the dew point formula", "g", "", working.Sum(working.Logarithm(working.Quotient(a.Humidity, working.Constant(100))), working.Quotient(working.Product(b, t), working.Sum(c, t))))
	dew := working.Quotient(working.Product(c, gamma.In()), working.Difference(b, gamma.In()))
	if fahrenheit {
		dew = working.Sum(working.Quotient(working.Product(dew, working.Constant(9)), working.Constant(5)), working.Constant(celsiusZero))
	}
	tenth := coefficient("r", "0.1", a.Unit).Because("rounded up to a tenth of a degree")
	if f := work("dew-point", "dew point", "T_d", a.Unit, working.RoundTo(dew, tenth, length.Up)); f.Value.Known() {
		a.Dew = f
	}
}

// strictest is the weather that suits every coat of a finish.
func (w *worker) strictest(f *job.Finish) job.Weather {
	all := f.Weather.Or(w.job.Shop.Weather)
	for _, c := range f.Coats {
		x := c.Weather.Or(f.Weather).Or(w.job.Shop.Weather)
		for _, b := range []struct {
			to   *job.Bound
			from job.Bound
			of   func(job.Ratio) exact.Number
			sign int
		}{{&all.Least, x.Least, w.degrees, 1}, {&all.Most, x.Most, w.degrees, -1}, {&all.Humidity, x.Humidity, thousandths, -1}, {&all.Dew, x.Dew, w.apart, 1}} {
			if b.from.Given && (!b.to.Given || b.of(b.from.Ratio).Cmp(b.of(b.to.Ratio)) == b.sign) {
				*b.to = b.from
			}
		}
	}
	return all
}

// airFinding judges the air that a finish goes on in. It passes only where the air and the wood were read where coats go on.
func (w *worker) airFinding(f *job.Finish) finding.Finding {
	a, limits := w.out.Air, w.strictest(f)
	const key = "air: {coating: {temperature: , humidity: , surface: }}"
	out := finding.Finding{ID: "check/coating/" + f.Name + "/air", Group: coatingGroup, Title: "air for " + finishTitle(f), Rules: "limits for coating", At: source.Pos{File: w.job.File}}
	if a.Temperature != nil {
		out.At = a.Temperature.At
	}
	var bounds []job.Bound
	for _, b := range []job.Bound{limits.Least, limits.Most, limits.Humidity, limits.Dew} {
		if b.Given {
			bounds = append(bounds, b)
			out.Status = max(out.Status, b.Status)
		}
	}
	if len(bounds) > 0 {
		out.Set = bounds[0].At
	}
	switch {
	case len(bounds) == 0:
		out.Verdict, out.Note = finding.ToBeMeasured, "no limits are written for it: which air it wants is on the can"
		return out
	case a.Temperature == nil:
		out.Verdict, out.Note = finding.ToBeMeasured, "the air was not read where coats go on"
		w.askFor(w.job.File, "temperature and humidity where coats go on, and how warm the wood is there", key, "whether it can be coated there, and how long it dries", w.job.Climate.Coating.Temperature.At)
		return out
	}
	var words []string
	failed, open := false, false
	say := func(bad bool, text string) {
		failed = failed || bad
		words = append(words, text)
	}
	degrees := func(r exact.Number) string { return tenths(r) + " " + a.Unit }
	if b := limits.Least; b.Given {
		say(a.Temperature.Value.Cmp(w.degrees(b.Ratio)) < 0, degrees(a.Temperature.Value)+" where at least "+degrees(w.degrees(b.Ratio))+" is wanted")
	}
	if b := limits.Most; b.Given {
		say(a.Temperature.Value.Cmp(w.degrees(b.Ratio)) > 0, degrees(a.Temperature.Value)+" where at most "+degrees(w.degrees(b.Ratio))+" is wanted")
	}
	if b := limits.Humidity; b.Given {
		say(a.Humidity.Value.Cmp(thousandths(b.Ratio)) > 0, tenths(a.Humidity.Value)+" % humidity where at most "+tenths(thousandths(b.Ratio))+" % is wanted")
	}
	if b := limits.Dew; b.Given {
		if a.Dew == nil {
			open = true
			say(false, "the dew point is not known")
		} else {
			s := w.surface(f, b)
			out.Figure = s.ID
			text := "dew point " + degrees(a.Dew.Value) + ", so the wood has to be at least " + degrees(s.Value)
			if a.Surface == nil {
				open = true
				say(false, text+"; it was not read")
			} else {
				say(a.Surface.Value.Cmp(s.Value) < 0, text+"; it is "+degrees(a.Surface.Value))
			}
		}
	}
	if b := limits.Least; b.Given && a.Surface != nil && a.Surface.Value.Cmp(w.degrees(b.Ratio)) < 0 {
		say(true, "the wood is "+degrees(a.Surface.Value)+" where at least "+degrees(w.degrees(b.Ratio))+" is wanted")
	}
	out.Note = strings.Join(words, "; ")
	const cure = "warm the room and the wood, or dry the air, and read both again; or wait for another day"
	switch {
	case !a.ForCoating:
		would := "it would do"
		if failed {
			would, out.Cure = "no coat goes on", cure
		}
		out.Verdict, out.Note = finding.ToBeMeasured, "as the air was when the guard was measured, "+would+": "+out.Note
		w.askFor(w.job.File, "temperature and humidity where coats go on, and how warm the wood is there", key, "whether it can be coated there, and how long it dries", w.job.Climate.Coating.Temperature.At)
	case failed:
		out.Verdict, out.Cure = finding.Fail, cure
	case open:
		out.Verdict = finding.ToBeMeasured
		w.askFor(w.job.File, "how warm the wood is where coats go on", "air: {coating: {surface: }}", "whether it can be coated there: a cold surface takes dew before the air feels damp", w.job.Climate.Coating.Surface.At)
	case out.Status == working.Memory:
		out.Verdict = finding.AskAuthority
	default:
		out.Verdict = finding.Pass
	}
	return out
}

// surface is how warm the wood has to be at least for a finish.
func (w *worker) surface(f *job.Finish, b job.Bound) *working.Figure {
	over := &working.Input{Symbol: "D", Name: "the wood at least so much over the dew point", Value: w.apart(b.Ratio), Unit: w.out.Air.Unit, At: b.At}
	s := working.Work("coating/"+f.Name+"/surface", "how warm the wood has to be for "+finishTitle(f), "T_s", w.out.Air.Unit, working.Sum(w.out.Air.Dew.In(), over), working.Citation{Text: "margin over the dew point", Status: b.Status})
	w.out.Figures = append(w.out.Figures, s)
	return s
}

// tenths prints a number to a tenth, the nearest.
func tenths(r exact.Number) string { return strings.TrimSuffix(r.Fixed(1), ".0") }

// askFor names a reading that coating waits for. It holds up no surface and no can.
func (w *worker) askFor(file, what, key, why string, at source.Pos) {
	before := len(w.out.Missing)
	w.ask(file, what, key, why, at)
	for i := before; i < len(w.out.Missing); i++ {
		w.out.Missing[i].Group = coatingGroup
	}
}

func finishTitle(f *job.Finish) string { return f.Title.Or(job.Text{Text: f.Name}).Text }
