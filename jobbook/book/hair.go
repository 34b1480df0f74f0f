package book

import (
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// byHair says in words by how little the count that was taken passes: by less than the finest mark on a tape, a 64th of an inch or half a millimetre, so that one reading a hair off, and it does not. Empty where it passes by that
// mark or more, does not pass, or is held to a limit that the job set for itself.
func (b *book) byHair(r *layout.Run) string {
	if r.Chosen == nil || r.Chosen.Verdict() != finding.Pass || strings.HasPrefix(r.Limit.From, "most:") {
		return ""
	}
	finest := length.Inches.Finest()
	if b.job.System == length.Millimetres {
		finest = length.Millimetre / 2
	}
	switch margin := r.Limit.Op.Margin(r.Chosen.Worst, r.Limit.Value); {
	case margin == 0:
		return "passes exactly on the limit"
	case margin < finest:
		return "passes by less than " + length.Style{System: b.job.System, Division: finest, Rounding: length.Nearest}.With(finest)
	}
	return ""
}

// hair says what to do about it.
func (b *book) hair(r *layout.Run) markup {
	words := b.byHair(r)
	if words == "" {
		return ""
	}
	return say("<p>It %s. Read the clears once more, or ask for a tighter one with <code>most:</code>.</p>\n", words)
}
