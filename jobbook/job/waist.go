package job

import (
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
)

// turned are the stations of a baluster's turning: round, above its foot and between its pins. Of one that is the same all the way up there are none.
func (b *Baluster) turned(p profile.Profile, foot length.Length) (list []int) {
	if !b.Sized || b.Plain != "" {
		return nil
	}
	over, still := false, true // the pin below, and in the foot
	for i, s := range p.Stations {
		over = over || s.Width == foot
		still = still && (s.Width == foot || !over)
		pin := b.Top.Text == "pin" && b.Pin.Long.Given && s.At >= p.Long()-b.Pin.Long.Length
		if s.Round && !still && !pin {
			list = append(list, i)
		}
	}
	return list
}

// waist is the width of the thinnest turned place in the part's file; false where nothing is turned.
func (b *Baluster) waist() (thinnest length.Length, ok bool) {
	for _, i := range b.turned(b.Profile, b.Wide.Length) {
		if w := b.Profile.Stations[i].Width; !ok || w < thinnest {
			thinnest, ok = w, true
		}
	}
	return thinnest, ok
}

// thinned takes the turned places as they came. A waist that was gauged thinner makes every turned place that much thinner, since it is the thinnest and nobody gauged the others; gauged thicker, no place is thinner than it. Where balusters came in another width than the file's
// and nobody gauged their waist, the file's turning is not theirs: it counts as thinned with the foot, so that no count goes down on it, and what rests on it is to be measured (WaistOpen).
func (b *Baluster) thinned(list readings, written Measure) {
	file, ok := b.waist()
	if !ok || !written.Given {
		return
	}
	b.Waist = list.least(Measure{}, func(r Received) Measure { return r.Waist })
	least := file
	if b.Waist.Given {
		least = b.Waist.Length
	}
	for _, r := range list {
		if r.Wide.Given && r.Wide.Length != written.Length && !r.Waist.Given {
			if b.WaistOpen.IsZero() {
				b.WaistOpen = r.Wide.At
			}
			least = min(least, file-max(0, written.Length-r.Wide.Length))
		}
	}
	for _, i := range b.turned(b.Profile, b.Wide.Length) {
		s := &b.Profile.Stations[i]
		if least < file {
			s.Width = max(length.Nanometre, s.Width-(file-least))
		} else {
			s.Width = max(s.Width, least)
		}
	}
}

// slender refuses the waist of what has none, and one that is thicker than the foot where the file's is thinner: then it is not the waist that was gauged.
func (d *decoder) slender(j *Job, r Received) {
	for _, b := range j.Balusters {
		if b.Name != r.Part.Text || !b.Sized {
			continue
		}
		file, ok := b.waist()
		foot := r.Narrowest.Or(r.Wide).Or(b.Wide)
		switch {
		case !ok:
			d.at(r.Waist.At, 1, "leave it out; wide: and narrowest: say what there is to say", "waist: nothing of %s is turned", b.Name)
		case foot.Given && file < b.Wide.Length && r.Waist.Length > foot.Length:
			d.at(r.Waist.At, 1, "gauge where the turning is thinnest, "+d.print(file)+" in the part's file", "the waist is thicker than the foot, %s", d.print(foot.Length))
		}
	}
}
