package sequence

import (
	"cmp"
	"slices"
	"strconv"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finish"
)

// with finds the task that a step goes hand in hand with: that of the last of the steps it names that the job has. -1 where there is none, where either of them is done, where it waits for something that comes later than that task, or
// where what it does cannot be shared: it opens or closes an edge, moves the barrier, has an inspector or the goods to wait for, or an evening by which it is to be over.
func (s *Schedule) with(seq Sequence, i int, ends [][]int) int {
	x := &seq.Steps[i]
	k := -1
	for _, name := range x.Step.Time.With {
		for _, b := range x.Before {
			if y := seq.Steps[b].Step; y != nil && y.Name == name.Text {
				k = max(k, b)
			}
		}
	}
	if k < 0 || x.Done != "" || seq.Steps[k].Done != "" || len(ends[k]) != 1 || s.Of[ends[k][0]].Coat != nil {
		return -1
	}
	if c := x.Step.Time; c.Guard.Given || c.Barrier.Given || c.Inspection.Yes || c.Goods.Yes || c.Whole.Yes || c.SameDay.Yes {
		return -1
	}
	task := ends[k][0] // of a step that goes hand in hand itself it is that of an earlier one
	for _, b := range x.Before {
		if b > k || slices.ContainsFunc(ends[b], func(e int) bool { return e > task }) {
			return -1
		}
	}
	return task
}

// join makes one piece of work of a task and a step that goes hand in hand with it. Two people share it where there are two.
func (s *Schedule) join(k int, base Task, x *Step) {
	t := &s.Tasks[k]
	t.Name += " and " + lower(base.Name)
	t.Minutes += base.Minutes
	t.People = max(t.People, base.People, min(2, s.Crew))
	t.Wait, t.Days, t.From = max(t.Wait, base.Wait), max(t.Days, base.Days), max(t.From, base.From)
	t.Makes = Makes{t.Makes.Dust || base.Makes.Dust, t.Makes.Fumes || base.Makes.Fumes, t.Makes.Stair || base.Makes.Stair, t.Makes.Solvents || base.Makes.Solvents}
	for _, b := range base.After {
		if b < k {
			t.After = append(t.After, b)
		}
	}
	slices.Sort(t.After)
	t.After = slices.Compact(t.After)
	s.Of[k].With = append(s.Of[k].With, x)
}

// coats adds a task for each go of each coat of each group: one side of one batch, each after what was coated before it in its group has dried, in this step or an earlier one. The step's own working time is shared out between coats for which the shop does not say how
// long they take. Groups lie on the horses beside each other where there is room for all of them at once; where there is not, one comes after the other. It gives the last task of each group.
func (s *Schedule) coats(coats []finish.Stage, base Task, of Origin, under lying, ticked func(*Task, string)) (ends []int) {
	open, said := 0, 0
	for _, c := range coats {
		if c.Work == 0 && !c.OnAll {
			open++
		}
		said += c.Work
	}
	var groups []string
	last := map[string]int{}
	crowded, horses := crowded(coats), ""
	for k := range coats {
		c := &coats[k]
		task := base
		name := "Coat the " + cmp.Or(c.What, c.Group) // which coat, batch and side first: what stands behind them is cut off where there is little room
		if c.Of > 1 {
			name += ", coat " + strconv.Itoa(c.N) + " of " + strconv.Itoa(c.Of)
		}
		if c.OnAll {
			name += ", on all of them already"
		}
		task.Name = name + ": " + c.Coat
		if task.Minutes = c.Work; task.Minutes == 0 && open > 0 && !c.OnAll {
			task.Minutes = (max(base.Minutes-said, 0) + open - 1) / open
		}
		task.Whole = true
		if c.OnAll {
			task.Makes = Makes{}
		}
		task.Makes.Solvents = task.Makes.Fumes && c.Base != "water"
		if p := of.Step.piece(coatName(*c)); p.Done != "" {
			ticked(&task, p.Done)
		}
		before, ok := last[c.Group]
		begun := ok // what the step waits for is behind it, also where a coat was ticked off before it was
		if !ok {
			groups = append(groups, c.Group)
			if crowded && c.On == onHorses {
				if horses != "" {
					before, ok = last[horses], true
				}
				horses = c.Group
			}
		}
		goes, all := c.Goes, task.Minutes
		if len(goes) == 0 {
			goes = []finish.Go{{Batch: 1, Batches: 1, Side: 1, Sides: 1}}
		}
		for n, g := range goes {
			id := of.ID + "/" + c.Group + "/" + c.Coat + "/" + strconv.Itoa(c.N)
			end := n == len(goes)-1
			if task.Wait = c.Dry; !end {
				task.Wait = c.Between
			}
			switch {
			case len(c.Goes) == 0: // as though all goes were one
				task.Wait = max(c.Dry, c.Cycle-c.Work)
			case len(goes) > 1:
				id += "/" + strconv.Itoa(n+1)
				task.Name = name + goWords(g) + ": " + c.Coat
				if task.Minutes = g.Work; c.Work == 0 {
					task.Minutes = all*(n+1)/len(goes) - all*n/len(goes)
				}
			}
			if task.Wait <= 0 {
				task.Wait = 0
				s.Uncounted = append(s.Uncounted, "drying of "+c.Coat+" on the "+cmp.Or(c.What, c.Group))
			}
			task.After = nil
			if !begun {
				task.After = slices.Clone(base.After)
			}
			if ok {
				task.After = append(task.After, before)
			}
			if u, lies := under[c.Group]; n == 0 && lies && u.n < c.N && !slices.Contains(task.After, u.task) { // in a step before this one, between which all may be ticked off
				task.After = append(task.After, u.task)
			}
			begun = true
			before, ok = s.add(task, Origin{id, of.Step, c, nil, of.Shop}), true
		}
		last[c.Group] = before
		under.lay(*c, before)
	}
	for _, g := range groups {
		t := &s.Tasks[last[g]]
		t.Wait = max(t.Wait, base.Wait) // what the step itself says of what passes after it
		ends = append(ends, last[g])
	}
	return ends
}

// lying is the coat of each group that lies on top, as far as tasks were made: its number, and the task that is over when it is on.
type lying map[string]struct{ n, task int }

func (l lying) lay(c finish.Stage, task int) {
	if c.N > l[c.Group].n {
		l[c.Group] = struct{ n, task int }{c.N, task}
	}
}

// dries is how long the last coats of a step dry that was ticked off as a whole: on its day the last of each group may have gone on.
func dries(coats []finish.Stage) (wait int) {
	last := map[string]int{}
	for _, c := range coats {
		last[c.Group] = c.Dry
	}
	for _, dry := range last {
		wait = max(wait, dry)
	}
	return wait
}

// goWords says which go of a coat it is: batch 1 of 2 (72), side 2 of 2.
func goWords(g finish.Go) (words string) {
	if g.Batches > 1 {
		words = ", batch " + strconv.Itoa(g.Batch) + " of " + strconv.Itoa(g.Batches) + " (" + strconv.Itoa(g.Pieces) + ")"
	}
	if g.Sides > 1 {
		words += ", side " + strconv.Itoa(g.Side) + " of " + strconv.Itoa(g.Sides)
	}
	return words
}

// onHorses is what rails, shoes and newels lie on.
const onHorses = "horses"

// crowded reports whether the groups that share the horses do not all lie on them at once.
func crowded(coats []finish.Stage) bool {
	room := exact.Of(1)
	seen := map[string]bool{}
	for _, c := range coats {
		if c.On == onHorses && c.AtATime > 0 && !seen[c.Group] {
			seen[c.Group] = true
			room = room.Sub(exact.New(int64(min(c.Pieces, c.AtATime)), int64(c.AtATime)))
		}
	}
	return room.Sign() < 0
}

// FirstGo reports whether a task is the first go of its coat, or no coat at all.
func (s *Schedule) FirstGo(task int) bool {
	return task == 0 || s.Of[task].Coat == nil || s.Of[task-1].Coat != s.Of[task].Coat
}

// LastOfStep reports whether a task is over when its step is: a step in which several groups are coated is so once the last of them is.
func (s *Schedule) LastOfStep(task int) bool {
	for i := range s.Of {
		if a, b := s.Table.Placed[i].End, s.Table.Placed[task].End; s.Of[i].Step == s.Of[task].Step && (a > b || a == b && i > task) {
			return false
		}
	}
	return true
}

// named reports whether a task is of a step of that name, or of one that goes hand in hand with it.
func (o Origin) named(step string) bool {
	return o.Step.Step.Name == step || slices.ContainsFunc(o.With, func(x *Step) bool { return x.Step.Name == step })
}
