package wood

import (
	"encoding/csv"
	"math"
	"math/big"
	"os"
	"strconv"
	"strings"
	"testing"

	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
)

// emc is the last figure of the working.
func emc(temp, humidity float64) (float64, bool) {
	in := func(symbol string, v float64) *working.Input {
		return &working.Input{Symbol: symbol, Name: symbol, Value: new(big.Rat).SetFloat64(v)}
	}
	figures, ok := Equilibrium("air/test", "at the test", in("T", temp), in("H", humidity))
	if !ok {
		return 0, false
	}
	v, _ := figures[len(figures)-1].Value.Float64()
	return v, true
}

// TestEMC: every cell of Table 4-2 of the Wood Handbook (testdata/emc.csv names its source) within 0.07.
func TestEMC(t *testing.T) {
	data, err := os.ReadFile("../../testdata/emc.csv")
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(strings.NewReader(string(data)))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
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

// TestMovement: the example of the Wood Handbook, p. 13-18 (wording from memory): flat-sawn white fir, 9.15 in wide, from 8 to 11 %, coefficient 0.00245: 9.15·0.00245·3 = 0.067.
func TestMovement(t *testing.T) {
	got := Movement(length.Length(9.15*float64(length.Inch)), 245, 8000, 11000).Float() / 25.4
	if math.Abs(got-0.067) > 0.0005 {
		t.Errorf("%v in, want 0.067", got)
	}
	if back := Movement(length.Inch, 245, 11000, 8000); back != -Movement(length.Inch, 245, 8000, 11000) {
		t.Errorf("%v on the way back", back)
	}
}
