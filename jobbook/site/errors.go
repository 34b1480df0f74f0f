package site

import (
	"errors"
	"fmt"
)

// ErrForeign is what every ForeignError is, for errors.Is.
var ErrForeign = errors.New("something in the output folder is not ours")

// ForeignError says that writing would touch what this program did not write. Nothing was touched.
type ForeignError struct {
	Dir     string // the output folder, as given
	Example string // a path below it that is not ours
	Why     string // one line without full stop
}

func (e *ForeignError) Error() string { return fmt.Sprintf("%s: %s: %s", e.Dir, e.Example, e.Why) }

// Is makes every ForeignError match ErrForeign.
func (e *ForeignError) Is(target error) bool { return target == ErrForeign }

// The reasons of a ForeignError.
const (
	whyNotEmpty = "the folder is not empty and was not made by this program; choose another, or empty it"
	whyInTheWay = "is in the way and was not written by this program; move it elsewhere"
	whyEdited   = "was changed by hand since it was written; move it elsewhere, or delete it to have it made again"
	whyManifest = "cannot be read as a list of what this program wrote; choose another folder, or empty this one"
)

// whyEdition is the reason where the folder holds another edition.
func whyEdition(of string) string {
	name := "the " + of + "'s edition"
	if of == "" {
		name = "the whole book"
	}
	return "belongs to " + name + "; choose another folder, or delete that one first"
}

// BusyError says that another run is writing to the same folder. Nothing was touched.
type BusyError struct{ Dir string }

func (e *BusyError) Error() string { return e.Dir + ": another run is writing to this folder" }

// NameError says that a book has a path that cannot be written on every disk. Nothing was touched.
type NameError struct{ Path, Why string }

func (e *NameError) Error() string { return fmt.Sprintf("%q: %s", e.Path, e.Why) }

// UsageError says that the output is in a place where it must not be.
type UsageError struct{ Summary, Hint string }

func (e *UsageError) Error() string { return e.Summary }
