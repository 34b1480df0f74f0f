package takeoff

import (
	"slices"

	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/money"
)

// Fate is what becomes of a piece that is made already. The zero value is invalid.
type Fate int

// What becomes of a piece.
const (
	AsItIs  Fate = iota + 1 // it goes in a place as it is
	Trimmed                 // it goes in a place once it is trimmed
	Recut                   // the cutting plan cuts other pieces from it
	ToRack                  // nothing takes it; it is long enough to keep
	Left                    // as good as others of its part, but no place is left for it
	Lost                    // nothing takes it
	Unknown                 // waits for a reading
)

var fateWords = [...]string{AsItIs: "fits as it is", Trimmed: "fits if trimmed", Recut: "is cut into other pieces", ToRack: "goes to the rack", Left: "is left over", Lost: "is lost", Unknown: "to be measured"}

// String is the fate in words.
func (f Fate) String() string {
	if f < AsItIs || f > Unknown {
		return "invalid"
	}
	return fateWords[f]
}

// Made is one piece that is made already, and what becomes of it.
type Made struct {
	Of    *job.Made
	Title string // of its part
	Fate  Fate
	Mark  string        // of the place it takes, AsItIs or Trimmed
	Piece int           // index in Takeoff.Pieces of that place; -1 for none
	N     int           // and which of them, from 1
	Own   bool          // it is the place that it was made for
	To    length.Length // that it is trimmed to
	Off   length.Length // that comes off it
	Cuts  []StickPiece  // of one that is cut into other pieces
	Rest  length.Length // of it, or of what was trimmed off, that goes to the rack; 0 for none
	Why   string        // in words, why it goes nowhere, or what it waits for
	Cost  job.Amount    // of the material in one that is lost; not given where no price is known

	Figure string // id of the working of Cost
	slot   *slot
	way    way
}

// Turned reports a rail that goes in the other way round than it was made.
func (m Made) Turned() bool { return m.Piece >= 0 && m.way.turned }

// MadeTake is what becomes of all pieces that are made already.
type MadeTake struct {
	Pieces   []Made
	Lost     int         // how many are
	Cost     money.Money // of all that are lost, as far as prices are known
	Unpriced int         // lost ones whose price is not known
	Figure   string      // id of the working of Cost
}

// Used is how many places of a part are taken by pieces that are made.
func (m MadeTake) Used(kind, part string) (n int) {
	for _, x := range m.Pieces {
		if x.Piece >= 0 && x.Of.Ware() == kind && x.Of.Part.Text == part {
			n++
		}
	}
	return n
}

// Of is how many pieces of a part were made, whatever became of them.
func (m MadeTake) Of(kind, part string) (n int) {
	for _, x := range m.Pieces {
		if x.Of.Ware() == kind && x.Of.Part.Text == part {
			n++
		}
	}
	return n
}

// At is the piece that takes a place: index in Takeoff.Pieces, and which of them; nil for none.
func (m MadeTake) At(piece, n int) *Made {
	for i := range m.Pieces {
		if m.Pieces[i].Piece == piece && m.Pieces[i].N == n {
			return &m.Pieces[i]
		}
	}
	return nil
}

// taken are the places that made pieces take.
func (m MadeTake) taken() map[[2]int]bool {
	list := map[[2]int]bool{}
	for _, x := range m.Pieces {
		if x.Piece >= 0 {
			list[[2]int{x.Piece, x.N}] = true
		}
	}
	return list
}

// uncut are labels of pieces that are still to be cut: all but those that go in as they are.
func (m MadeTake) uncut(marks []Label) []Label {
	done := map[[2]int]bool{}
	for _, x := range m.Pieces {
		if x.Fate == AsItIs {
			done[[2]int{x.Piece, x.N}] = true
		}
	}
	if len(done) == 0 {
		return marks
	}
	return slices.DeleteFunc(slices.Clone(marks), func(l Label) bool { return done[[2]int{l.Piece, l.N}] })
}

// drilled is what is drilled already in pieces that go in, by run and place: holes for balusters, bores in rails' ends, bores in newels.
func (m MadeTake) drilled() map[[2]string]bool {
	done := map[[2]string]bool{}
	for _, x := range m.Pieces {
		if x.slot == nil || x.Piece < 0 {
			continue
		}
		s := x.slot
		if s.run != nil && len(x.Of.Holes) > 0 && !x.way.deepen {
			done[[2]string{s.run.Name, s.hole.Where}] = true
		}
		if s.run != nil && s.cut.What == "handrail" {
			ends := [2]bool{!x.Of.Bored.From.At.IsZero(), !x.Of.Bored.To.At.IsZero()}
			if x.way.turned {
				ends[0], ends[1] = ends[1], ends[0]
			}
			switch {
			case x.Fate != Trimmed: // one end is cut off: with holes the other one than the datum, else one that is not bored
			case len(x.Of.Holes) > 0:
				ends[1] = false
			case ends[0] && ends[1]:
				ends = [2]bool{}
			}
			for i, e := range []job.End{s.run.Job.From, s.run.Job.To} {
				if ends[i] && e.Post != nil {
					done[[2]string{s.run.Name, "rail's end at " + e.Post.Name}] = true
				}
			}
		}
		for _, b := range x.Of.Bolts {
			done[[2]string{b.Of.Text, "post " + s.cut.Which}] = true
		}
	}
	return done
}

// undrilled leaves out of the set-ups what is drilled already.
func (m MadeTake) undrilled(list []DrillSetup) (out []DrillSetup) {
	done := m.drilled()
	if len(done) == 0 {
		return list
	}
	for _, d := range list {
		d.Holes = slices.DeleteFunc(slices.Clone(d.Holes), func(h DrillHoles) bool { return done[[2]string{h.Run, h.Where}] })
		if len(d.Holes) > 0 {
			out = append(out, d)
		}
	}
	return out
}

// takeMade takes up every piece that is made, and puts as many as go in the places of the job: those of one part at once, so that what they save is most.
func (t *taking) takeMade(l layout.Layout, all []layout.Cut, marks []Label) {
	if len(t.job.Made) == 0 {
		return
	}
	for _, m := range t.job.Made {
		x := Made{Of: m, Title: t.partTitle(m), Piece: -1}
		if m.Lost.Yes {
			x.Fate, x.Why = Lost, "recorded as lost"
		}
		t.made.Pieces = append(t.made.Pieces, x)
	}
	slots := t.slots(l, all, marks)
	type part struct{ kind, name string }
	var parts []part
	for i := range t.made.Pieces {
		m := t.made.Pieces[i].Of
		if p := (part{m.Ware(), m.Part.Text}); !slices.Contains(parts, p) {
			parts = append(parts, p)
		}
	}
	for _, p := range parts {
		var pieces []*Made
		for i := range t.made.Pieces {
			if x := &t.made.Pieces[i]; x.Of.Ware() == p.kind && x.Of.Part.Text == p.name && x.Fate == 0 {
				pieces = append(pieces, x)
			}
		}
		var places []*slot
		for _, s := range slots {
			if kind(s.cut) == p.kind && s.cut.Part == p.name {
				places = append(places, s)
			}
		}
		t.place(pieces, places)
	}
}

func (t *taking) partTitle(m *job.Made) string {
	for _, a := range t.accounts {
		if a.Kind == m.Ware() && a.Part == m.Part.Text {
			return a.Title
		}
	}
	return m.Part.Text
}
