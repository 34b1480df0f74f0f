package takeoff

import (
	"fmt"
	"slices"
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/wood"
	"balustrade/jobbook/working"
)

// Fixing is what holds one joint, or all joints of a sort in one run.
type Fixing struct {
	Fastening *job.Fastening
	With      *job.Fixing
	Run       string // name of the run; empty for a post
	Where     string // the end, or the post
	Count     int
	Places    []length.Length  // along the run from its datum, where they have places of their own
	Rows      []layout.FootRow // where they have places at a post's foot
	Through   string           // what it passes, with its wood
	Into      string           // what it holds in, with its wood
	Bores     []Bore
	Driver    string
	Wax       bool
	Glue      bool // goes in as well
	Notes     []string
}

// Bore is one hole for a fixing. Bit is 0 while it is not known.
type Bore struct {
	For     string // clearance, pilot, head, plug
	Hole    wood.Hole
	Deep    length.Length // 0 where it goes right through, or is not known
	Through bool          // it goes right through everything
	Fig     string        // id of the working of its figure; empty where it is a chart's
}

// fixings works out what holds every joint.
func (t *taking) fixings(l layout.Layout) (list []Fixing) {
	glued := false
	for _, p := range t.places(l) {
		ways := t.job.Ways(p.joint)
		if p.pinned && len(ways) > 0 { // glued in its hole, whatever else is used elsewhere
			ways = ways[:1]
		}
		for _, f := range ways {
			with := f.Part
			if p.pinned {
				with = t.glue()
			}
			if with == nil {
				if !p.pinned && !f.With.Given {
					t.wanting(f, "what it is made with: "+f.Title.Text, "with", f.With.At)
				}
				continue
			}
			x := Fixing{Fastening: f, With: with, Where: p.where, Count: p.times * f.Count.OrOne(), Glue: f.Glue.Yes && with.Type.Text != "glue"}
			if p.run != nil {
				x.Run = p.run.Name
			}
			switch {
			case p.to > p.from && f.Each.Given:
				x.Places = p.spread(f.End.Length, f.Each.Length)
				x.Count = len(x.Places) * f.Count.OrOne()
			case p.to > p.from:
				t.wanting(f, "how far apart they stand: "+f.Title.Text, "each", f.Each.At)
			case p.joint == "bracket to rail":
				if i := slices.IndexFunc(list, func(o Fixing) bool { return o.Run == x.Run && o.Fastening.Joins.Text == "wall rail bracket" }); i >= 0 {
					x.Count = len(list[i].Places) * f.Count.OrOne()
				}
			}
			if x.Count == 0 {
				continue
			}
			x.Rows = rowsAt(l, p, with)
			t.hold(&x, p)
			t.covered(&x, p)
			t.plated(&x, ways)
			list = append(list, x)
			glued = glued || x.Glue || with.Type.Text == "glue"
			what := strings.TrimSpace(f.Title.Text + " " + x.Where)
			if with.Type.Text != "glue" {
				t.fixing(with, x.Count, what, "fixings")
			}
			if f.Cover != nil && !p.pinned {
				t.fixing(f.Cover, x.Count, "over "+with.Title.Text+" "+x.Where, "fixings")
			}
		}
	}
	if g := t.glue(); glued && g != nil {
		t.fixing(g, 1, "one container: how far it goes is on its label", "common practice")
	}
	return list
}

// fixing adds pieces of a fixing to what is ordered.
func (t *taking) fixing(part *job.Fixing, n int, what, because string) {
	t.account("fixing", part.Origin, part.Title, job.Text{}).count(n, working.Count("", strings.TrimSpace(what), int64(n), source.Pos{}).Because(because))
}

// wanting asks for what a fastening leaves blank.
func (t *taking) wanting(f *job.Fastening, what, key string, at source.Pos) {
	if at.IsZero() {
		at = source.Pos{File: f.File}
	}
	t.miss(finding.Reading{What: what, Where: f.File + ", " + key + ": ", Why: "what goes in, and how many to order", Group: "fixings", At: at})
}

// miss names a reading once.
func (t *taking) miss(r finding.Reading) {
	if !slices.ContainsFunc(t.missing, func(o finding.Reading) bool { return o.What == r.What && o.Where == r.Where }) {
		t.missing = append(t.missing, r)
	}
}

// covered says where a plug does not fill the bore that it is for.
func (t *taking) covered(x *Fixing, p place) {
	if p.joint != "access bore" || x.With.Type.Text != "plug" || !x.With.Wide.Given || p.run == nil || p.run.Job.Bolt == nil {
		return
	}
	if bore := p.run.Job.Bolt.Access; bore.Given && bore.Length != x.With.Wide.Length {
		x.Notes = append(x.Notes, fmt.Sprintf("it does not fit: the plug is %s across and the bore %s; take another plug, or another bit for the bore", t.tape(x.With.Wide.Length), t.tape(bore.Length)))
	}
}

// plated asks for the screws of a plate, which are its maker's, unless the shop has written them down as a way of their own.
func (t *taking) plated(x *Fixing, ways []*job.Fastening) {
	screws := func(f *job.Fastening) bool {
		return f.Part != nil && slices.Contains([]string{"wood screw", "lag screw", "bolt"}, f.Part.Type.Text)
	}
	if x.With.Type.Text != "plate" || slices.ContainsFunc(ways, screws) {
		return
	}
	x.Notes = append(x.Notes, "its screws, how many and with which pilots and driver: to be chosen, by its maker's papers")
	what := "the screws of " + x.With.Title.Text + ": which, how many, with which pilots"
	if !slices.ContainsFunc(t.asks, func(r finding.Reading) bool { return r.What == what }) {
		t.ask(what, x.With.File, "its rating holds only with what its maker's papers name", source.Pos{File: x.With.File})
	}
}

func (t *taking) glue() *job.Fixing {
	for _, f := range t.job.Fixings {
		if f.Type.Text == "glue" {
			return f
		}
	}
	return nil
}

// most bounds how many fixings stand along one piece: more are a slip of the pen.
const most = 1000

// rowsAt are the heights at which a post's foot is bored for its bolts or lag screws.
func rowsAt(l layout.Layout, p place, with *job.Fixing) []layout.FootRow {
	if p.post == nil || !p.post.Rowed() || with.Type.Text != "bolt" && with.Type.Text != "lag screw" {
		return nil
	}
	if i := slices.IndexFunc(l.Posts, func(o layout.Post) bool { return o.Name == p.post.Name }); i >= 0 {
		return l.Posts[i].Rows
	}
	return nil
}
