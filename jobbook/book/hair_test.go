package book

import (
	"testing"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// TestHairEdge: less than the finest mark is a hair, the mark itself is none. The marks: a 64th of an inch (25.4 mm / 64 = 0.396875 mm), and half a millimetre, as tapes have them (common practice, no source).
func TestHairEdge(t *testing.T) {
	const limit = 3*length.Inch + 7*length.Inch/8
	const inchMark, mmMark = 396_875, 500_000 // nanometres, by hand
	for _, c := range []struct {
		name   string
		system length.System
		op     finding.Op
		margin length.Length
		from   string
		want   string
	}{
		{"half a thousandth", length.Inches, finding.Under, length.Inch / 2000, "irc R312.1.3", "passes by less than 1/64 in"},
		{"a nanometre", length.Inches, finding.Under, 1, "irc R312.1.3", "passes by less than 1/64 in"},
		{"just under the mark", length.Inches, finding.Under, inchMark - 1, "irc R312.1.3", "passes by less than 1/64 in"},
		{"the mark", length.Inches, finding.Under, inchMark, "irc R312.1.3", ""},
		{"just over the mark", length.Inches, finding.Under, inchMark + 1, "irc R312.1.3", ""},
		{"on the limit", length.Inches, finding.AtMost, 0, "irc R312.1.3", "passes exactly on the limit"},
		{"on the limit, which fails", length.Inches, finding.Under, 0, "irc R312.1.3", ""},
		{"just under half a millimetre", length.Millimetres, finding.Under, mmMark - 1, "k 1012.3", "passes by less than 0.5 mm"},
		{"half a millimetre", length.Millimetres, finding.Under, mmMark, "k 1012.3", ""},
		{"the job's own", length.Inches, finding.AtMost, 1, "most: in runs/1-hall.md", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := &book{job: &job.Job{System: c.system}}
			r := &layout.Run{Limit: layout.Limit{Value: limit, Op: c.op, From: c.from, Known: true}}
			r.Chosen = &layout.Candidate{Worst: limit - c.margin, Judged: true, Passes: c.op.Holds(limit-c.margin, limit)}
			if got := b.byHair(r); got != c.want {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}
