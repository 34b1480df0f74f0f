package job

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"balustrade/jobbook/source"
)

var coatPiece = regexp.MustCompile(`^(.*\S)\s+([0-9]{1,3})$`)

// CoatOf reads the name of a piece that is a coat: balusters 2 is the second of the balusters; 0 stands for all of a group's.
func CoatOf(piece string) (group string, n int) {
	if m := coatPiece.FindStringSubmatch(piece); m != nil {
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
