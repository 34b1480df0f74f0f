package load

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance*math.Max(1, math.Abs(want)) {
		t.Errorf("%s: %.9g, want %.9g", what, got, want)
	}
}

// Closed forms, worked by hand from beam theory.
func TestFrameClosedForms(t *testing.T) {
	t.Run("two posts in a row, pushed along the rail: the rail and the second post are springs in series", func(t *testing.T) {
		f := frame{held: []spring{{stiff: 300}, {stiff: 500}}, bars: []bar{{from: 0, to: 1, cos: 1, axial: 2000, bending: 1, long: 60, hinged: [2]bool{true, true}}}}
		u, ok := f.move(0, 100, 0)
		if !ok {
			t.Fatal("no solution")
		}
		second := 1 / (1.0/2000 + 1.0/500) // 400
		near(t, "first post", u[0][0], 100/(300+second), 1e-12)
		near(t, "second post", u[1][0], 100/(300+second)*2000/(2000+500), 1e-12)
		near(t, "across", u[0][1], 0, 1e-12)
	})
	t.Run("pushed across a hinged rail, a post stands alone", func(t *testing.T) {
		f := frame{held: []spring{{stiff: 300}, {stiff: 500}}, bars: []bar{{from: 0, to: 1, cos: 1, axial: 2000, bending: 1e6, long: 60, hinged: [2]bool{true, true}}}}
		u, _ := f.move(0, 0, 100)
		near(t, "alone", u[0][1], 100.0/300, 1e-12)
	})
	t.Run("a corner: the rail that is pushed along its length takes its part to a wall", func(t *testing.T) {
		f := frame{held: []spring{{stiff: 300}, {fixed: true}, {fixed: true}}, bars: []bar{
			{from: 0, to: 1, cos: 1, axial: 2000, long: 60, hinged: [2]bool{true, true}},
			{from: 0, to: 2, sin: 1, axial: 900, long: 60, hinged: [2]bool{true, true}},
		}}
		u, _ := f.move(0, 0, 100)
		near(t, "across the first, along the second", u[0][1], 100.0/(300+900), 1e-12)
	})
	t.Run("a rail that goes on over a post is a beam on three supports: 48EI/L^3 in the middle between walls", func(t *testing.T) {
		const ei, half = 2.5e6, 40.0
		f := frame{held: []spring{{fixed: true}, {}, {fixed: true}}, bars: []bar{
			{from: 0, to: 1, cos: 1, axial: 1e6, bending: ei, long: half, hinged: [2]bool{true, false}},
			{from: 1, to: 2, cos: 1, axial: 1e6, bending: ei, long: half, hinged: [2]bool{false, true}},
		}}
		u, ok := f.move(1, 0, 100)
		if !ok {
			t.Fatal("no solution")
		}
		near(t, "middle", u[1][1], 100*math.Pow(2*half, 3)/(48*ei), 1e-9)
	})
	t.Run("a beam held fast at both ends: 192EI/L^3", func(t *testing.T) {
		const ei, half = 2.5e6, 40.0
		f := frame{held: []spring{{fixed: true}, {}, {fixed: true}}, bars: []bar{
			{from: 0, to: 1, cos: 0.6, sin: 0.8, axial: 1e6, bending: ei, long: half},
			{from: 1, to: 2, cos: 0.6, sin: 0.8, axial: 1e6, bending: ei, long: half},
		}}
		// A fixed node is held against turning as well.
		u, ok := f.move(1, -80, 60) // square to it
		if !ok {
			t.Fatal("no solution")
		}
		near(t, "middle", gone(u[1]), 100*math.Pow(2*half, 3)/(192*ei), 1e-9)
	})
	t.Run("what nothing holds has no answer", func(t *testing.T) {
		f := frame{held: []spring{{}, {}}, bars: []bar{{from: 0, to: 1, cos: 1, axial: 2000, long: 60, hinged: [2]bool{true, true}}}}
		if _, ok := f.move(0, 1, 1); ok {
			t.Error("a rail in the air was solved")
		}
	})
}

// member3 is the 12 by 12 stiffness of a space-frame member in its own axes, as textbooks have it (Przemieniecki, Theory of Matrix Structural Analysis; written here from the differential equation).
func member3(e, g, a, iy, iz, j, l float64) *mat.Dense {
	k := mat.NewDense(12, 12, nil)
	set := func(r, c int, v float64) { k.Set(r, c, v); k.Set(c, r, v) }
	ax, to := e*a/l, g*j/l
	set(0, 0, ax)
	set(6, 6, ax)
	set(0, 6, -ax)
	set(3, 3, to)
	set(9, 9, to)
	set(3, 9, -to)
	bend := func(v1, t1, v2, t2 int, i, sign float64) {
		x := e * i / (l * l * l)
		set(v1, v1, 12*x)
		set(v2, v2, 12*x)
		set(v1, v2, -12*x)
		set(v1, t1, sign*6*x*l)
		set(v1, t2, sign*6*x*l)
		set(v2, t1, -sign*6*x*l)
		set(v2, t2, -sign*6*x*l)
		set(t1, t1, 4*x*l*l)
		set(t2, t2, 4*x*l*l)
		set(t1, t2, 2*x*l*l)
	}
	bend(1, 5, 7, 11, iz, 1)
	bend(2, 4, 8, 10, iy, -1)
	return k
}

// TestFrameAgainstSpaceFrame: the same guards as frames in space, every post a member of its own from floor to rail, solved by gonum's matrices (an independent library). Rails there turn
// freely at the posts: they are given next to no bending of their own.
func TestFrameAgainstSpaceFrame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 6).Draw(t, "posts")
		const e, h, faint = 1.5e6, 38.0, 1e-7
		x, y := []float64{0}, []float64{0}
		f := frame{}
		var second []float64
		for i := range n {
			if i > 0 {
				a, l := rapid.Float64Range(-2.5, 2.5).Draw(t, "turn"), rapid.Float64Range(20, 140).Draw(t, "long")
				x, y = append(x, x[i-1]+l*math.Cos(a)), append(y, y[i-1]+l*math.Sin(a))
			}
			w := rapid.Float64Range(2, 5).Draw(t, "wide")
			second = append(second, math.Pow(w, 4)/12)
			f.held = append(f.held, spring{stiff: 3 * e * second[i] / (h * h * h)})
		}
		area := rapid.Float64Range(1, 6).Draw(t, "area")
		size := n * 12
		whole := mat.NewDense(size, size, nil)
		add := func(k *mat.Dense, rot *mat.Dense, at [2]int) {
			big := mat.NewDense(12, 12, nil)
			for b := range 4 {
				for r := range 3 {
					for c := range 3 {
						big.Set(b*3+r, b*3+c, rot.At(r, c))
					}
				}
			}
			var kr, out mat.Dense
			kr.Mul(k, big)
			out.Mul(big.T(), &kr)
			for r := range 12 {
				for c := range 12 {
					gr, gc := at[r/6]*6+r%6, at[c/6]*6+c%6
					whole.Set(gr, gc, whole.At(gr, gc)+out.At(r, c))
				}
			}
		}
		for i := range n { // node 2i is the foot, 2i+1 the top; own axes x up, y along the plan's x, z along the plan's y
			add(member3(e, e/16, 1e3, second[i], second[i], 2*second[i], h), mat.NewDense(3, 3, []float64{0, 0, 1, 1, 0, 0, 0, 1, 0}), [2]int{2 * i, 2*i + 1})
			if i > 0 {
				dx, dy := x[i]-x[i-1], y[i]-y[i-1]
				l := math.Hypot(dx, dy)
				c, s := dx/l, dy/l
				add(member3(e, e/16, area, faint, faint, faint, l), mat.NewDense(3, 3, []float64{c, s, 0, -s, c, 0, 0, 0, 1}), [2]int{2*i - 1, 2*i + 1})
				f.bars = append(f.bars, bar{from: i - 1, to: i, cos: c, sin: s, axial: e * area / l, bending: 1, long: l, hinged: [2]bool{true, true}})
			}
		}
		for i := range n { // feet held fast
			for d := range 6 {
				row := 2*i*6 + d
				for c := range size {
					whole.Set(row, c, 0)
					whole.Set(c, row, 0)
				}
				whole.Set(row, row, 1)
			}
		}
		at := rapid.IntRange(0, n-1).Draw(t, "at")
		fx, fy := rapid.Float64Range(-300, 300).Draw(t, "fx"), rapid.Float64Range(-300, 300).Draw(t, "fy")
		force := mat.NewVecDense(size, nil)
		force.SetVec((2*at+1)*6, fx)
		force.SetVec((2*at+1)*6+1, fy)
		var moved mat.VecDense
		if err := moved.SolveVec(whole, force); err != nil {
			if _, condition := err.(mat.Condition); !condition {
				t.Fatal(err)
			}
		}
		u, ok := f.move(at, fx, fy)
		if !ok {
			t.Fatal("no solution")
		}
		for i := range n {
			for d := range 2 {
				if got, want := u[i][d], moved.AtVec((2*i+1)*6+d); math.Abs(got-want) > 1e-4*math.Max(0.05, math.Abs(want)) {
					t.Fatalf("post %d, direction %d: %.9g, the space frame says %.9g", i, d, got, want)
				}
			}
		}
	})
}

// TestYields: a post of one width against h³/(3·I) (textbook), and a round taper held fast at its thick end against the closed form (P·L³/3EI_A)·(d_A/d_B)³, I_A at the free end (textbook; checked by
// integrating (h − z)²/I by hand with d(z) = d_B − (d_B − d_A)·z/h).
func TestYields(t *testing.T) {
	const h = 38 * length.Inch
	square := profile.Square(3*length.Inch+length.Inch/2, 48*length.Inch)
	near(t, "square", yields(square, h), 38.0*38*38/3/(math.Pow(3.5, 4)/12), 1e-9)
	round := profile.Profile{Stations: []profile.Station{{At: 0, Width: 3 * length.Inch, Round: true}, {At: h, Width: 2 * length.Inch, Round: true}}}
	free := math.Pi * math.Pow(2, 4) / 64
	near(t, "taper", yields(round, h), 38.0*38*38/(3*free)*math.Pow(2.0/3, 3), 1e-6)
	short := profile.Square(3*length.Inch+length.Inch/2, 30*length.Inch)
	near(t, "a newel lower than the load", yields(short, h), yields(square, h), 1e-9)
}
