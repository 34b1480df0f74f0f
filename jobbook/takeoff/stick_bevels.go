package takeoff

import (
	"fmt"
	"slices"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// StickBevel is an angle that pieces are cut at as they come off the stick, and what that takes of it. Rails and shoes are not among them: their blanks come off square, with the run-out of their plumb cuts in them.
type StickBevel struct {
	Angle  *working.Figure // degrees off square
	Saw    length.Length   // of the stick's length that one cut takes: the kerf over the cosine, rounded up
	RunOut length.Length   // of a stick, once: how far the first cut runs out over the thickness; 0 while the thickness is not known
	Figure string          // id of the working of RunOut
	Kerf   string          // id of the working of Saw
}

// RunOut is what every stick loses where it is first cut at each of the angles; square pieces come from its other end.
func (c *Cutting) RunOut() (sum length.Length) {
	for _, b := range c.Bevels {
		sum += b.RunOut
	}
	return sum
}

// Lost is what a stick loses to that: nothing where only square pieces are cut from it.
func (c *Cutting) Lost(s Stick) length.Length {
	if slices.ContainsFunc(s.Pieces, func(p StickPiece) bool { return p.Bevel > 0 }) {
		return c.RunOut()
	}
	return 0
}

// bevels gives every piece what its cut takes along the stick, and finds the angles that it is cut at.
func (c *cutting) bevels(t *taking, l layout.Layout, mine []StickPiece) {
	var at []int64 // of each of Bevels, in thousandths of a degree
	for i := range mine {
		p, piece := &mine[i], c.pieces[mine[i].Piece]
		p.Saw = c.Kerf
		f := bevel(l, piece)
		r := run(l, piece.Run)
		if piece.Blank > 0 || f == nil || !f.Value.Known() || r.Rake.Secant == nil {
			continue
		}
		angle := thousandthsOf(f)
		k := slices.Index(at, angle)
		if k < 0 {
			k = len(at)
			at, c.Bevels = append(at, angle), append(c.Bevels, c.bevel(t, r, piece, k))
		}
		b := c.Bevels[k]
		p.Saw, p.Bevel = b.Saw, k+1
		if piece.Beveled[0] != piece.Beveled[1] { // it does not nest with the next one
			p.Saw += b.RunOut
		}
	}
}

// bevel is one of them, the k-th of the part.
func (c *cutting) bevel(t *taking, r *layout.Run, piece layout.Cut, k int) StickBevel {
	sys, unit := t.job.System, length.Inch/64
	if sys == length.Millimetres {
		unit = length.Millimetre / 10
	}
	cite := working.Citation{Text: "a cut at an angle, along the stick", Status: working.Derived}
	saw := working.Work(fmt.Sprintf("%s/saw/%d", c.ID, k+1), "what a cut at the angle of "+r.Title+" takes of a stick of "+c.Title, "k_b", sys.String(),
		working.Product(working.Length("k", "width of a saw cut", c.Kerf, sys, t.job.Shop.Kerf.At), r.Rake.Secant.In()), cite)
	b := StickBevel{Angle: r.Rake.Angle, Saw: saw.Length(sys, unit, length.Up), Kerf: saw.ID}
	t.figures = append(t.figures, saw)
	thick, file := t.thick(r, piece)
	rise, going := figureOf(r, "rise"), figureOf(r, "going")
	switch {
	case !thick.Given:
		at := thick.At
		if at.IsZero() {
			at = source.Pos{File: file}
		}
		t.miss(finding.Reading{What: "how thick " + c.Title + " is", Where: file + ", thick: ", Why: "how far its first bevel runs out on a stick", Group: "cutting", At: at})
	case rise == nil || going == nil:
		b.RunOut = runOut(thick.Length, thousandthsOf(b.Angle))
	default:
		out := working.Work(fmt.Sprintf("%s/run-out/%d", c.ID, k+1), "what the first cut at the angle of "+r.Title+" runs out on a stick of "+c.Title, "o", sys.String(),
			working.Product(working.Length("t", "thickness that the bevel goes through", thick.Length, sys, thick.At), working.Quotient(rise.In(), going.In())), cite)
		b.RunOut, b.Figure = out.Length(sys, unit, length.Up), out.ID
		t.figures = append(t.figures, out)
	}
	return b
}

// thick is what a plumb cut goes through: the height of a rail or a shoe, the thickness of a fillet as it lies in its plow. With the part's file.
func (t *taking) thick(r *layout.Run, piece layout.Cut) (job.Measure, string) {
	s := slot{cut: piece, run: r}
	t.section(&s)
	for _, a := range t.accounts {
		if a.Kind == kind(piece) && a.Part == piece.Part {
			return s.high, a.Origin.File
		}
	}
	return s.high, ""
}

func thousandthsOf(f *working.Figure) int64 { return int64(f.Value.Float64()*1000 + 0.5) }

// figureOf finds one of a run's figures; nil where there is none.
func figureOf(r *layout.Run, id string) *working.Figure {
	for _, f := range r.Figures {
		if f.ID == r.ID+"/"+id {
			return f
		}
	}
	return nil
}
