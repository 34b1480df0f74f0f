package working

import (
	"slices"
	"sync"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/length"
)

// Status says how sure a value is; it is printed beside it. The zero value is invalid.
type Status int

// The status words of the library.
const (
	Published      Status = iota + 1 // read in the named standard, handbook or government rule
	Derived                          // arithmetic from published inputs
	CommonPractice                   // a rule of the trade without a source
	Local                            // an amendment or setting of the shop, the job or the authority
	Memory                           // recalled, not confirmed: never judged as pass
)

// Statuses are the words for Status, in order, as they are written in front matter.
var Statuses = []string{"published", "derived", "common practice", "local", "memory"}

// String is the word for the status.
func (s Status) String() string {
	if s < 1 || int(s) > len(Statuses) {
		return "unknown"
	}
	return Statuses[s-1]
}

// Citation names what stands behind a formula or a limit.
type Citation struct {
	Text   string // the clause, table or rule: R312.1.3
	Status Status
}

// Geometry is the citation of figures that follow from measure and arithmetic alone.
var Geometry = Citation{"geometry", Derived}

// Figure is a number that somebody acts on, with its working.
type Figure struct {
	ID     string // stable: run/gallery/gap
	Title  string // in words: gap between balusters at the foot
	Symbol string // on the left of the formula: g
	Unit   string // of the value: in, mm, or empty for a plain number
	Expr   Expr
	Value  exact.Number // no number where the formula has no value, and for a series
	Cites  []Citation
	Note   string // a sentence that the reader needs with it
	Series *Series
}

// Series is one formula with many rows.
type Series struct {
	Vars  []string // symbols of what changes
	Names []string // the same in words
	Rows  []Row
}

// Row is one line of a series.
type Row struct {
	Vars  []exact.Number
	Value exact.Number
}

// Work evaluates a formula and keeps it with its result.
func Work(id, title, symbol, unit string, e Expr, cites ...Citation) *Figure {
	f := &Figure{ID: id, Title: title, Symbol: symbol, Unit: unit, Expr: e, Cites: cites}
	f.Value = e.eval(nil)
	return f
}

// WorkSeries evaluates a formula once for each row of variables.
func WorkSeries(id, title, symbol, unit string, e Expr, vars, names []string, rows [][]exact.Number, cites ...Citation) *Figure {
	f := &Figure{ID: id, Title: title, Symbol: symbol, Unit: unit, Expr: e, Cites: cites}
	s := &Series{Vars: vars, Names: names, Rows: make([]Row, 0, len(rows))}
	at := make(map[string]exact.Number, len(vars))
	for _, row := range rows {
		for i, v := range vars {
			at[v] = row[i]
		}
		s.Rows = append(s.Rows, Row{row, e.eval(at)})
	}
	f.Series = s
	return f
}

// Noted adds the sentence that the reader needs with the figure.
func (f *Figure) Noted(note string) *Figure { f.Note = note; return f }

// As makes the figure an input of another one.
func (f *Figure) As(symbol string) *Input {
	return &Input{Symbol: symbol, Name: f.Title, Value: f.Value, Unit: f.Unit, Figure: f.ID}
}

// In makes the figure an input of another one, under its own symbol.
func (f *Figure) In() *Input { return f.As(f.Symbol) }

// Length is the result as a length rounded in the direction named; zero where there is none.
func (f *Figure) Length(system length.System, division length.Length, how length.Rounding) length.Length {
	if f == nil || !f.Value.Known() {
		return 0
	}
	return length.Of(f.Value, system, division, how)
}

// Exact is the result as a length to the nanometre.
func (f *Figure) Exact(system length.System) length.Length {
	return f.Length(system, length.Nanometre, length.Nearest)
}

// Symbols prints the formula with symbols: (L - n * b) / (n + 1).
func (f *Figure) Symbols() string { return f.print(false) }

// Numbers prints the formula with the numbers put in: (94.4375 - 17 * 1.25) / (17 + 1).
func (f *Figure) Numbers() string { return f.print(true) }

func (f *Figure) print(numbers bool) string {
	room := rooms.Get().(*[]byte)
	*room = f.Expr.write((*room)[:0], numbers, 0)
	text := string(*room)
	rooms.Put(room)
	return text
}

// rooms are what formulas are printed in.
var rooms = sync.Pool{New: func() any { return new([]byte) }}

// Result prints the value in decimals of its unit.
func (f *Figure) Result() string { return Decimal(f.Value) }

// Inputs lists what goes in, each symbol once, in the order of the formula.
func (f *Figure) Inputs() []*Input {
	const few, most = 16, 4 // few are looked through sooner than looked up; most formulas have no more
	list := make([]*Input, 0, most)
	var seen map[string]bool
	f.Expr.inputs(func(in *Input) {
		if len(list) < few {
			if !slices.ContainsFunc(list, func(x *Input) bool { return x.Symbol == in.Symbol }) {
				list = append(list, in)
			}
			return
		}
		if seen == nil {
			seen = map[string]bool{}
			for _, x := range list {
				seen[x.Symbol] = true
			}
		}
		if !seen[in.Symbol] {
			seen[in.Symbol] = true
			list = append(list, in)
		}
	})
	return list
}
