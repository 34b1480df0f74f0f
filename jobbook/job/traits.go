package job

import (
	"slices"
	"strings"

	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
)

// A trait is a fact about a job that decides which steps and cautions it gets. Each is worked out here and nowhere else.
type trait struct {
	name, doc string
	holds     func(j *Job) bool
}

const (
	leadYear     = 1978 // 40 CFR 745.83: housing built before 1978 (published)
	asbestosYear = 1980 // 29 CFR 1926.1101: surfacing and flooring installed no later than 1980 (published)
)

var traits = []trait{
	{"level-run", "there is a level run", func(j *Job) bool { return anyRun(j, func(r *Run) bool { return r.Stair == nil }) }},
	{"level-rail", "a level run gets a rail of its own, and is not an old guard that stays", func(j *Job) bool { return anyNew(j, func(r *Run) bool { return r.Stair == nil }) }},
	{"raked-rail", "the same of a flight", func(j *Job) bool { return anyNew(j, func(r *Run) bool { return r.Stair != nil }) }},
	{"flight", "there is a flight of stairs", func(j *Job) bool { return anyRun(j, func(r *Run) bool { return r.Stair != nil }) }},
	{"treads", "balusters stand on the treads", func(j *Job) bool { return anyNew(j, func(r *Run) bool { return r.Stair != nil && r.NoShoe }) }},
	{"raked-shoe", "balusters stand on a raked shoe", func(j *Job) bool { return anyNew(j, func(r *Run) bool { return r.Stair != nil && r.Shoe != nil }) }},
	{"curved-run", "a level run is curved", func(j *Job) bool { return anyRun(j, func(r *Run) bool { return r.Radius.Given }) }},
	{"wall-rail", "there is a handrail on the wall beside a flight", func(j *Job) bool {
		return anyRun(j, func(r *Run) bool { return r.Stair != nil && r.Stair.WallRail.Given() })
	}},
	{"several-runs", "there are two runs or flights, or more", func(j *Job) bool { return len(j.Runs) > 1 }},
	{"wall-end", "a run stops at a wall", func(j *Job) bool { return anyNewEnd(j, End.IsWall) }},
	{"unbacked-end", "a rail ends at a wall that has neither a stud nor blocking behind it, or nobody says", func(j *Job) bool {
		return anyNewEnd(j, End.Unbacked)
	}},
	{"post-end", "a run stops at a post", func(j *Job) bool { return anyNewEnd(j, func(e End) bool { return e.Post != nil }) }},
	{"new-guard", "a run or flight gets a rail of its own, and is not an old guard that stays", func(j *Job) bool { return len(j.Runs) == 0 || anyNew(j, func(*Run) bool { return true }) }},
	{"retrofit", "an old guard stays, and new balusters go between its old ones", func(j *Job) bool { return anyRun(j, (*Run).Stays) }},
	{"old-grooves", "new balusters go into grooves of an old shoe or handrail, which fillets fill", func(j *Job) bool {
		return anyRun(j, func(r *Run) bool { return r.Stays() && len(r.Fillets()) > 0 })
	}},
	{"plate-foot", "a post stands on a plate, or nobody says how it is fixed", func(j *Job) bool { return anyFoot(j, "plate") || anyFoot(j, "") }},
	{"bolted-foot", "a post is bolted to the framing", func(j *Job) bool { return anyFoot(j, "bolted") }},
	{"lagged-foot", "a post is held by lag screws into a stringer or a joist", func(j *Job) bool { return anyFoot(j, "lagged") }},
	{"let-in-foot", "a post is let into the floor", func(j *Job) bool { return anyFoot(j, "let in") }},
	{"half-newel", "a half newel is planted on a wall", func(j *Job) bool {
		return slices.ContainsFunc(j.Posts, func(p Post) bool { return p.Part != nil && p.Part.Half.Yes && !j.Stays(&p) })
	}},
	{"rosette", "a rail meets a wall with a rosette", func(j *Job) bool { return anyNewEnd(j, func(e End) bool { return e.Plate != nil }) }},
	{"baseboard", "a clear was taken to a baseboard", func(j *Job) bool { return anyNewEnd(j, func(e End) bool { return e.Face.Text == "baseboard" }) }},
	{"base-trim", "a clear was taken to the trim round a post's base", func(j *Job) bool { return anyNewEnd(j, func(e End) bool { return e.Face.Text == "base trim" }) }},
	{"shoe", "balusters stand on a shoe that is laid", func(j *Job) bool { return anyNew(j, func(r *Run) bool { return r.Shoe != nil }) }},
	{"no-shoe", "balusters stand on the floor", func(j *Job) bool { return anyRun(j, func(r *Run) bool { return r.NoShoe }) }},
	{"fillet", "plows are filled between balusters", func(j *Job) bool { return anyRun(j, func(r *Run) bool { return len(r.Fillets()) > 0 }) }},
	{"turned", "balusters are turned", func(j *Job) bool { return anyBaluster(j, func(b *Baluster) bool { return b.Turned() }) }},
	{"pin-top", "balusters go into bored holes under the rail", func(j *Job) bool { return anyBaluster(j, func(b *Baluster) bool { return b.Top.Text == "pin" }) }},
	{"pin-bottom", "balusters have a pin below", func(j *Job) bool { return anyBaluster(j, func(b *Baluster) bool { return b.Bottom.Text == "pin" }) }},
	{"floor-to-come", "floor is still to be laid", func(j *Job) bool {
		return anyRun(j, func(r *Run) bool { return r.ToCome.Thick.Given || r.ToCome.What.Given })
	}},
	{"level-readings", "a floor was read from a level line", func(j *Job) bool { return anyRun(j, func(r *Run) bool { return len(r.Level) > 0 }) }},
	{"painted", "something gets paint", func(j *Job) bool { return anyFinish(j, func(f *Finish) bool { return f.Type.Text == "paint" }) }},
	{"clear-finish", "something gets a clear finish", func(j *Job) bool { return anyFinish(j, func(f *Finish) bool { return f.Type.Text != "paint" }) }},
	{"stain", "something is stained", func(j *Job) bool { return anyFinish(j, func(f *Finish) bool { return f.Type.Text == "stain" }) }},
	{"oil-finish", "a finish or a coat of it is oil based", func(j *Job) bool {
		return anyFinish(j, func(f *Finish) bool {
			return f.Base.Text == "oil" || slices.ContainsFunc(f.Coats, func(c Coat) bool { return c.Base.Text == "oil" })
		})
	}},
	{"finish", "a finish is chosen", func(j *Job) bool { return anyFinish(j, func(*Finish) bool { return true }) }},
	{"balusters-finished", "the balusters get a finish", func(j *Job) bool {
		return slices.ContainsFunc(j.Finishes, func(u FinishUse) bool { return u.Group == "balusters" && u.Part != nil })
	}},
	{"old-guard", "an old guard is taken out", func(j *Job) bool { return anySurvey(j, func(s *Survey) bool { return s.Goes() }) }},
	{"survey", "an old guard was surveyed", func(j *Job) bool { return len(j.Surveys) > 0 }},
	{"loose-guard", "an old guard gives when pushed, or nobody says", func(j *Job) bool { return anySurvey(j, func(s *Survey) bool { return !s.Loose.Given || s.Loose.Yes }) }},
	{"coated-old-guard", "an old guard that goes is painted, varnished or shellacked, or nobody knows", func(j *Job) bool {
		return anySurvey(j, func(s *Survey) bool { return s.Goes() && s.Coated.Text != "bare" })
	}},
	{"built-before-1978", "the house is from before 1978, or nobody knows; whatever its year where the law is not that of the US, whose year that is", func(j *Job) bool {
		return !j.IsLaw(US) || !j.Built.Given || j.Built.N < leadYear
	}},
	{"surfacing-before-1981", "flooring or surfacing is from 1980 or earlier; where its year is not known, the house's counts; whatever its year where the law is not that of the US, whose year that is", func(j *Job) bool {
		if !j.IsLaw(US) {
			return true
		}
		if j.Surfacing.Given {
			return j.Surfacing.N <= asbestosYear
		}
		return !j.Built.Given || j.Built.N <= asbestosYear
	}},
	{"for-pay", "the work is done for pay, or nobody says", func(j *Job) bool { return !j.ForPay.Given || j.ForPay.Yes }},
	{"children", "small children live or visit there, or nobody says", func(j *Job) bool { return !j.Children.Given || j.Children.Yes }},
	{"drop-over-6-ft", "an open edge is 6 ft up or more, or nobody has measured", func(j *Job) bool {
		const edge = 6 * length.Foot // 29 CFR 1926.501: 6 ft or more above a lower level (published)
		return anyRun(j, func(r *Run) bool { return !r.Drop.Given || r.Drop.Length >= edge })
	}},
	{"oak-or-beech", "a part is oak or beech", func(j *Job) bool {
		return slices.ContainsFunc(j.Species(), func(s string) bool {
			s = strings.ToLower(s)
			return strings.Contains(s, "oak") || strings.Contains(s, "beech")
		})
	}},
}

// TraitNames are the names of the traits with their meaning, as the reference prints them.
var TraitNames = func() []Key {
	var keys []Key
	for _, t := range traits {
		keys = append(keys, Key{Key: t.name, Doc: t.doc})
	}
	return keys
}()

// Traits works out which traits the job has, in the order of the list.
func (j *Job) Traits() []string {
	var names []string
	for _, t := range traits {
		if t.holds(j) {
			names = append(names, t.name)
		}
	}
	return names
}

// Turned reports whether a baluster is turned anywhere.
func (b *Baluster) Turned() bool {
	for _, s := range b.Profile.Stations {
		if s.Round {
			return true
		}
	}
	return false
}

// Gauged reports whether an end of a baluster is as wide as what is gauged of it when it is delivered: the foot, or over a pin the block, and every square block of that width. What is turned
// otherwise has a width of its own, which nobody gauged.
func (b *Baluster) Gauged(end profile.Station) bool {
	return b.Sized && b.Wide.Given && end.Width == b.Wide.Length && (!end.Round || b.Profile.Stations[0] == profile.Station{Width: end.Width, Round: true})
}

// Goes reports whether the surveyed guard is taken out.
func (s *Survey) Goes() bool { return s.Replaced || !s.Removes.Given || s.Removes.Yes }

// Species lists the woods of the parts that the job uses, each once, in the order of the runs.
func (j *Job) Species() []string {
	var list []string
	add := func(t Text) {
		if t.Given && !slices.Contains(list, t.Text) {
			list = append(list, t.Text)
		}
	}
	for _, r := range j.Runs {
		if r.Handrail != nil {
			add(r.Handrail.Species)
		}
		if r.Stair != nil && r.Stair.WallRail.Part != nil {
			add(r.Stair.WallRail.Part.Species)
		}
		if r.Shoe != nil {
			add(r.Shoe.Species)
		}
		if r.Baluster != nil {
			add(r.Baluster.Species)
		}
		for _, f := range r.Fillets() {
			add(f.Species)
		}
		for _, e := range []End{r.From, r.To} {
			if e.Plate != nil {
				add(e.Plate.Species)
			}
		}
	}
	for _, p := range j.Posts {
		if p.Part != nil {
			add(p.Part.Species)
		}
	}
	return list
}

func anyRun(j *Job, is func(*Run) bool) bool { return slices.ContainsFunc(j.Runs, is) }

// anyNew and anyNewEnd ask the runs whose guard does not stay.
func anyNew(j *Job, is func(*Run) bool) bool {
	return anyRun(j, func(r *Run) bool { return !r.Stays() && is(r) })
}

func anyNewEnd(j *Job, is func(End) bool) bool {
	return anyNew(j, func(r *Run) bool { return is(r.From) || is(r.To) })
}

func anyFoot(j *Job, foot string) bool {
	return slices.ContainsFunc(j.Posts, func(p Post) bool { // a half newel is held by its wall
		half := p.Part != nil && p.Part.Half.Yes
		return p.Foot.Text == foot && !half && !j.Stays(&p)
	})
}

func anyBaluster(j *Job, is func(*Baluster) bool) bool {
	return anyRun(j, func(r *Run) bool { return r.Baluster != nil && is(r.Baluster) })
}

func anyFinish(j *Job, is func(*Finish) bool) bool {
	return slices.ContainsFunc(j.Finishes, func(u FinishUse) bool { return u.Part != nil && is(u.Part) })
}

func anySurvey(j *Job, is func(*Survey) bool) bool { return slices.ContainsFunc(j.Surveys, is) }

// Unbacked reports whether a rail ends there at a wall that has neither a stud nor blocking behind it, or of which nobody says.
func (e End) Unbacked() bool {
	half := e.Post != nil && e.Post.Part != nil && e.Post.Part.Half.Yes
	return (e.IsWall() || half) && e.Held.Text != "stud" && e.Held.Text != "blocking"
}
