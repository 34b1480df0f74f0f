package finish

import (
	"strconv"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/working"
)

// films judges balusters with their coats against the plows that they stand in: a baluster that goes in bare may not once it is painted. How thick a dry coat is stands on its can; while nobody says,
// the finding is open wherever the coats as wet as they go on, which is thicker than dry, would be too thick for the plow. A groove is judged once, however many runs have it.
func (w *worker) films() {
	var f *job.Finish
	for _, u := range w.job.Finishes {
		if u.Group == "balusters" {
			f = u.Part
		}
	}
	if f == nil || len(f.Coats) == 0 {
		return
	}
	type fit struct{ baluster, groove, part string }
	done := map[fit]bool{}
	for _, r := range w.layout.Runs {
		b := r.Job.Baluster
		if b == nil || !b.Sized {
			continue
		}
		stations := b.Profile.Stations
		judge := func(groove, part string, plow job.Measure, end profile.Station) {
			key, wide := fit{b.Name, groove, part}, end.Width
			if !plow.Given || done[key] || wide > plow.Length { // bare already too wide: the run says so
				return
			}
			done[key] = true
			if b.Gauged(end) && b.Widest.Length <= plow.Length { // the widest that came has to go in too; where it does not bare, the delivery says so
				wide = max(wide, b.Widest.Length)
			}
			w.film(f, b, groove, part, plow, wide)
		}
		if s := r.Job.Shoe; s != nil && b.Bottom.Text != "pin" && b.Bottom.Text != "let in" {
			judge("shoe", s.Name, s.Plow.Wide, stations[0])
		}
		if h := r.Job.Handrail; h != nil && b.Top.Text != "pin" {
			judge("handrail", h.Name, h.Plow.Wide, stations[len(stations)-1])
		}
	}
}

// film is one baluster in one groove.
func (w *worker) film(f *job.Finish, b *job.Baluster, groove, part string, plow job.Measure, wide length.Length) {
	id := "coating/" + f.Name + "/film/" + b.Name + "/" + groove + "/" + part
	title := b.Title.Or(job.Text{Text: b.Name}).Text
	out := finding.Finding{
		ID: "check/" + id, Group: coatingGroup, Title: "ends of " + title + ", with their coats, in the plow of " + part, Rules: "sizes that must go together",
		Set: plow.At, At: b.Wide.At, Status: working.Derived,
	}
	var films []working.Expr
	coats := 0
	for i := range f.Coats {
		c := &f.Coats[i]
		n := max(c.Times.N, 1)
		coats += n
		if c.Film.Given {
			films = append(films, working.Product(working.Constant(int64(n)), working.Length("d_"+strconv.Itoa(i+1), "one dry coat of "+name(c), c.Film.Length, w.job.System, c.Film.At)))
		}
	}
	if len(films) == len(f.Coats) {
		both := working.Product(working.Constant(2), working.Total(films)) // a side has its coats, and so has the one across from it
		fig := working.Work(id, "width of the ends of "+title+" with the coats on both sides", "w", w.job.System.String(),
			working.Sum(working.Length("b", "bare", wide, w.job.System, b.Wide.At), both), working.Citation{Text: "films as written for the finish; read the can", Status: working.Derived})
		w.out.Figures = append(w.out.Figures, fig)
		value := fig.Exact(w.job.System)
		out.Verdict, out.Measured, out.HasValue, out.Op, out.Limit, out.HasLimit, out.Figure = finding.Pass, value, true, finding.AtMost, plow.Length, true, fig.ID
		out.Margin = out.Op.Margin(value, plow.Length)
		if !out.Op.Holds(value, plow.Length) {
			out.Verdict, out.Cure = finding.Fail, "ease the ends by what the coats add before they are coated, or leave what goes into the plow bare; try one at dry fit"
		}
		w.out.Findings = append(w.out.Findings, out)
		return
	}
	if thickest, known := wet(f); known && wide+2*thickest <= plow.Length {
		return
	}
	out.Verdict = finding.ToBeMeasured
	play := "bare it fills the plow"
	if left := plow.Length - wide; left > 0 {
		play = "bare it has " + layout.Tape(left, w.job.System, w.job.Division.Length) + " of play there"
	}
	many := strconv.Itoa(coats) + " coats"
	if coats == 1 {
		many = "1 coat"
	}
	if b.Widest.Length > plow.Length && wide == b.Wide.Length {
		play += ", but for the widest that came, which do not go in bare"
	}
	out.Note = play + "; " + many + " of " + finishTitle(f) + " on either side come to it, and how thick they dry nobody says: try a coated one in the plow at dry fit, or write film: to each coat, as its can has it"
	w.out.Findings = append(w.out.Findings, out)
}

// wet is how thick all coats of a finish are together on one side, as wet as they go on: what a measure holds, spread over what it covers. Derived; nothing is taken off for what is lost or dries away.
func wet(f *job.Finish) (thick length.Length, known bool) {
	for i := range f.Coats {
		c := &f.Coats[i]
		if !c.Coverage.Given || c.Coverage.Thousandths <= 0 {
			return 0, false
		}
		one := exact.New(int64(length.Millimetre)*1000, c.Coverage.Thousandths) // 1 L over so many m2 is 1 mm over so many
		if c.Coverage.Unit != "m2/L" {
			const cubicInches, squareInches = 231, 144 // of a US gallon, of a square foot
			one = exact.New(int64(length.Inch)*cubicInches, squareInches).Mul(exact.New(1000, c.Coverage.Thousandths))
		}
		thick += length.Rounded(one.Mul(exact.Of(int64(max(c.Times.N, 1)))), length.Nanometre, length.Up)
	}
	return thick, true
}
