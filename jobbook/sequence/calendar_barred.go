package sequence

// barred looks for hours at which an edge is open without the barrier: from when the old guard comes off until the new one stands.
func (a *arranger) barred() {
	const none = -1
	up, down, opens, closes := none, a.at.End, none, none
	hasUp, hasDown, hasOpens, hasCloses := false, false, false, false
	opener := -1
	for _, i := range a.at.Order {
		t, p := &a.Tasks[i], a.at.Placed[i]
		begun, over := p.Start, p.End
		if t.Done { // nobody wrote down at what hour: of one day, the barrier counts as before the rest
			over = p.Start
		}
		switch {
		case t.Barrier > 0:
			if !hasUp || over < up {
				up, hasUp = over, true
			}
		case t.Barrier < 0:
			if t.Done {
				begun = p.End
			}
			if !hasDown || begun < down {
				down, hasDown = begun, true
			}
		}
		if t.Opens && (!hasOpens || begun < opens) {
			opens, hasOpens, opener = begun, true, i
		}
		if t.Closes && (!hasCloses || over > closes) {
			closes, hasCloses = over, true
		}
	}
	if !hasOpens && !hasCloses {
		return
	}
	if !hasCloses {
		closes = a.at.End
	}
	if !hasUp {
		f := Fault{Kind: NoBarrier, Task: opener}
		if hasOpens {
			f.Span = Span{opens, closes}
		}
		a.at.Faults = append(a.at.Faults, f)
		return
	}
	if !hasOpens {
		opens = up
	}
	if opens < up {
		a.at.Faults = append(a.at.Faults, Fault{Kind: Gap, Task: opener, Span: Span{opens, min(up, closes)}})
	}
	if down < closes {
		a.at.Faults = append(a.at.Faults, Fault{Kind: Gap, Task: -1, Span: Span{max(down, opens), closes}})
	}
}
