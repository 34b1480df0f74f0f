package job

import (
	"slices"
	"strconv"
	"strings"

	"balustrade/jobbook/source"
)

// Ticked is a step that is done, or a piece of one.
type Ticked struct {
	Step  Ref
	Piece Ref // a coat of a group, a group, an old guard; not given where the whole step is done
	Day   Text
}

// doneField takes the steps that are done, each with its day, or below it its pieces with theirs. A blank day is still to be done.
var doneField = field[Job]{"done", "keys and values: the name of a step, and the day it was done, year-month-day; or below it its pieces, each with its day", "steps that are done; what comes next is the first that is not. Pieces are coats (balusters 2), all coats of a group in that step (balusters), or old guards by the names of their surveys", nil, func(d *decoder, n *source.Node, j *Job) {
	if n.Blank() {
		return
	}
	if n.Kind != source.Map {
		d.problem(n, "write survey: 2026-11-09, a line for each step that is done", "want keys and values for done, found %s", shape(n))
		return
	}
	for _, e := range n.Entries {
		step := Ref{Text: e.Key, At: e.At, Given: true}
		if e.Value.Kind == source.Map {
			for _, piece := range e.Value.Entries {
				if day := d.date(piece.Value); day.Given {
					j.Done = append(j.Done, Ticked{Step: step, Piece: Ref{Text: piece.Key, At: piece.At, Given: true}, Day: day})
				}
			}
			continue
		}
		if day := d.date(e.Value); day.Given {
			j.Done = append(j.Done, Ticked{Step: step, Day: day})
		}
	}
}}

var coatPiece = pattern(`^(.*\S)\s+([0-9]{1,3})$`)

// CoatOf reads the name of a piece that is a coat: balusters 2 is the second of the balusters; 0 stands for all of a group's.
func CoatOf(piece string) (group string, n int) {
	if m := coatPiece().FindStringSubmatch(piece); m != nil {
		n, _ = strconv.Atoi(m[2]) // three digits
		return m[1], n
	}
	return piece, 0
}

// ticks checks the names of steps that are done, and of their pieces. Which of the pieces the job has is for the plan to say: it hangs on coats and on what goes.
func (d *decoder) ticks(j *Job) {
	seen := map[string]bool{} // a step whose pieces are ticked off is named once
	for _, t := range j.Done {
		if !slices.Contains(j.stepNames, t.Step.Text) {
			if !seen[t.Step.Text] {
				d.words([]Text{t.Step}, "step", j.stepNames)
			}
			seen[t.Step.Text] = true
			continue
		}
		i := slices.IndexFunc(j.Steps, func(s *Step) bool { return s.Name == t.Step.Text })
		if !t.Piece.Given || i < 0 {
			continue
		}
		switch time := j.Steps[i].Time; {
		case time.Coats.Given:
			d.coatTick(t)
		case time.Guard.Text == "opens":
			var known []string
			for _, s := range j.Surveys {
				known = append(known, s.Name)
			}
			d.words([]Text{t.Piece}, "survey", known)
		default:
			d.at(t.Piece.At, len([]rune(t.Piece.Text)), "write "+t.Step.Text+": "+t.Day.Text+" once all of it is done", "the step %s is ticked off whole, not by %q", t.Step.Text, clip(t.Piece.Text))
		}
	}
}

// coatTick checks the name of a coat: a group that is coated, and which coat of it.
func (d *decoder) coatTick(t Ticked) {
	group, n := CoatOf(t.Piece.Text)
	number := strings.TrimPrefix(t.Piece.Text, group)
	if slices.Contains(FinishGroups, group) && (n > 0 || number == "") {
		return
	}
	hint := "write a group, or a group and which of its coats: " + strings.Join(FinishGroups, ", ") + ", balusters 1"
	if near := source.Suggest(group, FinishGroups); near != "" && near != group {
		hint = "did you mean " + near + number + "?"
	}
	d.at(t.Piece.At, len([]rune(t.Piece.Text)), hint, "no coat is named %q", clip(t.Piece.Text))
}
