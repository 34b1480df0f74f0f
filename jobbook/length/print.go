package length

import (
	"math"
	"strconv"
	"strings"

	"balustrade/jobbook/exact"
)

// Style says how lengths are written: in which system, to which division, rounded which way.
type Style struct {
	System   System
	Division Length   // the finest mark printed, such as Inch/16 or Millimetre
	Rounding Rounding // the direction, always named
	Feet     bool     // feet and inches from a foot on; inches only
}

// Parts is a length taken apart for typesetting. Num and Den are zero when there is no fraction.
type Parts struct {
	Negative bool
	Feet     int64 // only where the style asks for feet
	HasFeet  bool
	Whole    int64  // whole inches or millimetres
	Num, Den int64  // a fraction of an inch in lowest terms
	Decimals string // decimals of a millimetre, without the point
}

// Parts rounds a length as the style says and takes it apart.
func (s Style) Parts(l Length) Parts {
	how := s.Rounding
	if how == 0 {
		how = Nearest
	}
	l = l.Round(s.Division, how)
	var p Parts
	if l < 0 {
		p.Negative = true
		l = -l
	}
	if s.System == Millimetres {
		p.Whole = int64(l / Millimetre)
		if rest := int64(l % Millimetre); rest != 0 {
			text := strconv.FormatInt(rest+int64(Millimetre), 10)[1:]
			p.Decimals = strings.TrimRight(text, "0")
		}
		return p
	}
	p.Num, p.Den = int64(l%Inch), int64(Inch)
	if p.Num == 0 {
		p.Den = 0
	} else {
		g := gcd(p.Num, p.Den)
		p.Num, p.Den = p.Num/g, p.Den/g
	}
	p.Whole = int64(l / Inch)
	if s.Feet && p.Whole >= 12 {
		p.HasFeet = true
		p.Feet, p.Whole = p.Whole/12, p.Whole%12
	}
	return p
}

// mostText is more bytes than a length takes in print.
const mostText = 64

// Print writes a length as plain text without its unit, except that feet and inches carry their marks:
// 94 7/16, 7' 10 7/16", 2399, 2399.5.
func (s Style) Print(l Length) string {
	var room [mostText]byte
	return string(s.append(room[:0], l))
}

// With is Print followed by the unit where the text does not carry marks of its own: 94 7/16 in.
func (s Style) With(l Length) string {
	var room [mostText]byte
	text := s.append(room[:0], l)
	if text[len(text)-1] != '"' {
		text = append(append(text, ' '), s.System.String()...)
	}
	return string(text)
}

// With writes a length to the nearest of the finest divisions of the system, with its unit: 1 17/64 in, 32.1 mm.
func (s System) With(l Length) string {
	return Style{System: s, Division: s.Finest(), Rounding: Nearest}.With(l)
}

func (s Style) append(to []byte, l Length) []byte {
	p := s.Parts(l)
	if p.Negative {
		to = append(to, '-')
	}
	if p.HasFeet {
		to = append(strconv.AppendInt(to, p.Feet, 10), "' "...)
	}
	if p.Whole != 0 || p.Num == 0 || p.HasFeet {
		to = strconv.AppendInt(to, p.Whole, 10)
		if p.Num != 0 {
			to = append(to, ' ')
		}
	}
	if p.Num != 0 {
		to = append(strconv.AppendInt(to, p.Num, 10), '/')
		to = strconv.AppendInt(to, p.Den, 10)
	}
	if p.Decimals != "" {
		to = append(append(to, '.'), p.Decimals...)
	}
	if p.HasFeet {
		to = append(to, '"')
	}
	return to
}

// mostPlaces of decimals keeps thousands of Most, in millimetres, within an int64.
const mostPlaces = 9

// Decimal writes a length in decimals of the system's unit, rounded in the style's direction to the given number of
// places, 0 to mostPlaces: the form in which a code's limits are quoted, 3.917.
func (s Style) Decimal(l Length, places int) string {
	how := s.Rounding
	if how < Down || how > Up {
		how = Nearest
	}
	places = min(max(places, 0), mostPlaces)
	scale := int64(1)
	for range places {
		scale *= 10
	}
	units, ok := Length(0), false
	if most := Length(math.MaxInt64 / scale); -most <= l && l <= most {
		units, ok = quotient(int64(l)*scale, int64(s.System.Unit()), Nanometre, how)
	}
	if !ok {
		units = Rounded(l.In(s.System).Mul(exact.Of(scale)), Nanometre, how)
	}
	var room [mostText]byte
	text, n := room[:0], uint64(units)
	if units < 0 {
		text, n = append(text, '-'), -n
	}
	text = strconv.AppendUint(text, n/uint64(scale), 10)
	if places > 0 {
		point := len(text)
		text = strconv.AppendUint(text, uint64(scale)+n%uint64(scale), 10) // a 1 and every place
		text[point] = '.'
	}
	return string(text)
}

// String writes the exact length in millimetres with its unit; it is for messages to developers and round trips.
func (l Length) String() string {
	return Style{System: Millimetres, Division: Nanometre, Rounding: Nearest}.Print(l) + " mm"
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
