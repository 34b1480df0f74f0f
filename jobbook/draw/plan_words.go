package draw

import (
	"fmt"
	"strings"
)

// caption is what stands under a plan.
func (g *planGroup) caption(part planPart, missed []string, small bool) []string {
	unit := (&model{style: g.style}).unit()
	var say []string
	add := func(format string, a ...any) { say = append(say, fmt.Sprintf(format, a...)) }
	switch {
	case part.over:
		add("Overview from above; each run follows by itself. %s.", unit)
		for _, i := range part.tracks {
			t := g.tracks[i]
			if i >= mostPieces {
				add("%s more not listed.", counted(len(part.tracks)-mostPieces, "run", "runs"))
				break
			}
			add("%d: %s, %s.", t.number, fit(t.title, g.width), t.words)
		}
	case part.piece > 0:
		add("%s, run %d of %d, from above, laid level. %s from face to face at the floor.", fit(g.tracks[part.tracks[0]].title, g.width), part.piece, part.of, unit)
	default:
		add("From above. %s from face to face at the floor.", unit)
	}
	var unknown, narrow, unplaced []string
	var both []string // whose stair may lie on either side
	raked := false
	for _, i := range part.tracks {
		t := g.tracks[i]
		raked = raked || len(t.risers) > 0
		if len(t.risers) > 0 && len(t.sides) > 1 {
			both = append(both, fit(t.title, g.width))
		}
		if !t.known {
			unknown = append(unknown, fit(t.title, g.width))
		}
		if t.wide <= 0 && t.known {
			narrow = append(narrow, fit(t.title, g.width))
		}
		if t.unsaid {
			unplaced = append(unplaced, fit(t.title, g.width))
		}
	}
	if len(unknown) > 0 {
		add("Dashed: %s; length to be measured, not to scale.", and(unknown))
	}
	if len(narrow) > 0 {
		add("Dashed: %s; the width of the rail is to be settled.", and(narrow))
	}
	if raked && !part.over {
		add("Risers are drawn short: how wide the stair is does not follow from the readings of its guard.")
	}
	if len(both) > 0 && !part.over {
		add("On which side of %s the stair lies was not said: its risers are drawn on both.", and(both))
	}
	if len(unplaced) > 0 {
		add("Risers of %s are to be measured.", and(unplaced))
	}
	pen := planPen{g: g}
	var missing []string
	for _, k := range pen.posts(part) {
		p := g.posts[k]
		if p.wide <= 0 && !p.half {
			missing = append(missing, plain(p.name))
		}
		if part.piece > 0 || part.over {
			for _, t := range p.turns {
				if !part.over && t.from != g.tracks[part.tracks[0]].title && t.to != g.tracks[part.tracks[0]].title {
					continue
				}
				if assumed := ""; !t.square() || t.assumed {
					if t.assumed && part.over && len(g.assumed) > 0 {
						continue // said below
					}
					if t.assumed {
						assumed = ", assumed"
					}
					add("At %s from %s into %s: %s%s.", plain(p.name), t.from, t.to, t.words(), assumed)
				}
			}
		}
	}
	if len(missing) > 0 {
		add("Dashed: %s; the newel is to be chosen.", and(missing))
	}
	if part.piece == 0 {
		for _, words := range g.assumed {
			add("%s", strings.TrimSuffix(words, ".")+".")
		}
		if len(g.left) > 0 {
			add("Not drawn, its length to be measured: %s.", and(g.left))
		}
	}
	if small {
		add("Posts and rails are drawn wider than they are, to be seen.")
	}
	for _, words := range missed {
		if words != "" {
			add("%s", words)
		}
	}
	return say
}

// describe says in plain words how the runs go.
func (g *planGroup) describe(part planPart) string {
	var say []string
	for _, i := range part.tracks {
		t := g.tracks[i]
		kind := "level run"
		switch {
		case t.raked:
			kind = "flight, uphill"
			if len(t.sides) == 1 {
				kind += map[float64]string{1: ", its stair on the right,", -1: ", its stair on the left,"}[t.sides[0]]
			}
		case t.curved:
			kind = "curved run"
		}
		say = append(say, fmt.Sprintf("%s: %s from %s to %s, %s.", t.title, kind, g.endWords(t.ends[0]), g.endWords(t.ends[1]), t.said))
	}
	pen := planPen{g: g}
	if part.piece == 0 {
		for _, k := range pen.posts(part) {
			for _, t := range g.posts[k].turns {
				assumed := ""
				if t.assumed {
					assumed = ", assumed"
				}
				say = append(say, fmt.Sprintf("At %s from %s into %s: %s%s.", plain(g.posts[k].name), t.from, t.to, t.words(), assumed))
			}
		}
	}
	return strings.Join(say, " ")
}

func (g *planGroup) endWords(e planEnd) string {
	switch {
	case e.post >= 0:
		return plain(g.posts[e.post].name)
	case e.wall:
		return "wall"
	}
	return or(e.name, "an end to be named")
}
