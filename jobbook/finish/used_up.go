package finish

import (
	"strconv"

	"balustrade/jobbook/job"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Supply is something that coating uses up, beside what is in the cans.
type Supply struct {
	Name   string // as in a price list: sandpaper-180, masking-tape, brush, rag
	Title  string
	Count  int
	Figure *working.Figure // of Count
	At     source.Pos      // where the shop says how far one goes
}

// supplies counts sheets, rolls, brushes and rags. Of sheets and rolls only what the shop has a figure for is counted.
func (w *worker) supplies() {
	add := func(name, title string, f *working.Figure, at source.Pos) {
		if f == nil || !f.Value.Known() {
			return
		}
		const most = 100_000 // of one sort; beyond, something was written wrong
		if n, whole := f.Value.Int64(); whole && 0 < n && n <= most {
			w.out.Supplies = append(w.out.Supplies, Supply{name, title, int(n), f, at})
		}
	}
	s := w.job.Shop.Supplies
	for _, x := range w.out.Sandings {
		grit := strconv.Itoa(x.Grit)
		add(job.Sandpaper+grit, "Sandpaper, "+grit, x.Sheets, s.Sheet.At)
	}
	add(job.MaskingTape, "Masking tape", w.out.Rolls, s.Roll.At)
	finishes, coats := 0, 0
	for _, x := range w.out.Systems {
		if len(x.Finish.Coats) == 0 {
			continue
		}
		finishes++
		for _, c := range x.Finish.Coats {
			coats += max(c.Times.N, 1)
		}
	}
	if finishes == 0 {
		return
	}
	each := func(name, title, id, what, per string, n int, one job.Whole, status working.Status) {
		if !one.Given {
			return
		}
		f := working.Work("coating/"+id, what, "n", "", working.Product(working.Count("m", per, int64(n), source.Pos{}).Because("finishes chosen"), working.Count("q", what+" for each", int64(one.N), one.At)), working.Citation{Text: "so many for each, by the settings", Status: status})
		w.out.Figures = append(w.out.Figures, f)
		add(name, title, f, one.At)
	}
	each(job.Brush, "Brush", "brushes", "brushes", "finishes", finishes, s.Brushes, s.BrushStatus)
	each(job.Rag, "Rag", "rags", "rags", "coats of all finishes", coats, s.Rags, s.RagStatus)
}
