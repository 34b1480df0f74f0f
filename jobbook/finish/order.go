package finish

import (
	"slices"
	"strconv"
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// A fault is why one coat does not hold, or does not show as meant, on what lies under it.
type fault struct {
	id         string // a word of its own, for the finding's id
	verdict    finding.Verdict
	status     working.Status
	note, cure string
}

// These are what painters and finishers are taught; no standard orders the coats of a guard.
var (
	stainOverFilm = fault{"stain-over-film", finding.Fail, working.CommonPractice, "stain soaks into bare wood; on %s it lies on top, streaks and wipes off", "put the stain on first"}
	conditioner   = fault{"conditioner", finding.Fail, working.CommonPractice, "a conditioner evens out how bare wood takes stain; over %s it does nothing", "put it on bare wood, before the stain"}
	fillerLate    = fault{"filler-late", finding.Fail, working.CommonPractice, "filler fills the pores of wood; over %s there are none left", "fill before the first clear or enamel coat"}
	primerLate    = fault{"primer-late", finding.Fail, working.CommonPractice, "a primer is there to hold on wood; over %s it is in the wrong place", "put it under them"}
	clearOnPaint  = fault{"clear-on-paint", finding.Fail, working.CommonPractice, "a clear coat over %s shows the primer, not the wood", "leave the primer out, or finish with enamel"}
	enamelOnBare  = fault{"enamel-on-bare", finding.Fail, working.CommonPractice, "enamel on %s: it soaks in unevenly, knots and tannin come through, and it chips", "put a primer under it"}
	lastIsSoft    = fault{"last-is-soft", finding.Fail, working.CommonPractice, "the last coat is %s, which hands wear off", "finish with a clear coat or an enamel"}
	waxedShellac  = fault{"waxed-shellac", finding.Fail, working.CommonPractice, "over %s that still has its wax: wax keeps other finishes from holding", "use shellac without wax"}
	maybeWaxed    = fault{"maybe-waxed", finding.ToBeMeasured, working.CommonPractice, "over %s: whether its wax is taken out is on its can; other finishes hold only over shellac without it", "write dewaxed: yes or no"}
	waterOnOil    = fault{"water-on-oil", finding.AskAuthority, working.Memory, "water base over %s of oil base holds only once the oil has dried through, which may take one to three days and not the time until the next oil coat", "ask the makers of both, try it on the test panel, or put a coat of shellac without wax between"}
)

// layer is one coat as it lies on the others.
type layer struct {
	n          int
	kind, base string
	name       string
	coat       *job.Coat
}

// orderFindings judges what goes over what in a finish: each fault by itself, or one pass.
func (w *worker) orderFindings(f *job.Finish) []finding.Finding {
	made := func(id string, at source.Pos) finding.Finding {
		return finding.Finding{ID: "check/coating/" + f.Name + "/" + id, Group: coatingGroup, Title: "order of coats of " + finishTitle(f), Status: working.CommonPractice, Rules: "what holds on what", At: at}
	}
	var layers []layer
	for i := range f.Coats {
		c := &f.Coats[i]
		if !c.Type.Given {
			out := made("order", source.Pos{File: f.File})
			out.Verdict, out.Note = finding.ToBeMeasured, "what kind of coat the "+name(c)+" is, is not written"
			w.askFor(f.File, "what kind of coat the "+name(c)+" is: "+kinds(), "coats: {type: }", "what may go over what", c.Type.At)
			return []finding.Finding{out}
		}
		layers = append(layers, layer{i + 1, c.Type.Text, c.Base.Or(f.Base).Text, name(c), c})
	}
	if len(layers) == 0 {
		return nil
	}
	var list []finding.Finding
	add := func(l layer, x fault, on string) {
		out := made("order/"+strconv.Itoa(l.n)+"/"+x.id, l.coat.Type.At)
		out.Title = "coat " + strconv.Itoa(l.n) + " of " + finishTitle(f) + ", " + l.name
		out.Verdict, out.Status, out.Note, out.Cure = x.verdict, x.status, fill(x.note, on), x.cure
		list = append(list, out)
	}
	for i, l := range layers {
		over := func(kinds ...string) (string, bool) {
			for k := i - 1; k >= 0; k-- {
				if slices.Contains(kinds, layers[k].kind) {
					return "the " + layers[k].name, true
				}
			}
			return "", false
		}
		for _, rule := range []struct {
			kind  string
			under []string
			fault fault
		}{
			{"stain", []string{"sealer", "primer", "clear", "enamel"}, stainOverFilm},
			{"conditioner", []string{"stain", "sealer", "primer", "clear", "enamel"}, conditioner},
			{"filler", []string{"clear", "enamel"}, fillerLate},
			{"primer", []string{"clear", "enamel"}, primerLate},
			{"clear", []string{"primer"}, clearOnPaint},
			{"sealer", []string{"primer"}, clearOnPaint},
		} {
			if l.kind == rule.kind {
				if on, bad := over(rule.under...); bad {
					add(l, rule.fault, on)
				}
			}
		}
		if l.kind == "enamel" {
			switch _, primed := over("primer", "sealer", "clear", "enamel"); {
			case primed:
			case i == 0:
				add(l, enamelOnBare, "bare wood")
			default:
				add(l, enamelOnBare, "the "+layers[i-1].name)
			}
		}
		if i == 0 {
			continue
		}
		below := layers[i-1]
		film := below.kind == "sealer" || below.kind == "clear"
		if below.base == "shellac" && film && l.base != "shellac" {
			switch d := below.coat.Dewaxed; {
			case !d.Given:
				add(l, maybeWaxed, "the "+below.name)
				w.askFor(f.File, "whether the wax is taken out of the "+below.name+"; read the can", "coats: {dewaxed: }", "whether anything else holds over it", d.At)
			case !d.Yes:
				add(l, waxedShellac, "the "+below.name)
			}
		}
		if l.base == "water" && below.base == "oil" && (below.kind == "stain" || film) {
			add(l, waterOnOil, "the "+below.name)
		}
	}
	if last := layers[len(layers)-1]; slices.Contains([]string{"stain", "filler", "conditioner", "primer"}, last.kind) {
		add(last, lastIsSoft, "the "+last.name)
	}
	if len(list) == 0 {
		out := made("order", f.Coats[0].Type.At)
		out.Verdict, out.Note = finding.Pass, "each coat holds on what lies under it"
		list = append(list, out)
	}
	return list
}

func fill(note, on string) string { return strings.Replace(note, "%s", on, 1) }

func kinds() string { return strings.Join(job.CoatTypes, ", ") }

// panels asks for a test panel of every finish that stains, on every wood that it meets: no chart tells what a stain does on a wood.
func (w *worker) panels(f *job.Finish) []finding.Finding {
	stains := f.Type.Text == "stain" || slices.ContainsFunc(f.Coats, func(c job.Coat) bool { return c.Type.Text == "stain" })
	if !stains {
		return nil
	}
	var list []finding.Finding
	for _, wood := range w.woods(f) {
		out := finding.Finding{ID: "check/coating/" + f.Name + "/panel/" + strings.ReplaceAll(strings.ToLower(wood), " ", "-"), Group: coatingGroup, Title: "test panel of " + finishTitle(f) + " on " + wood, Status: working.CommonPractice, Rules: "what a stain does on a wood", At: source.Pos{File: w.job.File}}
		if p := w.job.Signed(f, wood); p != nil {
			out.Verdict, out.Note, out.At = finding.Pass, "signed on "+p.Signed.Text, p.At
		} else {
			out.Verdict = finding.ToBeMeasured
			out.Note = "the panel decides the colour, not the chart on the can: same wood, same grits, same coats, as large as a hand, signed and dated on its back"
			w.askFor(w.job.File, "a test panel of "+finishTitle(f)+" on "+wood+", signed by the client", "panels: [{finish: "+f.Name+", species: "+wood+", signed: }]", "the colour; no part is stained before", source.Pos{})
		}
		list = append(list, out)
	}
	return list
}

// woods are the species of the parts that get a finish, each once, in the order of the groups. A part that does not say is a reading to take.
func (w *worker) woods(f *job.Finish) (list []string) {
	for _, g := range w.out.Groups {
		if g.Finish != f {
			continue
		}
		for _, l := range g.Lines {
			if !l.Species.Given {
				w.askFor(l.File, "which wood "+l.What+" is of", "species: ", "a stain looks different on every wood", l.Species.At)
				continue
			}
			if !slices.ContainsFunc(list, func(s string) bool { return strings.EqualFold(s, l.Species.Text) }) {
				list = append(list, l.Species.Text)
			}
		}
	}
	return list
}
