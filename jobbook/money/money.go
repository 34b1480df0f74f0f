// Package money holds amounts exactly, in hundredths of whatever currency the shop counts in; no amount is ever a floating-point number.
package money

import (
	"fmt"
	"math/big"
	"strings"
	"unicode"

	"balustrade/jobbook/exact"
)

// Money is an amount in hundredths of the currency: cents, pence.
type Money int64

// Most is the greatest amount that can be written: a thousand million of the currency. Sums of very many such amounts still fit.
const Most Money = 1_000_000_000 * 100

// hundred is how many hundredths make one.
const hundred = 100

// Error says what is wrong with an amount as written, and what would be right.
type Error struct {
	Summary string
	Hint    string
}

func (e *Error) Error() string { return e.Summary }

// Parse reads an amount of 0 or more: 12, 12.4, 12.40, with a currency's sign before or after it or without. Commas are refused: they mean
// thousands to one reader and decimals to another.
func Parse(text string) (Money, error) {
	s := strings.TrimFunc(text, func(c rune) bool { return unicode.IsSpace(c) || unicode.Is(unicode.Sc, c) })
	if strings.HasPrefix(s, "-") {
		return 0, &Error{fmt.Sprintf("%q is less than nothing", text), "write 0 for what costs nothing"}
	}
	if strings.Contains(s, ",") {
		return 0, &Error{fmt.Sprintf("%q could be a decimal or thousands", text), "write the amount without a comma, as in 1240.50"}
	}
	whole, part, point := strings.Cut(s, ".")
	digits := func(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }
	if !digits(whole) || point && !digits(part) {
		return 0, &Error{fmt.Sprintf("%q is not an amount", text), "write a number, as in 12.40"}
	}
	if len(part) > 2 {
		return 0, &Error{fmt.Sprintf("%q has more than two decimals", text), "write at most two decimals; a price for less is written for a pack"}
	}
	whole = strings.TrimLeft(whole, "0")
	if len(whole) > 10 {
		return 0, &Error{fmt.Sprintf("%q is too much", text), "write at most " + Most.String()}
	}
	m := Money(0)
	for _, c := range whole + (part + "00")[:2] {
		m = m*10 + Money(c-'0')
	}
	if m > Most {
		return 0, &Error{fmt.Sprintf("%q is too much", text), "write at most " + Most.String()}
	}
	return m, nil
}

// String prints the amount with two decimals and nothing else: 1240.50.
func (m Money) String() string {
	sign, n := "", uint64(m)
	if m < 0 {
		sign, n = "-", -uint64(m)
	}
	return fmt.Sprintf("%s%d.%02d", sign, n/hundred, n%hundred)
}

// groupSpace parts thousands on a page: a narrow space at which no line breaks. No reader takes it for a decimal, as a comma or a point is in half of the world.
const groupSpace = "\u202f"

// Grouped prints the amount with its thousands parted, for a page: 1 240.50. What a program reads is printed by String.
func (m Money) Grouped() string {
	const group = 3
	text := m.String()
	point := strings.IndexByte(text, '.')
	sign := strings.Index(text, "-") + 1 // 0 without one
	for at := point - group; at > sign; at -= group {
		text = text[:at] + groupSpace + text[at:]
	}
	return text
}

// Number is the amount in whole units of the currency, for a working.
func (m Money) Number() exact.Number { return exact.New(int64(m), hundred) }

// Of rounds an amount in whole units of the currency to the hundredth, a half away from nothing: the commercial rule. No number is nothing.
func Of(x exact.Number) Money {
	hundredths := x.Mul(exact.Of(hundred))
	num, den, ok := hundredths.Fraction()
	if !ok {
		return long(hundredths.Rat())
	}
	n, rest := num/den, num%den // towards nothing
	switch {
	case rest > 0 && rest >= den-rest:
		n++
	case rest < 0 && -rest >= den+rest:
		n--
	}
	return Money(n)
}

// long is Of for hundredths that do not fit the machine's words.
func long(r *big.Rat) Money {
	if r == nil {
		return 0
	}
	r.Add(r, big.NewRat(int64(r.Sign()), 2))
	return Money(new(big.Int).Quo(r.Num(), r.Denom()).Int64())
}
