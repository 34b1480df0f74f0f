package draw

import (
	"fmt"
	"strconv"
	"strings"

	"balustrade/jobbook/length"
)

func number(s step) string { return strconv.Itoa(s.n) }

// words are the trade's, or for an overview those of whoever lives there.
func (v *climb) words(trade, home string) string {
	if v.alone {
		return home
	}
	return trade
}

// counted is so many risers, as one says it.
func (v *climb) counted(risers int) string {
	return counted(risers, v.words("riser", "step"), v.words("risers", "steps"))
}

func (v *climb) title() string {
	t := "Elevation of " + plain(v.f.m.label())
	if v.of > 0 {
		t += ", piece " + v.count()
	}
	return t
}

// caption is what stands under the drawing. written is how many of the view's marks are.
func (v *climb) caption(written int, un unsaid) []string {
	f := v.f
	m, n := f.m, len(f.marks)
	var say []string
	add := func(format string, a ...any) { say = append(say, fmt.Sprintf(format, a...)) }
	if v.of == 0 {
		count := m.counted(n)
		if n == 0 {
			count = "not laid out yet"
			if m.r.Chosen != nil {
				count = "no balusters"
			}
		}
		if f.stair {
			count = v.counted(len(f.steps)) + ", " + count
		}
		add("%s: %s.", fit(m.label(), 2*v.width), count)
	} else {
		treads := fmt.Sprintf("treads %s to %s", number(f.steps[v.low]), number(f.steps[v.high-1]))
		if v.high-v.low == 1 {
			treads = "tread " + number(f.steps[v.low])
		}
		which := "no baluster"
		switch v.last - v.first {
		case 0:
		case 1:
			which = fmt.Sprintf("baluster %d of %d", f.marks[v.first].k, n)
		default:
			which = fmt.Sprintf("balusters %d to %d of %d", f.marks[v.first].k, f.marks[v.last-1].k, n)
		}
		add("%s, %s: %s, %s.", fit(m.label(), v.width), v.count(), treads, which)
	}
	switch {
	case v.bare || v.last == v.first:
		say[0] += " " + m.unit() + "."
	case f.k.OnTreads:
		add("%s; under each tread from the face of its riser to each centre.", m.unit())
	default:
		add("%s; over the rail the marks for the shoe, along the rake from the face at the lower end to each centre.", m.unit())
	}
	if v.follow > 0 && n == 0 {
		add("Each riser and going is in %s.", counted(v.follow, "piece that follows", "pieces that follow"))
	} else if v.follow > 0 {
		add("The marks are in %s.", counted(v.follow, "piece that follows", "pieces that follow"))
	} else if v.bare && n > 0 && !v.alone {
		add("Too long for its marks to be read at this size.")
	}
	if _, numbered, named := v.underGoings(); f.stair && !v.bare && v.low < v.high && numbered && !named {
		add("Under the goings: the numbers of their treads.")
	}
	if v.of > 0 && !v.ends {
		add("Riser %s is drawn again in the next piece.", number(f.steps[v.high]))
	}
	if v.crowded() {
		add("The balusters are too close together to be drawn at this size.")
	}
	if all := v.last - v.first; !v.bare && written < all {
		add("Only %d of its %d marks have room for their words.", written, all)
	}
	if v.more > 0 {
		add("The last %s not drawn in a piece.", counted(v.more, "tread is", "treads are"))
	}
	if un.ball {
		add("%s%s.", worstWords(v.alone), m.decimal(f.worstOpening().Worst))
	}
	if v.of == 0 {
		say = append(say, v.heights(m.style.Print)...)
		say = append(say, v.notes()...)
	}
	var lines []string
	for _, words := range say {
		lines = append(lines, wrap(words, v.width-4)...)
	}
	return lines
}

// heights says how the rail lies.
func (v *climb) heights(print func(length.Length) string) (say []string) {
	f := v.f
	if f.rail {
		say = append(say, "Top of the rail "+print(f.k.Top)+v.words(" above the line of the nosings (dashed), plumb.", " straight up from the front edges of the steps (the dashed line)."))
	}
	rake := ""
	if angle, ok := f.angle(); ok && !v.alone {
		rake = "Rake " + angle + " off level"
		if rise, run, ok := f.square(); ok {
			rake += ", " + rise + " in " + run
		}
		say = append(say, rake+".")
	}
	if f.posts() {
		say = append(say, "Top of the rail "+print(f.post(0))+" above "+v.stands(0)+" at "+f.m.endWords(0)+", "+print(f.post(1))+" above "+v.stands(1)+" at "+f.m.endWords(1)+".")
	}
	return say
}

// stands says what an end stands on.
func (v *climb) stands(i int) string {
	f := v.f
	z := f.stands[i].Float()
	switch {
	case z == f.last().height:
		return "the landing"
	case z == 0:
		return "the floor"
	}
	for _, s := range f.steps {
		if s.height == z {
			return "tread " + number(s)
		}
	}
	return "its foot"
}

// notes are what is not known, or not as it looks.
func (v *climb) notes() []string {
	f := v.f
	m := f.m
	var say []string
	add := func(format string, a ...any) { say = append(say, fmt.Sprintf(format, a...)) }
	switch {
	case !f.stair:
		add("%s to be measured; the dashed stair is not to scale.", v.words("Risers and goings", "The steps are still"))
	case !f.placed:
		add("Where the ends stand is to be measured; they are dashed, not in their places.")
	case !f.k.Measured:
		add("%s; each is to be measured.", v.words("Risers and goings divided evenly", "The steps are drawn all alike"))
	}
	if s := m.r.Job; f.stair && s != nil && s.Stair != nil && !s.Stair.Nosing.Given {
		add("How far the %s is to be measured; drawn without.", v.words("nosings stand out", "treads stand out at the front"))
	}
	if words := m.oldWords(); words != "" {
		add("%s", words)
	}
	switch {
	case !f.rail:
		add("Height to be measured; the dashed rail is not to scale.")
	case !f.sized:
		add("Size of the rail to be settled; dashed: top of the rail.")
	}
	if f.sized && !f.k.OnTreads && f.shoe == [2]float64{} {
		add("What the balusters stand on is to be settled.")
	}
	if len(f.marks) > 0 {
		if _, _, ok := f.stick(f.marks[0]); !ok {
			add("Balusters by their centre lines: their shape or a height is to be settled.")
		}
	}
	if o := f.worstOpening(); f.huge && o != nil && o.Worst < length.Most {
		add("%s%s, too large to be drawn as a ball.", worstWords(v.alone), m.decimal(o.Worst))
	}
	if l := m.r.Lean; l != nil && l.Out && !l.Settled && !v.alone {
		add("An end is out of plumb, which one is to be measured; drawn plumb.")
	}
	if f.lost > 0 {
		add("%s outside the flight and not drawn.", counted(f.lost, "mark lies", "marks lie"))
	}
	return say
}

// describe says in plain words what the drawing shows.
func (v *climb) describe() string {
	f := v.f
	m, with, n := f.m, f.m.style.With, len(f.marks)
	var say []string
	add := func(format string, a ...any) { say = append(say, fmt.Sprintf(format, a...)) }
	if v.of == 0 {
		if f.stair {
			add("Flight of %s, climbing from %s on the left to %s on the right.", v.counted(len(f.steps)), m.endWords(0), m.endWords(1))
			if v.low < v.high {
				add("%s %s, %s %s.", v.words("Rise", "Height"), with(v.rise()), v.words("going", "depth"), with(v.going()))
			}
		} else {
			add("Flight climbing from %s on the left to %s on the right.", m.endWords(0), m.endWords(1))
		}
		if f.placed {
			add("%s between the ends %s.", v.words("Level clear", "Level"), with(f.k.To-f.k.From))
		} else {
			add("The %s between the ends is to be measured.", v.words("level clear", "length"))
		}
		say = append(say, v.heights(with)...)
		if n == 0 && m.r.Chosen == nil {
			add("Not laid out yet.")
		} else {
			add("%s.", m.counted(n))
		}
	}
	if f.stair && !v.bare && v.low < v.high {
		var list []string
		for _, s := range v.risers() {
			list = append(list, s.riser)
		}
		add("Risers %s to %s, in %s: %s.", number(f.steps[v.low]), number(f.steps[v.high]), m.style.System, strings.Join(list, "; "))
		list = nil
		for _, s := range v.treads() {
			list = append(list, s.going)
		}
		add("Goings from tread %s: %s.", number(f.steps[v.low]), strings.Join(list, "; "))
	}
	if o := f.worstOpening(); o != nil && (v.of == 0 || v.hasBall()) {
		if o.Worst >= length.Most {
			add("The %sis wider than any reading.", strings.ToLower(worstWords(v.alone)))
		} else {
			add("%s%s %s, %s.", worstWords(v.alone), m.decimal(o.Worst), m.style.System, plain(o.Where))
		}
	}
	if !v.bare && v.last > v.first {
		say = append(say, v.marksWords())
	}
	if v.of == 0 {
		say = append(say, v.notes()...)
	}
	return strings.Join(say, " ")
}

// marksWords lists the marks: by tread, or along the rake.
func (v *climb) marksWords() string {
	f := v.f
	marks := f.marks[v.first:v.last]
	if !f.k.OnTreads {
		var list []string
		for _, s := range marks {
			list = append(list, s.text)
		}
		return fmt.Sprintf("Marks along the rake from the face at the lower end to the centres of balusters %d to %d, in %s: %s.", marks[0].k, marks[len(marks)-1].k, f.m.style.System, strings.Join(list, "; "))
	}
	var treads []string
	for i := 0; i < len(marks); {
		on := marks[i].on
		where := "floor"
		switch {
		case on == len(f.steps)-1:
			where = "landing"
		case on >= 0:
			where = "tread " + number(f.steps[on])
		}
		var list []string
		for ; i < len(marks) && marks[i].on == on; i++ {
			list = append(list, marks[i].text)
		}
		treads = append(treads, where+": "+strings.Join(list, ", "))
	}
	return "Marks from the face of each tread's riser to the centres, in " + f.m.style.System.String() + "; " + strings.Join(treads, "; ") + "."
}
