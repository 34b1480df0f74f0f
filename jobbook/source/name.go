package source

import (
	"cmp"
	"path"
	"strings"
)

var leadingDate = pattern(`^\d{4}-\d{2}-\d{2}`)

// nameOf gives the name of a document: the stem of its path less a leading number and what sets it off. A date is not
// such a number, and a stem that is nothing but a number keeps it.
func nameOf(file string) string {
	stem := strings.TrimSuffix(path.Base(file), path.Ext(file))
	number := digits(stem)
	rest := stem[len(number):]
	name := strings.TrimLeft(rest, "-_. ")
	if number == "" || name == "" || name == rest || leadingDate().MatchString(stem) {
		return stem
	}
	return name
}

// comparePaths orders paths folder by folder; names that start with a number come first, in the order of the numbers.
func comparePaths(a, b string) int {
	for a != b {
		var x, y string
		x, a, _ = strings.Cut(a, "/")
		y, b, _ = strings.Cut(b, "/")
		if c := compareNames(x, y); c != 0 {
			return c
		}
	}
	return 0
}

func compareNames(a, b string) int {
	x, y := digits(a), digits(b)
	if (x == "") != (y == "") {
		return cmp.Compare(len(y), len(x)) // the one with a number first
	}
	m, n := strings.TrimLeft(x, "0"), strings.TrimLeft(y, "0")
	return cmp.Or(cmp.Compare(len(m), len(n)), cmp.Compare(m, n), cmp.Compare(a[len(x):], b[len(y):]), cmp.Compare(a, b))
}

// digits is the number that a name starts with, as written.
func digits(name string) string {
	return name[:len(name)-len(strings.TrimLeft(name, "0123456789"))]
}
