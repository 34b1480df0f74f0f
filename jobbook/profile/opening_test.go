package profile_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"balustrade/jobbook/length"
	. "balustrade/jobbook/profile"
)

// waisted is a square of width b with a waist of width w and height h, its lower shoulder at 12, 36 in all.
func waisted(b, w, h length.Length) Profile {
	foot := in(12, 0)
	return Profile{[]Station{
		square(0, b), square(foot, b), square(foot, w), square(foot+h, w), square(foot+h, b), square(in(36, 0), b),
	}}
}

func TestOpening(t *testing.T) {
	post := func(w length.Length) Face { return Square(w, in(36, 0)).Face(0) }
	inches := 25.4
	board := Wall(Point{Out: 0.625 * inches, Z: 0}, Point{Out: 0.625 * inches, Z: 5 * inches}, Point{Out: 0, Z: 5 * inches}, Point{Out: 0, Z: 96 * inches})
	for _, c := range []struct {
		name        string
		left, right Face
		apart       length.Length
		low, high   length.Length
		want        length.Length
		within      length.Length // over want
	}{
		{"plain squares", post(in(1, 4)), post(in(1, 4)), in(5, 0), in(1, 0), in(34, 0), in(3, 12), 0},
		{"plain squares, an odd nanometre", post(in(1, 4)), post(in(1, 8)), 123_456_789, in(1, 0), in(34, 0), 123_456_789 - in(1, 6), 0},
		{"one height", post(in(1, 4)), post(in(1, 4)), in(5, 0), in(9, 0), in(9, 0), in(3, 12), 0},
		{"limits the wrong way round", post(in(1, 4)), post(in(1, 4)), in(5, 0), in(34, 0), in(1, 0), in(3, 12), 0},
		{"touching", post(in(1, 4)), post(in(1, 4)), in(1, 4), 0, in(36, 0), 0, 0},
		{"overlapping", waisted(in(2, 0), in(1, 8), in(3, 0)).Face(0), post(in(1, 4)), in(1, 0), 0, in(36, 0), 0, 0},
		// min(s − w, 2√(((s − b)/2)² + (h/2)²)) with s 5, b 1 1/4: the waist's own gap governs, 5 − 3/4
		{"waist 3/4, 3 high", waisted(in(1, 4), in(0, 12), in(3, 0)).Face(0), waisted(in(1, 4), in(0, 12), in(3, 0)).Face(0), in(5, 0), in(1, 0), in(34, 0), in(4, 4), 0},
		// here the shoulders do: 2√((15/8)² + 1) = 2·17/8, against 5 − 1/4
		{"waist 1/4, 2 high", waisted(in(1, 4), in(0, 4), in(2, 0)).Face(0), waisted(in(1, 4), in(0, 4), in(2, 0)).Face(0), in(5, 0), in(1, 0), in(34, 0), in(4, 4), 0},
		{"waist out of reach of the limits", waisted(in(1, 4), in(0, 4), in(2, 0)).Face(0), waisted(in(1, 4), in(0, 4), in(2, 0)).Face(0), in(5, 0), in(1, 0), in(9, 0), in(3, 12), 0},
		// On a rake, the right one 1 higher. Corners stand at 0 and 2 on the left and 1 and 3 on the right, 4 apart. The
		// sphere on both left corners and the lower right one has its centre at 1 up and y out, y² + 1 = (4 − y)², y = 15/8,
		// radius 17/8; the waists, 1/2 further back, do not reach it.
		{"waists on a rake", waisted(in(1, 4), in(0, 4), in(2, 0)).Face(0), waisted(in(1, 4), in(0, 4), in(2, 0)).Face(0).Lift(inches), in(5, 4), in(1, 0), in(34, 0), in(4, 4), 0},
		// 3.917 to a 5/8 board is 4.542 over it: 1 1/2 square, its face 3.917 from the board
		{"over the baseboard", board, post(in(1, 8)), length.Inch*3917/1000 + in(0, 10) + in(0, 12), in(1, 0), in(34, 0), length.Inch * 4542 / 1000, 0},
		{"beside the baseboard only", board, post(in(1, 8)), length.Inch*3917/1000 + in(0, 10) + in(0, 12), in(1, 0), in(2, 0), length.Inch * 3917 / 1000, 0},
		// A wall leaning back 3 in 4, its line 9 from the post's face at the upper limit: cosine 4/5,
		// radius r with 9 − r from the line measured level, (9 − r)·4/5 = r, r = 4.
		{"leaning wall", Wall(Point{}, Point{Z: 60 * inches}).Lean(Point{Out: 0, Z: 0}, Point{Out: -45 * inches, Z: 60 * inches}), Square(in(2, 0), in(60, 0)).Face(0), in(9, 0) + in(1, 0) - in(6, 0), in(0, 0), in(8, 0), in(8, 0), 0},
		// Above both tops by 3, between faces 8 apart: √(4² + 3²) = 5 to either top corner.
		{"centre above both", Square(in(2, 0), in(10, 0)).Face(0), Square(in(2, 0), in(10, 0)).Face(0), in(10, 0), in(13, 0), in(13, 0), in(10, 0), 0},
		// Over a low left one, beside a high right one: centre 3 above the left's corner and x out, √(x² + 9) = 9 − x, x = 4, radius 5.
		{"centre above one", Square(in(2, 0), in(10, 0)).Face(0), Square(in(2, 0), in(40, 0)).Face(0), in(11, 0), in(13, 0), in(13, 0), in(10, 0), 0},
		{"no left face", Face{}, post(in(1, 4)), in(5, 0), 0, in(36, 0), length.Most, 0},
		{"no right face", post(in(1, 4)), Face{}, in(5, 0), 0, in(36, 0), length.Most, 0},
		{"farther than any reading", post(in(1, 4)), post(in(1, 4)), 5 * length.Most, 0, in(36, 0), length.Most, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := Opening(c.left, c.right, c.apart, c.low, c.high)
			if got.Opening < c.want || got.Opening > c.want+c.within {
				t.Errorf("got %v, want %v and at most %d nm over", got.Opening, c.want, c.within)
			}
			if got.Steps >= MostSteps {
				t.Errorf("cut short")
			}
			mirror := Opening(c.right, c.left, c.apart, c.low, c.high)
			if d := mirror.Opening - got.Opening; d < -1 || d > 1 {
				t.Errorf("seen from behind %v, from the front %v", mirror.Opening, got.Opening)
			}
		})
	}
}

func TestOpeningShowsWhere(t *testing.T) {
	// as in "waist 1/4, 2 high": lower shoulder at 12, upper at 14, centre half way between at 13 and in the middle
	w := waisted(in(1, 4), in(0, 4), in(2, 0)).Face(0)
	got := Opening(w, w, in(5, 0), in(1, 0), in(34, 0))
	near := func(what string, got, inches float64) {
		t.Helper()
		if math.Abs(got-25.4*inches) > 1e-5 {
			t.Errorf("%s: got %.6f mm, want %g in", what, got, inches)
		}
	}
	near("x", got.X, 2.5)
	near("z", got.Z, 13)
	near("left", got.Left.Out, 0.625)
	near("right", got.Right.Out, 4.375)
	for _, p := range []Point{got.Left, got.Right} {
		if math.Abs(math.Abs(p.Z-13*25.4)-25.4) > 1e-5 {
			t.Errorf("nearest at %.6f, want a shoulder at 12 or 14 in", p.Z)
		}
	}
	t.Run("plain squares are shown half way up", func(t *testing.T) {
		got := Opening(Square(in(1, 4), in(36, 0)).Face(0), Square(in(1, 4), in(36, 0)).Face(0), in(5, 0), in(1, 0), in(35, 0))
		if got.Z != 18*25.4 || got.Left.Z != got.Z || got.Right.Z != got.Z {
			t.Errorf("centre at %v, nearest at %v and %v", got.Z, got.Left.Z, got.Right.Z)
		}
	})
}

// TestSquaresAreExact: between plain squares the opening is the clear between them, to the nanometre.
func TestSquaresAreExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		long := in(36, 0)
		width := rapid.Int64Range(2, int64(in(6, 0)))
		left, right := length.Length(width.Draw(t, "left")), length.Length(width.Draw(t, "right"))
		clear := length.Length(rapid.Int64Range(1, int64(in(40, 0))).Draw(t, "clear"))
		// axes stand apart by a whole number of nanometres
		if (left+right)%2 != 0 {
			right++
		}
		apart := clear + (left+right)/2
		got := Opening(Square(left, long).Face(0), Square(right, long).Face(0), apart, in(2, 0), in(34, 0))
		if got.Opening != clear {
			t.Fatalf("got %d nm, want %d", got.Opening, clear)
		}
	})
}

// drawFace is a random profile's face, or a wall with a board, each perhaps lifted and perhaps leaning.
func drawFace(t *rapid.T, label string) Face {
	f := drawProfile(t, label).Face(0)
	mm := func(what string, low, high int) float64 {
		return float64(rapid.IntRange(low, high).Draw(t, label+" "+what)) / 4
	}
	if rapid.IntRange(0, 3).Draw(t, label+" kind") == 0 {
		thick, high := mm("thick", 4, 60), mm("high", 20, 120)
		f = Wall(Point{Out: thick, Z: 0}, Point{Out: thick, Z: high}, Point{Out: 0, Z: high}, Point{Out: 0, Z: high + 40})
	}
	f = f.Lift(mm("lift", -40, 40))
	if rapid.Bool().Draw(t, label+" leans") {
		f = f.Lean(Point{Out: mm("lean low", -20, 20), Z: 5}, Point{Out: mm("lean high", -20, 20), Z: 60})
	}
	return f
}

func drawOpening(t *rapid.T) (left, right Face, apart, low, high length.Length) {
	mm := length.Millimetre
	left, right = drawFace(t, "left"), drawFace(t, "right")
	apart = mm * length.Length(rapid.IntRange(20, 130).Draw(t, "apart"))
	low = mm * length.Length(rapid.IntRange(-5, 15).Draw(t, "low"))
	high = low + mm*length.Length(rapid.IntRange(0, 50).Draw(t, "span"))
	return
}

// TestOpeningAgainstGrid looks for a larger sphere the dumb way: a grid of centres, and rows of points for the faces.
func TestOpeningAgainstGrid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		left, right, apart, low, high := drawOpening(t)
		got := Opening(left, right, apart, low, high)
		if got.Steps >= MostSteps {
			t.Fatalf("cut short")
		}
		// Rows every 0.05 mm: a point of the solid lies between two of them, and one of the two reaches out as far. So a distance
		// to the rows is at most 0.05 too long, a diameter 0.1.
		const rowError = 0.1
		l, r := rows(left, 0.05), rows(right, 0.05)
		grid := func(x0, x1, z0, z1, step float64) (best, bx, bz float64) {
			for z := z0; ; z += step {
				z = min(z, z1)
				for x := x0; x <= x1; x += step {
					if d := 2 * math.Min(toRows(l, x, z, best/2), toRows(r, apart.Float()-x, z, best/2)); d > best {
						best, bx, bz = d, x, z
					}
				}
				if z == z1 {
					return
				}
			}
		}
		// A face stands out from -5 to 25, ends no more than 72 below or 15 above a height searched, and the reference lines are
		// 20 apart or more. So 77 behind the left line or the right only the height difference to the one face is left, and
		// the other is farther: no sphere further out is larger.
		const outside, step = 80, 1.5
		z0, z1 := low.Float(), high.Float()
		coarse, x, z := grid(-outside, apart.Float()+outside, z0, z1, step)
		fine, _, _ := grid(x-step, x+step, math.Max(z0, z-step), math.Min(z1, z+step), 0.1)
		if fine > got.Opening.Float()+rowError {
			t.Fatalf("the grid found %.4f at %.2f %.2f, reported %v", fine, x, z, got.Opening)
		}
		// The true centre has a grid centre within half a step each way, √½ of a step, and a diameter changes twice as fast as a centre moves.
		if most := coarse + 2*step*math.Sqrt(0.5); got.Opening.Float() > most {
			t.Fatalf("reported %v, the grid allows %.4f", got.Opening, most)
		}
		// What is shown is what was measured, by the rows alone.
		if got.Opening > 0 {
			d := 2 * math.Min(toRows(l, got.X, got.Z, 0), toRows(r, apart.Float()-got.X, got.Z, 0))
			if d < got.Opening.Float()-1e-5 || d > got.Opening.Float()+rowError {
				t.Fatalf("reported %v, but at its centre %.4f", got.Opening, d)
			}
			if got.Z < z0 || got.Z > z1 {
				t.Fatalf("centre at %v, outside %v to %v", got.Z, low, high)
			}
		}
	})
}

// rows are points of a face at even heights and at its own: solid from there back.
func rows(f Face, every float64) (rows [][2]float64) {
	for i := 1; i < len(f.Points); i++ {
		a, b := f.Points[i-1], f.Points[i]
		n := math.Ceil((b.Z-a.Z)/every) + 1
		for k := range int(n) + 1 {
			s := float64(k) / n
			rows = append(rows, [2]float64{a.Out*(1-s) + b.Out*s, a.Z*(1-s) + b.Z*s})
		}
	}
	return rows
}

// toRows is the least distance to any row; it gives up with 0 once no more than enough.
func toRows(rows [][2]float64, x, z, enough float64) float64 {
	least := math.Inf(1)
	for _, row := range rows {
		dx, dz := math.Max(0, x-row[0]), z-row[1]
		if d := dx*dx + dz*dz; d < least {
			if least = d; d <= enough*enough {
				return 0
			}
		}
	}
	return math.Sqrt(least)
}

// TestOpeningGrows: faces farther apart never leave less, and at most as much more as they were moved.
func TestOpeningGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		left, right, apart, low, high := drawOpening(t)
		more := length.Length(rapid.Int64Range(0, int64(20*length.Millimetre)).Draw(t, "more"))
		a, b := Opening(left, right, apart, low, high), Opening(left, right, apart+more, low, high)
		// each is rounded up to the nanometre
		if b.Opening < a.Opening || b.Opening > a.Opening+more+1 {
			t.Fatalf("%v apart leaves %v, %v leaves %v", apart, a.Opening, apart+more, b.Opening)
		}
	})
}

// TestOpeningMoves: both faces and both limits raised alike leave the opening as it is.
func TestOpeningMoves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		left, right, apart, low, high := drawOpening(t)
		up := length.Millimetre * length.Length(rapid.IntRange(-500, 500).Draw(t, "up"))
		a := Opening(left, right, apart, low, high)
		b := Opening(left.Lift(up.Float()), right.Lift(up.Float()), apart, low+up, high+up)
		if d := a.Opening - b.Opening; d < -1 || d > 1 {
			t.Fatalf("%v, and %v when raised", a.Opening, b.Opening)
		}
	})
}

// FuzzAnything feeds stations and points that no file would pass: nothing may panic or run away, and an opening stays
// between 0 and length.Most.
func FuzzAnything(f *testing.F) {
	f.Add(int64(0), int64(1), int64(2), int64(3), 1.0, 2.0, -3.0, 4.0, true)
	f.Add(int64(math.MinInt64), int64(math.MaxInt64), int64(-1), int64(0), math.Inf(1), math.NaN(), -1e300, 1e-300, false)
	f.Add(int64(25_400_000), int64(914_400_000), int64(19_050_000), int64(304_800_000), 1e9, 0.0, 0.0, -1e9, true)
	f.Add(int64(math.MaxInt64), int64(math.MaxInt64), int64(math.MaxInt64), int64(math.MaxInt64), 4e8, -4e8, 4e8, -4e8, true)
	f.Fuzz(func(t *testing.T, a, b, c, d int64, x, y, z, w float64, isRound bool) {
		n := func(v int64) length.Length { return length.Length(v) }
		p := Profile{[]Station{{n(a), n(b), isRound}, {n(c), n(d), false}, {n(b), n(a), isRound}, {n(d), n(c), true}, {n(d), n(b), false}}}
		p.Check()
		p.EndBlocks()
		p.WidthAt(n(a))
		p.Widest(n(a), n(c))
		p.Narrowest(n(b), n(d))
		p.Area(n(a), n(d))
		p.Cut(n(a), n(b))
		odd := Wall(Point{x, y}, Point{z, w}, Point{w, x}, Point{y, y})
		faces := []Face{{}, Wall(Point{x, y}), odd, odd.Lift(z).Lean(Point{w, x}, Point{y, z}), p.Face(n(c)), Square(n(a), n(b)).Face(n(d))}
		for _, left := range faces {
			for _, right := range faces {
				got := Opening(left, right, n(a), n(b), n(d))
				if got.Opening < 0 || got.Opening > length.Most {
					t.Fatalf("opening %d", got.Opening)
				}
			}
		}
	})
}

// baluster has ten stations, like a stock turning.
func baluster() Profile {
	return Profile{[]Station{
		square(0, in(1, 4)), square(in(7, 0), in(1, 4)), round(in(7, 0), in(1, 2)), round(in(8, 0), in(0, 12)),
		round(in(9, 0), in(1, 3)), round(in(14, 0), in(1, 0)), round(in(28, 0), in(0, 11)), round(in(29, 0), in(0, 14)),
		round(in(30, 0), in(0, 10)), round(in(36, 0), in(0, 10)),
	}}
}

func BenchmarkOpening(b *testing.B) {
	for _, c := range []struct {
		name        string
		left, right Face
	}{
		{"square", Square(in(1, 4), in(36, 0)).Face(0), Square(in(1, 4), in(36, 0)).Face(0)},
		{"turned", baluster().Face(0), baluster().Face(0)},
		{"raked", baluster().Face(0), baluster().Face(0).Lift(98.4)}, // 3.875 in on a 45° stair
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			steps := 0
			for b.Loop() {
				steps = Opening(c.left, c.right, in(5, 0), in(1, 0), in(35, 0)).Steps
			}
			b.ReportMetric(float64(steps), "steps")
		})
	}
}
