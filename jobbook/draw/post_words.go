package draw

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// faceWords say what the drawing of a face shows, and what it can't.
func (v *postView) faceWords(a layout.Arrival, i int) string {
	var b []string
	add := func(format string, w ...any) { b = append(b, fmt.Sprintf(format, w...)) }
	with := v.style.Print
	end := "Its end at this post: " + or(a.End, "not said") + "."
	if a.End == "from" || a.End == "to" {
		end = map[string]string{"from": "The end it is measured from.", "to": "The end it is measured to."}[a.End]
	}
	add("%s", end)
	if !v.set(a) {
		add("Dashed: the heights of this rail are to be measured.")
	}
	tan, cos, ok := slope(a)
	switch {
	case !v.set(a):
	case a.Over:
		add("The rail goes over the post; its face stays whole.")
	case !a.Raked && a.Thick > 0:
		add("Level, %s high, cut square.", with(a.Thick))
	case !a.Raked:
		add("Level, cut square.")
	case !ok:
		add("Dashed: raked, at an angle to be measured.")
	default:
		way := "climbing away from the post"
		if tan < 0 {
			way = "falling away from the post"
		}
		add("Raked %s, %s; cut plumb, %s high on the face, %s square to the rail.", rake(math.Acos(snap(cos))), way, with(a.Top-a.Under), with(a.Thick))
	}
	if skew := math.Abs(finite(a.Skew)); skew >= almostSquare {
		add("Cut %s off square, seen from above.", Degrees(skew))
	}
	if i > 0 && !a.Turned {
		add("Which face it comes to is assumed.")
	}
	if a.Wide <= 0 && v.set(a) {
		add("Dashed: the width of the rail is to be settled.")
	}
	switch {
	case a.Old && v.p.Stays:
		add("The old rail, which stays.")
	case a.Over || !v.set(a):
	case !bolted(a):
		add("Where its bolt goes is to be settled.")
	default:
		words := "Bolt"
		if a.BoltWide > 0 {
			words += " " + with(a.BoltWide)
		}
		if a.BoltDeep > 0 {
			words += ", " + with(a.BoltDeep) + " into the post"
		}
		if a.Raked {
			words += ", along the rail through a guide block"
		} else {
			words += ", square to the face"
		}
		add("%s.", words)
	}
	return strings.Join(b, " ")
}

// caption is what stands under the drawing of a post.
func (v *postView) caption() string {
	var b []string
	add := func(format string, w ...any) { b = append(b, fmt.Sprintf(format, w...)) }
	unit := (&model{style: v.style}).unit()
	add("%s above the floor at the post as it is now; thin lines are squared across from the face.", unit)
	up := v.style
	up.Rounding = length.Up
	p := v.p
	if p.NeedTo > p.NeedFrom && p.BlockTo > p.BlockFrom {
		switch low, high := p.BlockFrom-p.NeedFrom, p.NeedTo-p.BlockTo; {
		case low > 0 && high > 0:
			add("The block is too short, hatched: %s is missing at its top and %s at its foot.", up.Print(high), up.Print(low))
		case high > 0:
			add("The block is too short, hatched: %s is missing at its top.", up.Print(high))
		case low > 0:
			add("The block is too short, hatched: %s is missing at its foot.", up.Print(low))
		}
		if p.Reveal > 0 {
			add("What is needed counts a reveal of %s over the highest rail.", v.style.Print(p.Reveal))
		}
	} else if p.BlockTo <= p.BlockFrom && (!p.Stays || p.MeetsNew()) {
		add("Where its block stands is to be settled.")
	}
	if v.open {
		add("How far its foot goes below the floor is to be settled.")
	}
	if len(v.rows()) > 0 {
		add("Crosses below the floor: the rows of fixings at its foot.")
	}
	if v.capped > 0 {
		add("Dashed at the top: %s is sawn off.", v.style.Print(v.capped))
	}
	if v.off > 0 {
		add("Dashed at the foot: %s is cut off.", v.style.Print(v.off))
	}
	if !v.known {
		add("Dashed: the shape of the newel is to be settled, not to scale.")
	}
	if len(p.Arrivals) == 0 {
		add("No rail comes to it.")
	}
	if n := len(p.Arrivals) - mostFaces; n > 0 {
		add("%s more not drawn.", counted(n, "rail", "rails"))
	}
	hides := false
	for _, a := range p.Arrivals {
		hides = hides || v.set(a) && !a.Over && bolted(a)
	}
	if hides {
		add("Short dashes: bores within the wood.")
	}
	return strings.Join(b, " ")
}

// describe says in plain words what the drawing shows.
func (v *postView) describe() string {
	var b []string
	add := func(format string, w ...any) { b = append(b, fmt.Sprintf(format, w...)) }
	with, p := v.style.With, v.p
	ways := " as cut"
	switch {
	case p.Stays:
		ways = ", as it stands"
	case v.open: // its length waits for that
		ways = " as bought; how far it goes below the floor is to be settled"
	}
	if v.known {
		add("Newel at %s, %s long%s.", or(plain(p.Name), "a post to be named"), with(v.shape.Long()), ways)
	} else {
		add("Newel at %s, its shape to be settled.", or(plain(p.Name), "a post to be named"))
	}
	if v.foot != "" {
		add("Its foot: %s.", plain(v.foot))
	}
	if p.Down > 0 {
		add("Its foot goes %s below the floor.", with(p.Down))
	}
	for i, r := range v.rows() {
		words := fmt.Sprintf("Row %d of the fixings at its foot: %s below the floor", i+1, with(r.Below))
		if r.Bench != "" && r.Up > 0 {
			words += ", " + with(r.Up) + " up from its bottom end"
		}
		add("%s.", words)
	}
	if p.BlockTo > p.BlockFrom {
		add("Square block from %s to %s above the floor.", with(p.BlockFrom), with(p.BlockTo))
	}
	if p.NeedTo > p.NeedFrom {
		add("The rails need it from %s to %s.", with(p.NeedFrom), with(p.NeedTo))
	}
	for i, a := range p.Arrivals {
		if i == mostFaces {
			break
		}
		add("Rail %s of %s: %s.", strconv.Itoa(i+1), strconv.Itoa(len(p.Arrivals)), or(plain(a.Title), or(plain(a.Run), "to be named")))
		if v.set(a) {
			add("Underside %s, top %s.", with(a.Under), with(a.Top))
			if bolted(a) {
				add("Bolt axis at %s.", with(a.Bolt))
			}
		}
		add("%s", v.faceWords(a, i))
	}
	add("%s", v.caption())
	return strings.Join(b, " ")
}
