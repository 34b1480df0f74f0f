package draw

import (
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
)

// stripRun is a run of 60 in with 10 marks 5 1/2 apart from 5, its name full of what a drawing must not take as its own.
func stripRun() *layout.Run {
	in := length.Inch
	clear := working.Work("run/x/clear", "clear", "L", "in", working.Constant(60))
	r := &layout.Run{ID: "run/x", Name: `x"<&`, Title: `<script>"&`, Clear: clear, Chosen: &layout.Candidate{Count: 10, Spacing: 5*in + in/2, Gap: 4*in + in/4}}
	for k := range 10 {
		at := 5*in + length.Length(k)*(5*in+in/2)
		r.Marks = append(r.Marks, layout.Mark{K: k + 1, At: at, Shoe: at})
	}
	return r
}

var sixteenths = length.Style{System: length.Inches, Division: length.Inch / 16, Rounding: length.Nearest}

// TestStrips: 60 in are 1524 mm: strips of 230 mm with 12 over the next, the last from 1380, make seven, and five go on a sheet.
func TestStrips(t *testing.T) {
	for _, paper := range []Paper{Letter, A4} {
		t.Run(paper.Name, func(t *testing.T) {
			sheets := Strips(stripRun(), sixteenths, paper)
			if len(sheets) != 2 {
				t.Fatalf("%d sheets", len(sheets))
			}
			all := strings.Join(sheets, "")
			for _, svg := range sheets {
				decoder := xml.NewDecoder(strings.NewReader(svg))
				for {
					if _, err := decoder.Token(); err == io.EOF {
						break
					} else if err != nil {
						t.Fatal(err)
					}
				}
			}
			for _, want := range []string{">5</text>", ">10 1/2</text>", ">54 1/2</text>", ">60</text>", ">100 mm</text>", ">4 in</text>", "&lt;script&gt;"} {
				if !strings.Contains(all, want) {
					t.Errorf("%s is not on the strips", want)
				}
			}
			if strings.Contains(all, "<script") {
				t.Error("a title became an element")
			}
		})
	}
}

func TestStripsOfNothing(t *testing.T) {
	none := stripRun()
	none.Marks = nil
	long := stripRun()
	long.Clear = working.Work("run/x/clear", "clear", "L", "in", working.Constant(1000)) // 25.4 m
	for name, r := range map[string]*layout.Run{"no run": nil, "no marks": none, "over 20 m": long} {
		t.Run(name, func(t *testing.T) {
			if got := Strips(r, sixteenths, A4); got != nil {
				t.Errorf("%d sheets", len(got))
			}
			if want := map[string]string{"over 20 m": "it is over 20 m long: set its marks out with a tape"}[name]; NoStrip(r, sixteenths) != want {
				t.Errorf("says %q, want %q", NoStrip(r, sixteenths), want)
			}
		})
	}
}

// TestNoStripOfACurve: a curved run has no strip, and that is said; a straight one has.
func TestNoStripOfACurve(t *testing.T) {
	r := stripRun()
	if why := NoStrip(r, sixteenths); why != "" {
		t.Errorf("straight: %q", why)
	}
	r.Curve = &layout.Curve{Radius: 36 * length.Inch}
	if why := NoStrip(r, sixteenths); !strings.HasPrefix(why, "it is curved") || Strips(r, sixteenths, Letter) != nil {
		t.Errorf("curved: %q", why)
	}
}

// TestBallCard: a limit of 4 in is a circle of 50.8 mm radius; one of 8 in has no room between the margins.
func TestBallCard(t *testing.T) {
	if got := BallCard(4*length.Inch, []string{`<Gallery>`, "Return"}, sixteenths, Letter); !strings.Contains(got, `r="50.800"`) || !strings.Contains(got, "4 in") || !strings.Contains(got, ", for &lt;Gallery&gt;; Return.") {
		t.Error(got)
	}
	if got := BallCard(8*length.Inch, nil, sixteenths, Letter); got != "" {
		t.Error("a disc larger than the paper")
	}
}

// raked is stripRun on a flight of 7 1/2 on 10, 3 in 4: 60 in level are 75 along the rake, the marks 1 1/4 times as far.
func raked() *layout.Run {
	in := length.Inch
	r := stripRun()
	r.Rake = &layout.Rake{Rise: 45 * in, Going: 60 * in, Nosing: in, To: 60 * in,
		Angle: &working.Figure{Value: exact.New(3687, 100)}, Square: &working.Figure{Unit: "in", Value: exact.New(9, 1)}}
	for n := range length.Length(7) {
		going := 10 * in
		if n == 6 {
			going = 0
		}
		r.Rake.Treads = append(r.Rake.Treads, layout.Tread{N: int(n) + 1, At: n * 10 * in, Height: (n + 1) * 15 * in / 2, Going: going})
	}
	for i := range r.Marks {
		r.Marks[i].Along = r.Marks[i].At * 5 / 4
		r.Marks[i].Shoe = r.Marks[i].Along
	}
	return r
}

// onTreads has two balusters on each of six treads, the third of which is deeper, one on the landing and one before the lowest riser.
func onTreads() *layout.Run {
	in := length.Inch
	r := raked()
	r.Rake.OnTreads, r.Marks = true, []layout.Mark{{Tread: 0, Riser: -4 * in}}
	r.Rake.Treads[2].Going += in / 4
	for n := 1; n <= 6; n++ {
		r.Marks = append(r.Marks, layout.Mark{Tread: n, Riser: 5 * in / 8}, layout.Mark{Tread: n, Riser: 45 * in / 8})
	}
	r.Marks = append(r.Marks, layout.Mark{Tread: 7, Riser: 5 * in / 8})
	return r
}

func TestRakedStrips(t *testing.T) {
	sheets := Strips(raked(), sixteenths, Letter)
	// 75 in are 1905 mm: nine strips of 230 with 12 over the next, five on a sheet.
	if len(sheets) != 2 {
		t.Fatalf("%d sheets", len(sheets))
	}
	all := strings.Join(sheets, "")
	// The first mark at 5 in is 6 1/4 along, 158.75 mm; the last at 54 1/2 is 68 1/8.
	for _, want := range []string{"along the rake, on the shoe", ">6 1/4</text>", ">68 1/8</text>", ">75</text>", `x1="158.750"`} {
		if !strings.Contains(all, want) {
			t.Errorf("%s is not on the strips", want)
		}
	}
	unread := raked()
	unread.Rake.Going = 0
	if got := Strips(unread, sixteenths, Letter); got != nil {
		t.Errorf("%d sheets of a rake that is not known", len(got))
	}
}

func TestTreadStrips(t *testing.T) {
	for _, paper := range []Paper{Letter, A4} {
		t.Run(paper.Name, func(t *testing.T) {
			all := strings.Join(Strips(onTreads(), sixteenths, paper), "")
			for _, want := range []string{
				"floor before the lowest riser", "treads 1, 2, 4 to 6", "tread 3", "landing", // the kinds
				">4 before</text>", ">5/8</text>", ">5 5/8</text>", ">10</text>", ">10 1/4</text>", // marks, and where the next riser stands
				">next riser</text>", ">lowest riser</text>", ">riser</text>", "4 in and 100 mm", "&lt;script&gt;",
			} {
				if !strings.Contains(all, want) {
					t.Errorf("%s is not on the strips", want)
				}
			}
			if strings.Contains(all, "<script") {
				t.Error("a title became an element")
			}
			// From 6 mm beyond the nosing of 25.4 to the next riser at 254 are 285.4 mm: more than either paper, so that a tread goes on; the
			// riser stands 31.4 mm from the left, the mark at 5/8 in 15.875 mm further.
			for _, want := range []string{"part 1 of 2", "part 2 of 2", "left end on the cross of part 1", `x1="31.400"`, `x1="47.275"`} {
				if !strings.Contains(all, want) {
					t.Errorf("%s is not on the strips", want)
				}
			}
		})
	}
	short := onTreads()
	for i := range short.Rake.Treads {
		short.Rake.Treads[i].Going = 8 * length.Inch
	}
	if all := strings.Join(Strips(short, sixteenths, Letter), ""); strings.Contains(all, "part 2") || !strings.Contains(all, "treads 1 to 6") {
		t.Error("a tread of 8 in has room on one strip, and all are alike")
	}
}

// TestStripsOfOddFlights: whatever marks a flight holds, sheets are whole and few, or there are none.
func TestStripsOfOddFlights(t *testing.T) {
	most := 9_223_372_036_854_775_807 * length.Nanometre
	for name, change := range map[string]func(r *layout.Run){
		"no treads":  func(r *layout.Run) { r.Rake.Treads = nil },
		"no job":     func(r *layout.Run) { r.Job = nil },
		"huge marks": func(r *layout.Run) { r.Marks[0].Riser, r.Marks[3].Riser = -most, most },
		"huge steps": func(r *layout.Run) { r.Rake.Treads[1].Going, r.Rake.Nosing = most, most },
		"backwards":  func(r *layout.Run) { r.Rake.Treads[1].Going, r.Rake.Nosing = -most, -most },
		"no figures": func(r *layout.Run) { r.Rake.Angle, r.Rake.Square, r.Clear, r.Chosen = nil, nil, nil, nil },
	} {
		t.Run(name, func(t *testing.T) {
			for _, r := range []*layout.Run{onTreads(), raked()} {
				change(r)
				sheets := append(Strips(r, sixteenths, Letter), BevelCard(r, sixteenths, Letter))
				if len(sheets) > 100 {
					t.Errorf("%d sheets", len(sheets))
				}
				for _, svg := range sheets {
					decoder := xml.NewDecoder(strings.NewReader(svg))
					for {
						if _, err := decoder.Token(); err == io.EOF {
							break
						} else if err != nil {
							t.Fatal(err)
						}
					}
				}
			}
		})
	}
}

// TestBevelCard: 8 in level are 203.2 mm, and 3 in 4 of them 152.4 plumb. Letter has 215.9 - 2·12 - 26 - 8 = 157.9 for that under its bars; A4 has
// 152, which is 202.667 level.
func TestBevelCard(t *testing.T) {
	got := BevelCard(raked(), sixteenths, Letter)
	for _, want := range []string{"36.87°", "level: 12 on the steel square", "plumb: 9", "&lt;script&gt;", `<line x1="204.200" y1="183.900" x2="204.200" y2="31.500"`} {
		if !strings.Contains(got, want) {
			t.Errorf("%s is not on the card", want)
		}
	}
	if got := BevelCard(raked(), sixteenths, A4); !strings.Contains(got, `<line x1="1.000" y1="178.000" x2="203.667" y2="178.000"`) {
		t.Error(got)
	}
	if BevelCard(stripRun(), sixteenths, Letter) != "" || BevelCard(nil, sixteenths, Letter) != "" {
		t.Error("a card of a level run")
	}
	flat := raked()
	flat.Rake.Rise = 0
	if BevelCard(flat, sixteenths, Letter) != "" {
		t.Error("a card of a rake that is not known")
	}
}
