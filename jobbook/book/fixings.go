package book

import (
	"fmt"
	"slices"
	"strings"

	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/takeoff"
)

// fixingsPage is what holds every joint: what, how many and where, and how it is bored and driven; first bit by bit.
func (b *book) fixingsPage(w *writer) {
	list := b.plan.Takeoff.Fixings
	if len(list) == 0 {
		return
	}
	w.put(b.failing(""))
	w.line("Every fixing and every hole for one. Depths are those of the bit below the surface that it enters. What is common practice is said to be; what holds a guard up is for an engineer where there is a doubt.")
	w.put(`<section id="bits"><h2>Bit by bit</h2>`, "\n", b.bits(), "</section>\n")
	var joints []*job.Fastening
	for _, x := range list {
		if !slices.Contains(joints, x.Fastening) {
			joints = append(joints, x.Fastening)
		}
	}
	for _, f := range joints {
		w.put(b.fastening(f, list))
	}
}

// bits are the bores in the order of the bits, as on the set-up cards.
func (b *book) bits() markup {
	t := table{label: "Bits, the smallest first", heads: []head{num("Bit", b.unit()), num("Deep", b.unit()), column("For"), num("Holes", "")}, long: true}
	for _, d := range b.plan.Takeoff.Setups.Drills {
		n := 0
		for _, h := range d.Holes {
			n += h.Count
		}
		deep := markup("to be measured")
		switch {
		case d.Deep > 0:
			deep = b.near(d.Deep)
		case d.Through:
			deep = "through"
		}
		what := markup(esc(d.For))
		if d.Angle != nil {
			what += say(`<span class="fit">%s</span>`, b.angleWords(d.Angle))
		}
		t.row(b.bit(d.Wide), deep, what, say("%d", n))
	}
	t.foot = "Each has its card among the set-ups, with the guide and the places."
	var open []string
	for _, x := range b.plan.Takeoff.Fixings {
		for _, bore := range x.Bores {
			if what := x.With.Title.Text + ": " + bore.For; bore.Hole.Bit == 0 && !slices.Contains(open, what) {
				open = append(open, what)
			}
		}
	}
	if len(open) > 0 {
		t.foot += " Not among them yet: " + strings.Join(open, "; ") + "."
	}
	return t.markup()
}

// bit is the size of a drill bit: a real fraction in inches; in a job in millimetres to the tenth, with the fraction that is written on it beside.
func (b *book) bit(l length.Length) markup {
	size, name := b.bitNamed(l)
	return joined(" ", "<b>"+size+"</b>", name)
}

// bitPlain is the same among other sizes.
func (b *book) bitPlain(l length.Length) markup {
	size, name := b.bitNamed(l)
	return joined(" ", size, name)
}

// bitWords is the same in a sentence, with its unit.
func (b *book) bitWords(l length.Length) markup {
	size, name := b.bitNamed(l)
	return joined(" ", say("<b>%s</b> %s bit", size, b.unit()), name)
}

func (b *book) bitNamed(l length.Length) (size, name markup) {
	if b.job.System != length.Millimetres {
		return b.exact(l), ""
	}
	if l%(length.Millimetre/2) != 0 && l%length.Inches.Finest() == 0 { // bits in millimetres come in halves
		name = say("(%s in)", typeset(length.Style{System: length.Inches, Division: length.Inches.Finest(), Rounding: length.Nearest}.Parts(l)))
	}
	if l%b.job.System.Finest() == 0 {
		return b.exact(l), name
	}
	return b.decimals(l, length.Nearest, 1), name
}

func (b *book) fastening(f *job.Fastening, list []takeoff.Fixing) markup {
	var w writer
	w.say(`<section id="fastening-%s"><h2>%s</h2>`+"\n", anchor(f.Name), f.Title.Text)
	t := table{heads: []head{num("How many", ""), column("Where"), column("At")}}
	var specs []markup
	total := 0
	for _, x := range list {
		if x.Fastening != f {
			continue
		}
		total += x.Count
		if spec := b.held(x); !slices.Contains(specs, spec) {
			specs = append(specs, spec)
		}
		whose := joined(", ", esc(b.runTitleOf(x.Run)), esc(x.Where))
		var places []markup
		for _, p := range x.Places {
			places = append(places, say(`<span class="tight">%s</span>`, b.near(p)))
		}
		t.row(say("%d", x.Count), whose, joined(", ", joined(", ", places...), b.footWords(x.Rows)))
	}
	t.label = fmt.Sprintf("%s, %d in all", f.Title.Text, total)
	if slices.ContainsFunc(list, func(x takeoff.Fixing) bool { return x.Fastening == f && len(x.Places) > 0 }) {
		t.foot = "Places are measured from the datum face, in " + b.unitWords() + ", along the rake where there is one."
	} else if !slices.ContainsFunc(list, func(x takeoff.Fixing) bool { return x.Fastening == f && len(x.Rows) > 0 }) {
		t.heads = t.heads[:2]
		for i := range t.rows {
			t.rows[i] = t.rows[i][:2]
		}
	}
	w.put(joined("", specs...))
	t.put(&w)
	w.put(b.prose(f.Prose.Document), "</section>\n")
	return w.markup()
}

// held says how one fixing is bored and driven.
func (b *book) held(x takeoff.Fixing) markup {
	p := pairs{class: "facts"}
	p.add("With", b.recordedFile(x.With.File, esc(x.With.Title.Text)))
	for _, bore := range x.Bores {
		if bore.Hole.Bit == 0 {
			p.add(capital(bore.For), toBeMeasured+say(`<span class="fit">%s</span>`, sentence(bore.Hole.Note)))
			continue
		}
		text := b.figured(bore.Fig, b.bitWords(bore.Hole.Bit))
		switch {
		case bore.Deep > 0:
			text += say(", %s %s deep", b.near(bore.Deep), b.unit())
		case !bore.Through:
			text += ", depth to be measured"
		}
		about := joined("; ", esc(bore.Hole.Note), say("%s (%s)", bore.Hole.Cite.Text, bore.Hole.Cite.Status.String()))
		if bore.Hole.From > 0 {
			about = joined("; ", say("between %s and %s", b.decimals(bore.Hole.From, length.Nearest, 3), b.decimals(bore.Hole.To, length.Nearest, 3)), about)
		}
		p.add(capital(bore.For), text+say(`<span class="fit">%s</span>`, about))
	}
	p.add("Passes", esc(x.Through))
	p.add("Holds in", esc(x.Into))
	p.add("Driver", esc(x.Driver))
	if x.Wax {
		p.add("Wax", "on the thread: hardwood (common practice)")
	}
	if x.Glue {
		p.add("Glue", "as well")
	}
	var w writer
	p.put(&w)
	for _, n := range x.Notes {
		w.line(sentence(n))
	}
	return w.markup()
}

// allFixings is one table of what holds every joint, for a person's own page.
func (b *book) allFixings() markup {
	return b.fixingsTable(b.plan.Takeoff.Fixings, "What holds every joint")
}

func (b *book) runFixings(r *layout.Run) markup {
	var list []takeoff.Fixing
	for _, x := range b.plan.Takeoff.Fixings {
		if x.Run == r.Name {
			list = append(list, x)
		}
	}
	return b.fixingsTable(list, "What holds the joints of "+r.Title)
}

func (b *book) fixingsTable(list []takeoff.Fixing, label string) markup {
	if len(list) == 0 {
		return ""
	}
	t := table{label: label, heads: []head{num("How many", ""), column("What"), column("Joint"), column("Bits"), column("Driver")}, long: true}
	for _, x := range list {
		var bits []markup
		for _, bore := range x.Bores {
			if bore.Hole.Bit > 0 {
				bits = append(bits, b.bit(bore.Hole.Bit)+say(` <span class="fit">%s</span>`, bore.For))
			} else {
				bits = append(bits, toBeMeasured+say(` <span class="fit">%s</span>`, bore.For))
			}
		}
		joint := joined(", ", esc(x.Fastening.Title.Text), esc(b.runTitleOf(x.Run)), esc(x.Where), b.footWords(x.Rows))
		t.row(say("%d", x.Count), esc(x.With.Title.Text), joint, joined("", bits...), esc(x.Driver))
	}
	t.foot = "Bits are in " + b.unitWords() + "."
	return t.markup()
}
