package draw

import (
	"fmt"
	"strings"

	"balustrade/jobbook/length"
)

// describe says in plain words what the drawing shows.
func (v *view) describe() string {
	m := v.m
	with := m.style.With
	var say []string
	add := func(format string, a ...any) { say = append(say, fmt.Sprintf(format, a...)) }
	if v.whole() {
		add("Level run from %s on the left to %s on the right.", m.endWords(0), m.endWords(1))
		clear := "clear at the foot"
		if v.alone {
			clear = "length"
		}
		if m.known {
			add("%s %s.", strings.ToUpper(clear[:1])+clear[1:], with(m.clearLength()))
		} else {
			add("The %s is to be measured.", clear)
		}
		if m.r.Job != nil && !v.alone {
			if read := m.r.Job.Clear("rail"); read.Given {
				add("Clear at the rail %s.", with(read.Length))
			} else {
				add("The clear at the rail is to be measured.")
			}
		}
		if m.top > 0 {
			add("Top of the rail %s above the floor at the left end.", with(m.r.Levels.RailTop))
			if v.finished() {
				add("Top of the rail %s above the finished floor.", with(m.r.Levels.Finished))
			}
		} else {
			add("The height is to be measured.")
		}
	}
	n := len(m.marks)
	switch {
	case m.r.Chosen == nil && n == 0:
		add("Not laid out yet.")
	case v.whole():
		add("%s.", strings.ToUpper(m.counted(n)[:1])+m.counted(n)[1:])
		if words := m.oldWords(); words != "" {
			add("%s", words)
		}
		if g := m.r.Gap; g != nil && g.Value.Known() && n > 0 && !v.alone {
			system := m.style.System
			if g.Unit == length.Millimetres.String() {
				system = length.Millimetres
			}
			add("Gap at the foot %s.", with(g.Exact(system)))
		}
	}
	if h := m.r.Handrail; h != nil && v.whole() && !v.alone && h.Length > 0 {
		add("Handrail %s.", with(h.Length))
	}
	for _, h := range m.r.ShoeCuts() {
		if v.whole() && !v.alone && h.Length > 0 {
			add("Shoe %s.", with(h.Length))
		}
	}
	if o := m.worstOpening(); o != nil && (v.whole() || v.hasBall()) {
		switch {
		case o.Worst >= length.Most:
			add("The %sis wider than any reading.", strings.ToLower(worstWords(v.alone)))
		default:
			add("%s%s %s, %s.", worstWords(v.alone), m.decimal(o.Worst), m.style.System, plain(o.Where))
		}
	}
	if !v.bare && n > 0 && (v.of > 0 || v.marking().whole()) {
		var list []string
		for _, k := range m.marks[v.first:v.last] {
			list = append(list, k.text)
		}
		add("Marks from the left face to the centres of balusters %d to %d, in %s: %s.", m.marks[v.first].k, m.marks[v.last-1].k, m.style.System, strings.Join(list, "; "))
	}
	if v.whole() {
		say = append(say, v.notes()...)
	}
	return strings.Join(say, " ")
}

// worstWords is what the worst opening is called, at the beginning of a sentence; for whoever lives there without judging it.
func worstWords(alone bool) string {
	if alone {
		return "Widest opening "
	}
	return "Worst opening "
}

// endWords names an end.
func (m *model) endWords(i int) string {
	e := m.ends[i]
	switch {
	case e.name == "":
		return "an end to be named"
	case !e.known:
		return e.name + " (to be measured)"
	}
	return e.name
}

// unit names the unit of what is written, to begin a sentence.
func (m *model) unit() string {
	if m.style.System == length.Millimetres {
		return "Millimetres"
	}
	return "Inches"
}

// endLabel is what an end is called in a drawing.
func (m *model) endLabel(i int) string {
	e := m.ends[i]
	switch {
	case e.name == "":
		return "to be named"
	case !e.known:
		return e.name + ", to be measured"
	}
	return e.name
}
