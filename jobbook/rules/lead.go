package rules

import (
	"strconv"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/finish"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// leadYear is the year from which a house is no longer taken to hold lead paint: 40 CFR 745.83 (published).
const leadYear = 1978

var most = strconv.Itoa(finish.LeadThreshold) + " sq ft"

// Lead judges the coated surface of an old guard that is taken out: more than 6 sq ft in one room within 30 days makes it lead
// renovation work, when it is done for pay in a house from before 1978. It never passes: a test or the authority settles it.
func Lead(o finish.OldSurface) finding.Finding {
	f := finding.Finding{
		ID: "check/" + surveys + o.Survey.Name + "/old-surface", Group: surveys + o.Survey.Name,
		Title: "coated surface of the old guard, for lead", Clause: "40 CFR 745.83", Status: working.Published,
		Rules: "US rule on lead renovation work", At: source.Pos{File: o.Survey.File},
	}
	if o.Area != nil {
		f.Figure = o.Area.ID
	}
	const renovation = "renovation work when done for pay in a house from before 1978: a certified firm and renovator, the family told before the start, dust kept in"
	switch {
	case o.Survey.Coated.Text == "bare":
		f.Verdict, f.Note, f.At = finding.NotRequired, "the old guard is bare wood: no coated surface is taken out", o.Survey.Coated.At
	case o.Built.Given && o.Built.N >= leadYear:
		f.Verdict, f.Note, f.At = finding.NotRequired, "the house is from "+strconv.Itoa(o.Built.N)+", not from before 1978", o.Built.At
	case o.Area == nil || !o.Area.Value.Known():
		f.Verdict, f.Note = finding.ToBeMeasured, "still to be measured: count and sizes of the old guard's coated parts"
	case o.Over:
		f.Verdict, f.Note = finding.AskAuthority, squareFeet(o.Area)+" of coated surface, over "+most+": "+renovation
		if o.AtLeast {
			f.Note = "at least " + f.Note
		}
	case o.Together != nil && o.Together.Value.Known() && o.Together.Value.Cmp(exact.Of(finish.LeadThreshold)) > 0:
		f.Verdict, f.Figure = finding.AskAuthority, o.Together.ID
		f.Note = squareFeet(o.Area) + " of coated surface, and " + squareFeet(o.Together) + " with the other old guards: over " + most + " if they stand in one room, and then it is " + renovation
	default:
		f.Verdict, f.Note = finding.NotRequired, squareFeet(o.Area)+" of coated surface, no more than "+most+"; whatever else is disturbed in the same room within 30 days counts with it, and the dust is no less harmful"
	}
	if f.Verdict == finding.AskAuthority && o.ForPay.Given && !o.ForPay.Yes {
		f.Note += "; the job says that it is not done for pay"
	}
	if f.Verdict == finding.AskAuthority && !o.Built.Given {
		f.Note += "; the year of the house is not known"
	}
	return f
}

// OldCoats is what Lead is where the law is not that of the US, or nobody says whose it is: the danger is the same, how much of it asks for what is the place's own affair, and so is the year that counts.
func OldCoats(o finish.OldSurface, system length.System) finding.Finding {
	f := finding.Finding{
		ID: "check/" + surveys + o.Survey.Name + "/old-surface", Group: surveys + o.Survey.Name,
		Title: "coated surface of the old guard, for lead", Verdict: finding.AskAuthority,
		Rules: "the law of the place, to be asked", At: source.Pos{File: o.Survey.File},
	}
	if o.Survey.Coated.Text == "bare" {
		f.Verdict, f.Note, f.At = finding.NotRequired, "the old guard is bare wood: no coated surface is taken out", o.Survey.Coated.At
		return f
	}
	f.Note = "old paint, varnish and shellac may hold lead until a test says otherwise: ask what the law of the place says about taking them out, and in houses of which years"
	if o.Area != nil && o.Area.Value.Known() {
		f.Figure = o.Area.ID
		f.Note = surface(o.Area, system) + " of coated surface; " + f.Note
		if o.AtLeast {
			f.Note = "at least " + f.Note
		}
	}
	f.Note += "; in the US, as an example, more than " + surfaceOf(exact.Of(finish.LeadThreshold), system) + " in one room is lead renovation work when done for pay in a house from before " + strconv.Itoa(leadYear) + " (40 CFR 745.83)"
	return f
}

// surface prints a surface that is reckoned in sq ft in the unit of a system, rounded up.
func surface(f *working.Figure, system length.System) string {
	if system != length.Millimetres {
		return squareFeet(f)
	}
	return surfaceOf(f.Value, system)
}

// surfaceOf prints a number of sq ft in the unit of a system, to the hundredth, rounded up.
func surfaceOf(v exact.Number, system length.System) string {
	if system != length.Millimetres {
		return working.Decimal(v) + " sq ft"
	}
	const foot, hundred = 9_290_304, 100 // a sq ft in millionths of a hundredth of m², exact: 0.09290304 m²
	up := length.Rounded(v.Mul(exact.New(foot, 1_000_000)), length.Nanometre, length.Up)
	return working.Decimal(exact.New(int64(up), hundred)) + " m²"
}

// squareFeet prints a surface to the hundredth, rounded up, so that one that is over never reads as if it were on the limit.
func squareFeet(f *working.Figure) string {
	const hundred = 100
	up := length.Rounded(f.Value.Mul(exact.Of(hundred)), length.Nanometre, length.Up) // a count of hundredths
	return working.Decimal(exact.New(int64(up), hundred)) + " sq ft"
}
