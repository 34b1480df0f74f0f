package book

import (
	"fmt"
	"slices"
	"strings"

	"balustrade/jobbook/job"
	"balustrade/jobbook/sequence"
)

// receiving are the steps that lead to the page of what came.
var receiving = []string{"receive", "plan-again"}

func stepTitle(s *job.Step) string       { return partTitle(s.Title, s.Origin) }
func cautionTitle(c *job.Caution) string { return partTitle(c.Title, c.Origin) }

// sequencePage is the order of work.
func (b *book) sequencePage(w *writer) {
	s := b.plan.Sequence
	if len(s.Steps) == 0 {
		return
	}
	w.say("<p>%s", capital(counted(len(s.Steps), "step", "steps")))
	if s.Minutes > 0 {
		w.say(", %s of working time, drying not counted", duration(s.Minutes))
	}
	if done := countDone(s); done > 0 {
		w.say("; %d done, %s left", done, duration(s.Left))
	} else if slices.ContainsFunc(s.Steps, func(x sequence.Step) bool { return x.Saved > 0 }) {
		w.say("; %s left", duration(s.Left))
	}
	w.put(". Nothing goes past a hold point until it is settled.</p>\n")
	for _, step := range s.Steps {
		if step.Step != nil {
			b.step(w, step)
		}
	}
}

func countDone(s sequence.Sequence) (n int) {
	for _, x := range s.Steps {
		if x.Done != "" {
			n++
		}
	}
	return n
}

// quantityWords is a quantity as one says it: 1 flight, 3 wall ends.
func quantityWords(q sequence.Quantity) string {
	many := strings.ReplaceAll(q.Name, "-", " ")
	many = strings.ReplaceAll(many, "let in", "let-in")
	return counted(q.N, strings.TrimSuffix(many, "s"), many)
}

// quantitiesWords are quantities as one says them, each once; what the job has none of is left out.
func quantitiesWords(list []sequence.Quantity) (words []string) {
	for _, q := range list {
		w := quantityWords(q)
		if !q.Known {
			w = strings.ReplaceAll(q.Name, "-", " ") + " to be measured"
		}
		if (q.N > 0 || !q.Known) && !slices.Contains(words, w) {
			words = append(words, w)
		}
	}
	return words
}

func (b *book) step(w *writer, s sequence.Step) {
	class := "step"
	if s.Step.Hold.Text != "" {
		class += " hold"
	}
	w.say(`<section class="%s" id="%s"><h2>%d. %s</h2>`+"\n", class, stepAnchor(s.Step), s.N, stepTitle(s.Step))
	if s.Done != "" {
		w.say("<p><b>Done on %s.</b></p>\n", dayWords(s.Done))
	}
	if s.Past != "" {
		w.say("<p>It was done past a hold point that is not settled: <code>%s</code>. Settle that before anything else.</p>\n", s.Past)
	}
	if s.Step.Hold.Text != "" {
		w.say(`<p class="hold-point">%s Hold point: %s</p>`+"\n", holdShape, sentence(s.Step.Hold.Text))
	}
	var bites []markup
	for _, c := range s.Cautions {
		bites = append(bites, say(`<a href="cautions.html#%s">%s</a>`, cautionAnchor(c), cautionTitle(c)))
	}
	if len(bites) > 0 {
		w.say("<p>Caution: %s.</p>\n", joined("; ", bites...))
	}
	facts := pairs{class: "facts"}
	var tools []string
	for _, t := range s.Step.Tools {
		tools = append(tools, t.Text)
	}
	facts.add("tools", esc(strings.Join(tools, "; ")))
	facts.add("in this job", esc(listed(quantitiesWords(s.Quantities))))
	switch {
	case s.Waits != "" && s.Minutes > 0:
		facts.add("time", esc(duration(s.Minutes)+", and more when the "+s.Waits+" are known"))
	case s.Waits != "":
		facts.add("time", esc("when the "+s.Waits+" are known"))
	case s.Minutes > 0:
		facts.add("time", esc(duration(s.Minutes)))
	}
	facts.add("made already", b.madeOfStep(s))
	facts.add("then", b.waitOf(s.Step))
	facts.add("ticked off", b.tickedOff(s))
	facts.put(w)
	w.put(b.prose(s.Step.Prose.Document))
	if len(b.job.Deliveries) > 0 && slices.Contains(receiving, s.Step.Name) {
		w.put(`<p>What came, and what its real sizes change: <a href="received.html">received</a>.</p>`, "\n")
	}
	if s.Step.Right.Given {
		w.line("Right when: " + s.Step.Right.Text)
	}
	if s.Step.Evening.Given {
		w.line("In the evening: " + sentence(s.Step.Evening.Text))
	}
	w.put("</section>\n")
}

const holdShape markup = `<svg class="shape" viewBox="0 0 16 16" width="16" height="16" aria-hidden="true"><path d="M5 1h6l4 4v6l-4 4H5l-4-4V5z" fill="currentColor"/></svg>`

// madeOfStep is what of a step's time goes for pieces that are made so far already.
func (b *book) madeOfStep(s sequence.Step) markup {
	if s.Made == 0 || s.Done != "" {
		return ""
	}
	if s.Saved == s.Minutes {
		return say(`all %d, so nothing of its time is left: when the rest of it is seen to, tick it off; see <a href="made.html">already made</a>`, s.Made)
	}
	return say(`%d, so %s of its time is left; see <a href="made.html">already made</a>`, s.Made, duration(s.Minutes-s.Saved))
}

// duration puts minutes in words: 2 h 30 min.
func duration(minutes int) string {
	const hour = 60
	switch {
	case minutes < hour:
		return fmt.Sprintf("%d min", minutes)
	case minutes%hour == 0:
		return fmt.Sprintf("%d h", minutes/hour)
	}
	return fmt.Sprintf("%d h %d min", minutes/hour, minutes%hour)
}

// cautionsPage is every danger that this job has.
func (b *book) cautionsPage(w *writer) {
	for _, c := range b.plan.Sequence.Cautions {
		w.say(`<section id="%s"><h2>%s</h2>`+"\n", cautionAnchor(c), cautionTitle(c))
		w.put(b.prose(c.Prose.Document))
		behind := c.Source.Text
		if behind == "" {
			behind = "no source named"
		}
		w.say("<p>Rests on: %s", behind)
		if c.Status != 0 && behind != c.Status.String() {
			w.say(" (%s)", c.Status.String())
		}
		w.put(".</p>\n", b.laws(c))
		var steps writer
		for _, s := range b.plan.Sequence.Steps {
			for _, at := range s.Cautions {
				if at == c && s.Step != nil {
					if steps.Len() > 0 {
						steps.put(", ")
					}
					steps.say(`<a href="sequence.html#%s">%d. %s</a>`, stepAnchor(s.Step), s.N, stepTitle(s.Step))
				}
			}
		}
		if steps.Len() > 0 {
			w.say("<p>Bites at: %s</p>\n", &steps)
		}
		w.put("</section>\n")
	}
}
