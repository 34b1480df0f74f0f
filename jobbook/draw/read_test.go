package draw_test

import (
	"encoding/xml"
	"errors"
	"io"
	"strconv"
	"strings"
	"testing"
)

// drawn is an SVG read back: a reader of its own, so that what is tested is what a browser gets.
type drawn struct {
	width, height float64
	ids           []string
	title, desc   string
	texts         []words
	lines         []segment
	circles       []circle
	classes       map[string]int // shapes in each group
}

type words struct {
	text           string
	x1, y1, x2, y2 float64 // of the ink
}

type segment struct {
	class          string
	x1, y1, x2, y2 float64
}

type circle struct{ x, y, r float64 }

func ofSVG(t testing.TB, svg string) drawn {
	t.Helper()
	d := drawn{classes: map[string]int{}}
	decoder := xml.NewDecoder(strings.NewReader(svg))
	decoder.Strict = true
	var class string
	var within []string
	var label *words
	var anchor string
	var turned bool
	for {
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			return d
		}
		if err != nil {
			t.Fatalf("not well formed: %v\n%s", err, svg)
		}
		switch e := token.(type) {
		case xml.StartElement:
			within = append(within, e.Name.Local)
			at := map[string]string{}
			for _, a := range e.Attr {
				if _, twice := at[a.Name.Local]; twice {
					t.Errorf("attribute %s twice", a.Name.Local)
				}
				at[a.Name.Local] = a.Value
			}
			f := func(key string) float64 {
				v, err := strconv.ParseFloat(at[key], 64)
				if err != nil {
					t.Errorf("%s %s=%q: %v", e.Name.Local, key, at[key], err)
				}
				if i := strings.IndexByte(at[key], '.'); i != len(at[key])-3 {
					t.Errorf("%s=%q has not two decimals", key, at[key])
				}
				return v
			}
			if id := at["id"]; id != "" {
				d.ids = append(d.ids, id)
			}
			switch e.Name.Local {
			case "svg":
				d.width, d.height = f("width"), f("height")
			case "g":
				class = at["class"]
			case "path":
				d.classes[class]++
				var p []float64
				for _, s := range strings.FieldsFunc(at["d"], func(r rune) bool { return strings.ContainsRune("MLZ ", r) }) {
					v, err := strconv.ParseFloat(s, 64)
					if err != nil {
						t.Errorf("path %q: %v", at["d"], err)
					}
					p = append(p, v)
				}
				if strings.HasSuffix(at["d"], "Z") {
					p = append(p, p[0], p[1])
				}
				for i := 2; i+1 < len(p); i += 2 {
					d.lines = append(d.lines, segment{class, p[i-2], p[i-1], p[i], p[i+1]})
				}
			case "circle":
				d.classes[class]++
				d.circles = append(d.circles, circle{f("cx"), f("cy"), f("r")})
			case "text":
				label = &words{x1: f("x"), y1: f("y")}
				anchor, turned = at["text-anchor"], at["transform"] != ""
			case "title", "desc":
			default:
				t.Errorf("unexpected element %s", e.Name.Local)
			}
		case xml.EndElement:
			within = within[:len(within)-1]
			if e.Name.Local == "text" {
				d.texts = append(d.texts, ink(*label, anchor, turned))
				label = nil
			}
		case xml.CharData:
			if len(within) == 0 {
				continue
			}
			switch within[len(within)-1] {
			case "title":
				d.title += string(e)
			case "desc":
				d.desc += string(e)
			case "text":
				label.text += string(e)
			}
		}
	}
}

// ink is the box of a text. Advances are those of DejaVu Sans, in thousandths of the size, read from its table of horizontal
// metrics; figures reach 0.76 up, and a descender 0.24 down.
func ink(w words, anchor string, turned bool) words {
	const size = 13
	wide := 0.0
	for _, r := range w.text {
		switch {
		case '0' <= r && r <= '9', strings.ContainsRune("bdghnpquS${}", r):
			wide += 0.636
		case strings.ContainsRune(" ,.'ijlIJ", r):
			wide += 0.318
		case strings.ContainsRune(`/:;\|`, r):
			wide += 0.337
		case strings.ContainsRune("ft-()[]", r):
			wide += 0.392
		case strings.ContainsRune("!r\"", r):
			wide += 0.460
		case strings.ContainsRune("szc*_`°?", r):
			wide += 0.550
		case strings.ContainsRune("aekovxyLFPTYé", r):
			wide += 0.615
		case strings.ContainsRune("ABCEKRVXZ", r):
			wide += 0.698
		case strings.ContainsRune("DGHNOQU&", r):
			wide += 0.787
		case strings.ContainsRune("wM#+<=>^~", r):
			wide += 0.863
		default:
			wide += 1
		}
	}
	wide *= size
	before := map[string]float64{"": 0, "middle": wide / 2, "end": wide}[anchor]
	x, y := w.x1, w.y1
	if turned { // up the sheet
		w.x1, w.x2 = x-0.76*size, x+0.24*size
		w.y1, w.y2 = y-(wide-before), y+before
		return w
	}
	w.x1, w.x2 = x-before, x+wide-before
	w.y1, w.y2 = y-0.76*size, y+0.24*size
	return w
}
