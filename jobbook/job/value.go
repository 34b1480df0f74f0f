package job

import (
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
)

// Measure is a length as somebody wrote it. Given is false where the key is blank or absent: a reading to take; At then
// points at the blank key, or at the file.
type Measure struct {
	length.Length
	At    source.Pos
	Given bool
}

// Or is the measure itself, or the other one where it is not given.
func (m Measure) Or(other Measure) Measure {
	if m.Given {
		return m
	}
	return other
}

// Text is a word or a sentence as somebody wrote it.
type Text struct {
	Text  string
	At    source.Pos
	Given bool
}

// Or is the text itself, or the other one where it is not given.
func (t Text) Or(other Text) Text {
	if t.Given {
		return t
	}
	return other
}

// Whole is a whole number as somebody wrote it.
type Whole struct {
	N     int
	At    source.Pos
	Given bool
}

// Flag is a yes or a no as somebody wrote it.
type Flag struct {
	Yes   bool
	At    source.Pos
	Given bool
}

// Ratio is a plain number with a unit of its own, such as a coverage, kept in thousandths so that it is exact.
type Ratio struct {
	Thousandths int64
	Unit        string
	At          source.Pos
	Given       bool
}

// Prose is what somebody wrote below the front matter, with the document it stands in.
type Prose struct {
	Document *source.Document
}

// Ref is a part, finish or rule set named in a file: the name, and where it was named.
type Ref = Text

// OrOne is the number, or one where it is not given.
func (w Whole) OrOne() int {
	if w.Given {
		return w.N
	}
	return 1
}

// or is the number, or another where it is not more than nothing.
func (w Whole) or(other Whole) Whole {
	if w.N > 0 {
		return w
	}
	return other
}
