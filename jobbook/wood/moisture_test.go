package wood

import (
	"math"
	"math/big"
	"strconv"
	"testing"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/working"
)

// emc is the last figure of the working.
func emc(temp, humidity float64) (float64, bool) {
	in := func(symbol string, v float64) *working.Input {
		return &working.Input{Symbol: symbol, Name: symbol, Value: exact.FromRat(new(big.Rat).SetFloat64(v))}
	}
	figures, ok := Equilibrium("air/test", "at the test", in("T", temp), in("H", humidity))
	if !ok {
		return 0, false
	}
	v := figures[len(figures)-1].Value.Float64()
	return v, true
}

// TestEMC: every cell of Table 4-2 of the Wood Handbook (testdata/emc.csv names its source) within 0.07.
func TestEMC(t *testing.T) {
	rows := table(t, "../../testdata/emc.csv")
	cells := 0
	for _, row := range rows[1:] {
		temp := float(t, row[0])
		for i, cell := range row[1:] {
			if cell == "" {
				continue
			}
			humidity, _ := strconv.ParseFloat(rows[0][i+1], 64)
			got, ok := emc(temp, humidity)
			if !ok || math.Abs(got-float(t, cell)) > 0.07 {
				t.Errorf("%v °F, %v %%: %v, the table has %s", temp, humidity, got, cell)
			}
			cells++
		}
	}
	if cells < 100 {
		t.Errorf("%d cells", cells)
	}
	for _, out := range [][2]float64{{29, 50}, {131, 50}, {70, 4}, {70, 96}} {
		if m, ok := emc(out[0], out[1]); ok {
			t.Errorf("%v: %v", out, m)
		}
	}
}

// TestMovement: the example of the Wood Handbook, p. 13-18 (wording from memory): flat-sawn white fir, 9.15 in wide, from 8 to 11 %, coefficient 0.00245: 9.15·0.00245·3 = 0.067. Back again it shrinks as much.
func TestMovement(t *testing.T) {
	moves := func(from, to int64) float64 {
		in := func(symbol string, num, den int64) *working.Input {
			return &working.Input{Symbol: symbol, Value: exact.New(num, den)}
		}
		f := working.Work("move/test", "", "d", "in", Movement(in("D", 915, 100), in("C", 245, 1000), in("M_1", from, 1), in("M_2", to, 1)))
		v := f.Value.Float64()
		return v
	}
	if got := moves(8, 11); math.Abs(got-0.067) > 0.0005 || moves(11, 8) != -got {
		t.Errorf("%v in and %v back, want 0.067", got, moves(11, 8))
	}
}
