package takeoff

import (
	"slices"
	"strconv"
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
)

// received checks what was delivered: whether enough came that can be used, and whether the widest baluster goes into its plows.
func (t *taking) received(l layout.Layout) {
	for i, n := range t.needs {
		if slices.Contains(stockable, n.Kind) { // the cutting plan says whether its sticks suffice
			continue
		}
		came, lost, of := 0, 0, job.Received{}
		for _, r := range t.job.Came(n.Kind, n.Part) {
			if r.Count.Given {
				came += r.Usable()
				lost += r.Count.N - r.Usable()
				of = r
			}
		}
		held := 0
		for _, r := range t.job.Racks {
			for _, h := range r.Pieces {
				if h.Part.Text == n.Part && (!h.Kind.Given || h.Kind.Text == n.Kind) {
					held += h.Count.N
				}
			}
		}
		used := t.made.Used(n.Kind, n.Part)
		t.needs[i].Came = came > 0
		came -= min(came, t.made.Of(n.Kind, n.Part)) // those that were made came with it
		short := n.Count - came - held - used
		t.needs[i].Over = max(0, -short)
		if !of.Count.Given || short <= 0 {
			continue
		}
		f := finding.Finding{
			ID: "check/delivery/" + n.Kind + "/" + n.Part, Group: "delivery", Title: "enough of " + n.Title + " delivered that can be used", Verdict: finding.Fail, At: of.Count.At, Rules: "what the job needs",
			Note: strconv.Itoa(came) + " can be used", Cure: "order the rest now, from the buying list",
		}
		if lost > 0 {
			f.Note += ", " + strconv.Itoa(lost) + " not"
		}
		if used > 0 {
			f.Note += ", " + strconv.Itoa(used) + " are made"
		}
		if held > 0 {
			f.Note += ", " + strconv.Itoa(held) + " are on the rack"
		}
		f.Note += ", " + strconv.Itoa(n.Count) + " are needed: " + strconv.Itoa(short) + " short"
		if !n.Complete {
			f.Note += ", as far as is known"
		}
		t.findings = append(t.findings, f)
	}
	seen := map[[2]string]bool{}
	for _, r := range l.Runs {
		b := r.Job.Baluster
		if b == nil || !b.Widest.Given && !b.Under.Given {
			continue
		}
		for _, g := range groovesOf(r) {
			key := [2]string{b.Name, g.part}
			if !g.plow.Wide.Given || seen[key] {
				continue
			}
			seen[key] = true
			t.narrowest(b, g)
			if !b.Widest.Given {
				continue
			}
			verdict := finding.Pass
			if b.Widest.Length > g.plow.Wide.Length {
				verdict = finding.Fail
			}
			t.findings = append(t.findings, finding.Finding{
				ID: "check/delivery/widest/" + b.Name + "/" + g.part, Group: "delivery", Title: "widest " + b.Title.Or(job.Text{Text: b.Name}).Text + " that came against the plow of the " + g.what, Verdict: verdict,
				Measured: b.Widest.Length, HasValue: true, Op: finding.AtMost, Limit: g.plow.Wide.Length, HasLimit: true, Margin: g.plow.Wide.Length - b.Widest.Length,
				Rules: "as delivered", At: b.Widest.At, Set: g.plow.Wide.At, Cure: "plane the wide ones to the plow, or send them back",
			})
		}
	}
	t.settled(l.Air)
	if most := t.job.Shop.Bow; most.Given {
		for _, x := range t.job.Deliveries {
			for i, r := range x.Items {
				if r.Bow.Given && r.Bow.Length > most.Length {
					t.findings = append(t.findings, finding.Finding{
						ID: "check/delivery/" + x.Name + "/bow/" + strconv.Itoa(i+1), Group: "delivery", Title: "bow of " + r.Part.Text, Verdict: finding.Fail, Measured: r.Bow.Length, HasValue: true, Op: finding.AtMost,
						Limit: most.Length, HasLimit: true, Margin: most.Length - r.Bow.Length, Rules: "the shop's settings", At: r.Bow.At, Set: most.At, Cure: "sort them out, use them where they are cut short, or send them back",
					})
				}
			}
		}
	}
}

// groove is a plow that balusters stand in.
type groove struct {
	what, part string
	plow       job.Plow
}

// groovesOf are the plows that a run's balusters stand in with the width that was gauged.
func groovesOf(r *layout.Run) (list []groove) {
	b := r.Job.Baluster
	if shoe := r.Job.Shoe; shoe != nil && b.Bottom.Text != "pin" && b.Bottom.Text != "let in" {
		list = append(list, groove{"shoe", shoe.Name, shoe.Plow})
	}
	if rail := r.Job.Handrail; rail != nil && b.Top.Text != "pin" && b.Sized && b.Gauged(b.Profile.Stations[len(b.Profile.Stations)-1]) {
		list = append(list, groove{"handrail", rail.Name, rail.Plow})
	}
	return list
}

// Fills is the width from which a baluster of the part stands in all its plows without too much play, of those plows that one as wide as usual fits; 0 where none of them says.
func Fills(runs []*layout.Run, b *job.Baluster, loose job.Measure) (least length.Length) {
	for _, r := range runs {
		if r.Job.Baluster == nil || r.Job.Baluster.Name != b.Name || !loose.Given || !b.Wide.Given {
			continue
		}
		for _, g := range groovesOf(r) {
			if from := g.plow.Wide.Length - loose.Length; g.plow.Wide.Given && from <= b.Wide.Length {
				least = max(least, from)
			}
		}
	}
	return least
}

// narrowest fails where the narrowest baluster that came stands loose in a plow that most of them fit.
func (t *taking) narrowest(b *job.Baluster, g groove) {
	loose := t.job.Shop.Loose
	play := g.plow.Wide.Length - b.Wide.Length
	if !loose.Given || !b.Under.Given || play > loose.Length || play+b.Under.Length <= loose.Length {
		return
	}
	play += b.Under.Length
	t.findings = append(t.findings, finding.Finding{
		ID: "check/delivery/loose/" + b.Name + "/" + g.part, Group: "delivery", Title: "play of the narrowest " + b.Title.Or(job.Text{Text: b.Name}).Text + " that came in the plow of the " + g.what, Verdict: finding.Fail,
		Measured: play, HasValue: true, Op: finding.AtMost, Limit: loose.Length, HasLimit: true, Margin: loose.Length - play, Status: working.CommonPractice,
		Rules: "the shop's settings, common practice", At: b.Under.At, Set: loose.At, Cure: "set it aside (back: in the delivery), with narrowest: of the rest",
	})
}

// sticksCame fails where sticks of a part came and some have to be bought all the same: one is shorter than was ordered, or one is missing.
func (t *taking) sticksCame(c *cutting) {
	var of job.Measure
	for _, r := range t.job.Came(c.Kind, c.Part) {
		for _, m := range r.Sticks {
			of = m
		}
	}
	if !of.Given {
		return
	}
	var marks []string
	sticks := 0
	for _, s := range c.Sticks {
		if s.Source != FromSupplier {
			continue
		}
		sticks++
		for _, p := range s.Pieces {
			piece := c.pieces[p.Piece]
			if words := piece.What + " of " + piece.Run + ", " + t.tape(p.Long) + " off the stick"; !slices.Contains(marks, words) {
				marks = append(marks, words)
			}
		}
	}
	if sticks == 0 {
		return
	}
	t.findings = append(t.findings, finding.Finding{
		ID: "check/delivery/" + c.Kind + "/" + c.Part, Group: "delivery", Title: "enough sticks of " + c.Title + " delivered", Verdict: finding.Fail, At: of.At, Rules: "the cutting plan",
		Note: "more have to be bought for " + strings.Join(marks, "; "), Cure: "order the rest now, from the buying list",
	})
}

// settled checks that delivered wood has come to the moisture of the room: within so many points of it (common practice).
func (t *taking) settled(air layout.Air) {
	near := t.job.Shop.Settled
	room := air.Now
	if air.FitLow == nil {
		return
	}
	low, high := air.FitLow.Value, air.FitHigh.Value
	for _, x := range t.job.Deliveries {
		for i, r := range x.Items {
			for k, m := range r.Moisture {
				f := finding.Finding{
					ID: "check/delivery/" + x.Name + "/moisture/" + strconv.Itoa(i+1) + "/" + strconv.Itoa(k+1), Group: "delivery", Title: "moisture of " + r.Part.Text + ", " + working.Decimal(thousandths(m)) + " %, against the room's",
					Verdict: finding.Pass, Rules: "within " + working.Decimal(thousandths(near)) + " points of what wood comes to in the room, common practice", At: m.At, Set: near.At, Figure: room.ID,
					Note: "the room's air brings wood to " + working.Decimal(room.Value) + " %",
				}
				way := ""
				switch {
				case thousandths(m).Cmp(high) > 0:
					way = "too wet"
				case thousandths(m).Cmp(low) < 0:
					way = "too dry"
				}
				if way != "" {
					f.Verdict = finding.Fail
					f.Note = way + ": " + f.Note
					f.Cure = "let it lie in the room, stickered, until it reads between " + working.Decimal(low) + " and " + working.Decimal(high) + " %, before anything is cut"
				}
				t.findings = append(t.findings, f)
			}
		}
	}
}
