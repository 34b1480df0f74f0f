package takeoff

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
)

// Setups are the settings of saw and drill in the order in which they change least.
type Setups struct {
	Saws   []SawSetup
	Loose  []Label // pieces without a stop: cut to the opening as it stands
	Drills []DrillSetup
}

// SawSetup is one angle of the saw, and every stop that is set at it.
type SawSetup struct {
	Angle *working.Figure // off square, degrees; nil for a square cut
	Stops []SawStop       // the longest first within a part
}

// SawStop is one setting of the stop, and what is cut at it.
type SawStop struct {
	Setting
	Pieces []Label
}

// Setting is all of a stop but its pieces.
type Setting struct {
	Long  length.Length // to cut at
	Point string        // what it is measured to: long point; empty where the piece is square
	Short length.Length // the short point of the same piece; 0 where it has none
	After length.Length // what a blank comes to, along an edge, once its ends are cut; 0 where it is no blank
	What  string        // of what
	Title string        // of which part
	Part  string        // its name
	Fit   string        // what to know: which end is cut, what is left long
	Both  bool          // both ends are cut at the angle; else the other end is square
	Foot  bool          // where only one is, it is the foot or the lower end
}

// DrillSetup is one bit at one depth through one guide, and every hole that is bored with it.
type DrillSetup struct {
	Wide    length.Length   // of the bit
	Deep    length.Length   // of the hole, along its axis; 0 where it goes through, or is not known
	Through bool            // it goes right through
	Angle   *working.Figure // off square to the face it goes into, degrees; nil for a square one
	Lies    string          // at an angle: plumb, or in line with the rail
	Round   bool            // else a square mortise
	For     string          // what goes in
	Holes   []DrillHoles
}

// DrillHoles are holes alike of one run or post.
type DrillHoles struct {
	Run    string // name of the run
	Where  string
	Count  int
	Note   string
	Figure string           // id of the working of the depth
	Rows   []layout.FootRow // where they are bored at a post's foot
}

// setups groups every cut and every hole by what has to be set for it.
func setups(j *job.Job, l layout.Layout, pieces []layout.Cut, labels []Label, held []Fixing) Setups {
	s := Setups{Saws: saws(l, pieces, labels), Drills: drills(j, l, held)}
	for _, label := range labels {
		if pieces[label.Piece].ToFit {
			s.Loose = append(s.Loose, label)
		}
	}
	return s
}

func run(l layout.Layout, name string) *layout.Run {
	i := slices.IndexFunc(l.Runs, func(r *layout.Run) bool { return r.Name == name })
	if i < 0 {
		return nil
	}
	return l.Runs[i]
}

// saws puts square cuts first, then every angle from the smallest on; within an angle the parts in the order they are cut, and of each the longest first.
func saws(l layout.Layout, pieces []layout.Cut, labels []Label) (list []SawSetup) {
	of := make([][]Label, len(pieces)) // labels stand in the order of their pieces
	for from, to := 0, 0; from < len(labels); from = to {
		i := labels[from].Piece
		for to = from; to < len(labels) && labels[to].Piece == i; to++ {
		}
		of[i] = labels[from:to:to]
	}
	for i, c := range pieces {
		if c.What == "rosette" || c.Length <= 0 || len(of[i]) == 0 || c.What == "newel" && (c.Fit == layout.AsBought || c.Fit == layout.AsBoughtYet) { // not cut; to be measured still; or made already
			continue
		}
		angle := bevel(l, c)
		at := slices.IndexFunc(list, func(s SawSetup) bool { return sameAngle(s.Angle, angle) })
		if at < 0 {
			at = len(list)
			list = append(list, SawSetup{Angle: angle})
		}
		stop := SawStop{Setting: Setting{Long: c.Stick(), What: sawn(c.What), Part: c.Part, Title: c.Title, Fit: c.Fit, Both: c.Beveled[0] && c.Beveled[1], Foot: c.Beveled[0]}}
		switch {
		case c.What == "newel" && angle != nil, c.What == "baluster" && c.Long > 0:
			stop.Long, stop.Point, stop.Short = c.Long, "long point", c.Short
			if c.Short == c.Long { // both ends are cut alike
				stop.Point, stop.Short = pointToPoint, 0
			}
		case c.What == "baluster" && angle != nil: // its foot alone is cut at the angle
			stop.Long, stop.Point = c.Length, "at the axis, to the middle of the foot"
		case c.What == "baluster" || !stop.Both && angle == nil:
			stop.Long = c.Length
		case angle != nil && c.Blank == 0:
			stop.Long, stop.Point = c.Length, pointToPoint
		case angle != nil:
			stop.Point, stop.After = "blank", c.Length
		}
		k := slices.IndexFunc(list[at].Stops, func(s SawStop) bool { return s.Setting == stop.Setting })
		if k < 0 {
			stop.Pieces = of[i]
			list[at].Stops = append(list[at].Stops, stop)
			continue
		}
		list[at].Stops[k].Pieces = append(list[at].Stops[k].Pieces, of[i]...)
	}
	for _, saw := range list { // parts as they come, of each those alike at both ends together, and the longest first
		first := map[string]int{}
		for i, stop := range saw.Stops {
			if _, ok := first[stop.What]; !ok {
				first[stop.What] = i
			}
		}
		slices.SortStableFunc(saw.Stops, func(a, b SawStop) int {
			return cmp.Or(cmp.Compare(first[a.What], first[b.What]), cmp.Compare(endsCut(a), endsCut(b)), cmp.Compare(b.Long, a.Long))
		})
	}
	slices.SortStableFunc(list, func(a, b SawSetup) int { return compareAngles(a.Angle, b.Angle) })
	return list
}

// bevel is the angle that a piece has an end cut at, off square; nil where all is square. The top of a newel is cut to the raked rail over it.
func bevel(l layout.Layout, c layout.Cut) *working.Figure {
	if c.What == "newel" && c.Long > 0 {
		if i := slices.IndexFunc(l.Posts, func(p layout.Post) bool { return p.Name == c.Which }); i >= 0 {
			for _, a := range l.Posts[i].Arrivals {
				if r := run(l, a.Run); a.Over && r != nil && r.Rake != nil {
					return r.Rake.Angle
				}
			}
		}
	}
	if r := run(l, c.Run); r != nil && r.Rake != nil && (c.Beveled[0] || c.Beveled[1]) {
		return r.Rake.Angle
	}
	return nil
}

// endsCut tells apart which ends of a piece are cut at the angle.
func endsCut(s SawStop) int {
	switch {
	case s.Both:
		return 2
	case s.Foot:
		return 1
	}
	return 0
}

// sawn is what a piece is called at the saw: fillets of shoe and rail are one.
func sawn(what string) string {
	if letters[what] == "F" || letters[what] == "T" {
		return "fillet"
	}
	return what
}

// pointToPoint is how a piece is measured whose ends are cut alike at an angle.
const pointToPoint = "along an edge, point to point"

// How a hole lies that is not square to its face.
const (
	plumb  = "plumb"
	inLine = "in line with the rail"
)

// compareAngles puts square first, then the smallest angle, and one that is not known last.
func compareAngles(a, b *working.Figure) int {
	class := func(f *working.Figure) int {
		switch {
		case f == nil:
			return 0
		case !f.Value.Known():
			return 2
		}
		return 1
	}
	if class(a) == 1 && class(b) == 1 {
		return a.Value.Cmp(b.Value)
	}
	return cmp.Compare(class(a), class(b))
}

func sameAngle(a, b *working.Figure) bool { return compareAngles(a, b) == 0 }

// drills puts bits in order of their width, the smallest first, and for each the holes alike in depth and angle together.
func drills(j *job.Job, l layout.Layout, held []Fixing) (list []DrillSetup) {
	add := func(d DrillSetup, h DrillHoles) {
		i := slices.IndexFunc(list, func(x DrillSetup) bool {
			return x.Wide == d.Wide && x.Deep == d.Deep && x.Through == d.Through && x.Round == d.Round && x.For == d.For && x.Lies == d.Lies && sameAngle(x.Angle, d.Angle)
		})
		if i < 0 {
			i = len(list)
			list = append(list, d)
		}
		list[i].Holes = append(list[i].Holes, h)
	}
	for _, r := range l.Runs {
		var rake *working.Figure
		if r.Rake != nil {
			rake = r.Rake.Angle
		}
		for _, h := range r.Holes {
			d := DrillSetup{Wide: h.Wide, Deep: h.Deep, Round: h.Round, For: "balusters"}
			if rake != nil && (h.Where == "in the handrail" || h.Where == "in the shoe") { // plumb holes in what lies along the rake
				d.Angle, d.Lies = rake, plumb
			}
			add(d, DrillHoles{Run: r.Name, Where: h.Where, Count: h.Count, Note: h.Note, Figure: h.Deeps})
		}
		bolt := r.Job.Bolt
		if bolt == nil {
			continue
		}
		exact := func(f *working.Figure) (length.Length, string) {
			if f == nil {
				return 0, ""
			}
			return f.Exact(j.System), f.ID
		}
		for i, e := range []job.End{r.Job.From, r.Job.To} {
			if e.Post == nil || e.Over.Yes {
				continue
			}
			deep, fig := exact(r.RailBores[i].Deep)
			if bolt.Bore.Given {
				add(DrillSetup{Wide: bolt.Bore.Length, Deep: deep, Round: true, For: "rail bolts, in the rail's end on its axis"}, DrillHoles{Run: r.Name, Where: "rail's end at " + e.Post.Name, Count: 1, Figure: fig})
			}
			if bolt.Access.Given {
				up, fig := exact(r.RailBores[i].Access)
				note := ""
				if bolt.Reach.Given {
					note = "its middle " + tape(j, bolt.Reach.Length) + " from the end of the rail"
				}
				add(DrillSetup{Wide: bolt.Access.Length, Deep: up, Round: true, For: "rail bolts, from below"}, DrillHoles{Run: r.Name, Where: "under the rail at " + e.Post.Name, Count: 1, Note: note, Figure: fig})
			}
			if bolt.Pilot.Given {
				lies := ""
				if rake != nil {
					lies = inLine
				}
				add(DrillSetup{Wide: bolt.Pilot.Length, Deep: bolt.InPost.Length, Round: true, Angle: rake, Lies: lies, For: "rail bolts, in the post"}, DrillHoles{Run: r.Name, Where: "post " + e.Post.Name, Count: 1, Note: offMiddle(j, e)})
			}
		}
		for i := range r.Job.Joints {
			if bolt.Bore.Given && len(r.RailPieces) > 0 {
				add(DrillSetup{Wide: bolt.Bore.Length, Round: true, For: "rail bolts, in the rail's end on its axis"}, DrillHoles{Run: r.Name, Where: "both ends at joint " + strconv.Itoa(i+1), Count: 2, Note: "half the bolt in each"})
			}
			if bolt.Access.Given && len(r.RailPieces) > 0 {
				up, fig := exact(cmp.Or(r.RailBores[0].Access, r.RailBores[1].Access))
				note := ""
				if bolt.Reach.Given {
					note = "its middle " + tape(j, bolt.Reach.Length) + " from the joint, on either side"
				}
				add(DrillSetup{Wide: bolt.Access.Length, Deep: up, Round: true, For: "rail bolts, from below"}, DrillHoles{Run: r.Name, Where: "under the rail at joint " + strconv.Itoa(i+1), Count: 1, Note: note, Figure: fig})
			}
		}
	}
	for _, x := range held {
		for _, b := range x.Bores {
			if b.Hole.Bit > 0 {
				where := strings.TrimSpace(x.Where)
				add(DrillSetup{Wide: b.Hole.Bit, Deep: b.Deep, Through: b.Through, Round: true, For: x.With.Title.Text + ": " + b.For}, DrillHoles{Run: x.Run, Where: where, Count: x.Count, Note: b.Hole.Note, Figure: b.Fig, Rows: x.Rows})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b DrillSetup) int {
		return cmp.Or(cmp.Compare(a.Wide, b.Wide), compareAngles(a.Angle, b.Angle), cmp.Compare(a.Deep, b.Deep))
	})
	return list
}

// offMiddle says how far a bolt is moved off the middle of the rail.
func offMiddle(j *job.Job, e job.End) string {
	switch {
	case e.BoltUp.Given:
		return tape(j, e.BoltUp.Length) + " over the middle of the rail"
	case e.BoltLow.Given:
		return tape(j, e.BoltLow.Length) + " under the middle of the rail"
	}
	return ""
}
