// Package finding holds what the checks say: a measure, what it was judged by, the verdict, and readings still to be taken.
package finding

import (
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Verdict is the outcome of a check. The zero value is invalid: no verdict is ever given by leaving one out.
type Verdict int

// The verdicts, worst first, which is the order in which they are shown.
const (
	Fail         Verdict = iota + 1
	ToBeMeasured         // a reading is missing
	AskAuthority         // the limit is not confirmed, or does not settle the case: check with the authority having jurisdiction
	Screened             // worked out and within a published value, which is no pass: a licensed engineer or a tested rating confirms it
	NotRequired          // the rule does not apply here; judged by nothing
	Pass
)

// Verdicts are the words for Verdict, in order.
var Verdicts = []string{"fail", "to be measured", "check with the authority", "screened", "not required", "pass"}

// String is the verdict in words.
func (v Verdict) String() string {
	if v < 1 || int(v) > len(Verdicts) {
		return "unknown"
	}
	return Verdicts[v-1]
}

// Op is how a measure is compared with its limit. Each says whether the limit itself is allowed.
type Op int

// The comparisons.
const (
	Under   Op = iota + 1 // exactly on the limit fails
	AtMost                // exactly on the limit passes
	AtLeast               // exactly on the limit passes
	Over                  // exactly on the limit fails
)

// Ops are the words for Op, in order; with a hyphen for the space they are the keys of a rule set's limits.
var Ops = []string{"under", "at most", "at least", "over"}

// String is the comparison in words.
func (o Op) String() string {
	if o < 1 || int(o) > len(Ops) {
		return "unknown"
	}
	return Ops[o-1]
}

// Holds reports whether a value stands in the comparison with the limit.
func (o Op) Holds(value, limit length.Length) bool {
	switch o {
	case Under:
		return value < limit
	case AtMost:
		return value <= limit
	case AtLeast:
		return value >= limit
	case Over:
		return value > limit
	}
	return false
}

// Margin is how far inside the limit a value lies; negative outside.
func (o Op) Margin(value, limit length.Length) length.Length {
	if o == Under || o == AtMost {
		return limit - value
	}
	return value - limit
}

// Measure is a value that rules may judge. Known is false while a reading is missing.
type Measure struct {
	Limit   string // the name of the limit that judges it: opening
	Subject string // what was measured, in words: widest opening between balusters
	Group   string // what it belongs to: run/gallery, survey/old-railing
	Value   length.Length
	Known   bool
	Missing string     // what to read, where it is not known
	Key     string     // the key to write it under, of what an old guard is judged by: height:
	At      source.Pos // where the value, or its main input, was written
	Figure  string     // the id of its working
	Note    string     // what the reader must know with it
	Cure    string     // what would put it right where it fails, where that is known
	Bound   bool       // the size is no more, or no less, than the value: what is read later is not compared with it
}

// Finding is a measure judged, or a fault that layout itself found.
type Finding struct {
	ID      string // stable: check/run/gallery/opening
	Group   string
	Title   string
	Verdict Verdict

	Measured length.Length
	HasValue bool
	Op       Op
	Limit    length.Length
	HasLimit bool
	Margin   length.Length // positive inside the limit

	Clause string
	Status working.Status
	Rules  string     // name of the rule set that the limit comes from, or what else it is judged by
	Set    source.Pos // where the limit was written
	Amends string     // "irc-2021" where the limit was amended; empty otherwise
	At     source.Pos
	Figure string
	Note   string
	Cure   string // what would put it right, where that is known

	Unlimited string // what it is of, where the rule set has no limit for it: risers; empty elsewhere
}

// Reading is something still to be measured or decided.
type Reading struct {
	What  string     // what to read or decide
	Where string     // the file and key to write it under: runs/1-gallery.md, clear: {rail: }
	Why   string     // what waits for it
	Group string     // what it belongs to: run/gallery
	At    source.Pos // the file and, where there is one, the blank key
}
