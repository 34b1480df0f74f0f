package layout

import (
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
)

// footing is the surface that a post at an end of a flight stands on, and the level floor or landing at that end; heights are above the floor
// below the flight.
type footing struct {
	tread         int // counted from below; 0 is the floor
	stands, level length.Length
	middle        length.Length // place of the post's middle along the flight
}

// footing says what the post at an end of a flight stands on: what is written, or the surface under its middle. False while the stair is not
// measured, or nobody says where the post is.
func (b *builder) footing(far bool) (f footing, ok bool) {
	k := b.Rake
	if k == nil || len(k.Treads) == 0 {
		return footing{}, false
	}
	e, face := b.r.From, b.faces[0]
	if far {
		e, face = b.r.To, b.faces[1]
	}
	return k.footing(e, far, face.Length), face.Given || e.Stands.Given
}

// footing is that of the post at an end whose face stands at a place. The stair is measured.
func (r *Rake) footing(e job.End, far bool, face length.Length) (f footing) {
	away := length.Length(-1)
	if far {
		away = 1
		f.level = r.Treads[len(r.Treads)-1].Height
	}
	f.middle = face + away*(behind(e)+footWidth(e.Post)/2)
	f.tread, f.stands = r.on(f.middle)
	if e.Stands.Given {
		f.tread, f.stands = min(e.Stands.N, len(r.Treads)), 0
		if f.tread > 0 {
			f.stands = r.Treads[f.tread-1].Height
		}
	}
	return f
}

// Stands is the height of what the post at an end of a flight stands on, above the floor below the flight; 0 while the stair is not measured.
func (r *Run) Stands(far bool) length.Length {
	if r.Rake == nil || len(r.Rake.Treads) == 0 || r.Job == nil {
		return 0
	}
	e, face := r.Job.From, r.Rake.From
	if far {
		e, face = r.Job.To, r.Rake.To
	}
	return r.Rake.footing(e, far, face).stands
}

// behind is how far the end itself lies behind the trim that its face was read to and that stays.
func behind(e job.End) length.Length {
	if e.Trimmed() && e.TrimStays() {
		return e.Thick.Length
	}
	return 0
}

// footWidth is the width of a newel at the floor or tread that it stands on, where it was read to; 0 while that is not known.
func footWidth(p *job.Post) length.Length {
	if p == nil || p.Part == nil || !p.Part.Sized {
		return 0
	}
	_, wide := p.Part.Profile.WidthAt(p.Deep.Length + p.Off.Length)
	return wide
}

// sunk is how far under the floor of a level run a post stands that a flight shares: on a tread below its landing. Negative where it stands
// on a tread over the floor that the flight begins on.
func sunk(flights []*builder, post *job.Post) length.Length {
	for _, b := range flights {
		for _, far := range []bool{false, true} {
			if e := []job.End{b.r.From, b.r.To}; e[0].Post != post && !far || e[1].Post != post && far {
				continue
			}
			if f, ok := b.footing(far); ok {
				return f.level - f.stands
			}
		}
	}
	return 0
}
