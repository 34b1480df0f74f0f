package load

import "math"

// A frame is the guard seen from above: posts and walls, held in plan, and the rails between them. Forces are in lb, lengths in in.
type frame struct {
	held []spring
	bars []bar
}

// spring holds a node in both directions of the plan: a post by its bending. A wall is fixed.
type spring struct {
	stiff float64 // lb/in
	fixed bool
}

// bar is a rail between two nodes.
type bar struct {
	from, to int
	cos, sin float64 // of the way from one to the other, in plan
	axial    float64 // lb/in, along that way
	bending  float64 // E·I about the upright axis, lb·in²
	long     float64 // in, along the rail
	hinged   [2]bool // a bolt in its end turns, a rail that goes over the post does not
}

// freedoms of a node: along x, along y, and the turn seen from above.
const freedoms = 3

// stiffness is a bar's own matrix between the six freedoms of its ends, in its own axes: u, v, turn at one end, then at the other (beam theory; textbook, with an end that turns freely
// condensed out).
func (b bar) stiffness() (k [2 * freedoms][2 * freedoms]float64) {
	k[0][0], k[3][3], k[0][3], k[3][0] = b.axial, b.axial, -b.axial, -b.axial
	l, ei := b.long, b.bending
	var rows [4][4]float64 // v, turn, v, turn
	switch b.hinged {
	case [2]bool{true, true}:
		return k
	case [2]bool{false, false}:
		a, c, d, e := 12*ei/(l*l*l), 6*ei/(l*l), 4*ei/l, 2*ei/l
		rows = [4][4]float64{{a, c, -a, c}, {c, d, -c, e}, {-a, -c, a, -c}, {c, e, -c, d}}
	case [2]bool{true, false}:
		a, c, d := 3*ei/(l*l*l), 3*ei/(l*l), 3*ei/l
		rows = [4][4]float64{{a, 0, -a, c}, {}, {-a, 0, a, -c}, {c, 0, -c, d}}
	default:
		a, c, d := 3*ei/(l*l*l), 3*ei/(l*l), 3*ei/l
		rows = [4][4]float64{{a, c, -a, 0}, {c, d, -c, 0}, {-a, -c, a, 0}, {}}
	}
	at := [4]int{1, 2, 4, 5}
	for i, r := range at {
		for j, c := range at {
			k[r][c] += rows[i][j]
		}
	}
	return k
}

// move works out how far each node goes, in x and y, under a force on one of them. False for a frame that something in can move without being held.
func (f frame) move(at int, x, y float64) (u [][2]float64, ok bool) {
	n := len(f.held) * freedoms
	k, cells := make([][]float64, n), make([]float64, n*(n+1))
	for i := range k {
		k[i] = cells[i*(n+1) : (i+1)*(n+1)]
	}
	for _, b := range f.bars {
		own := b.stiffness()
		turn := [2 * freedoms][2 * freedoms]float64{}
		for e := 0; e < 2*freedoms; e += freedoms { // own axes out of the plan's
			turn[e][e], turn[e][e+1], turn[e+1][e], turn[e+1][e+1], turn[e+2][e+2] = b.cos, b.sin, -b.sin, b.cos, 1
		}
		place := func(i int) int {
			if i < freedoms {
				return b.from*freedoms + i
			}
			return b.to*freedoms + i - freedoms
		}
		for i := range turn {
			for j := range turn {
				sum := 0.0
				for p := range turn {
					if turn[p][i] == 0 {
						continue
					}
					for q := range turn {
						sum += float64(float64(turn[p][i]*own[p][q]) * turn[q][j])
					}
				}
				k[place(i)][place(j)] += sum
			}
		}
	}
	for i, s := range f.held {
		k[i*freedoms][i*freedoms] += s.stiff
		k[i*freedoms+1][i*freedoms+1] += s.stiff
		for d := range freedoms {
			row := i*freedoms + d
			if s.fixed || d == freedoms-1 && k[row][row] == 0 { // nothing turns a node that only hinges meet at
				for j := range n {
					k[row][j], k[j][row] = 0, 0
				}
				k[row][row] = 1
			}
		}
	}
	if !f.held[at].fixed {
		k[at*freedoms][n], k[at*freedoms+1][n] = x, y
	}
	if !solve(k) {
		return nil, false
	}
	for i := range f.held {
		u = append(u, [2]float64{k[i*freedoms][n], k[i*freedoms+1][n]})
	}
	return u, true
}

// solve brings the last column of a system of equations to its solution, by elimination with the largest pivot first. False where there is none, or not one alone.
func solve(a [][]float64) bool {
	n := len(a)
	largest := 0.0
	for i := range a {
		largest = max(largest, math.Abs(a[i][i]))
	}
	for c := range n {
		p := c
		for r := c + 1; r < n; r++ {
			if math.Abs(a[r][c]) > math.Abs(a[p][c]) {
				p = r
			}
		}
		const nothing = 1e-12
		if math.Abs(a[p][c]) <= largest*nothing {
			return false
		}
		a[c], a[p] = a[p], a[c]
		for r := range n {
			if r == c || a[r][c] == 0 {
				continue
			}
			by := a[r][c] / a[c][c]
			for j := c; j <= n; j++ {
				a[r][j] -= float64(by * a[c][j])
			}
		}
	}
	for i := range a {
		a[i][n] /= a[i][i]
	}
	return true
}
