package job

import (
	"path"
	"slices"
	"strconv"

	"balustrade/jobbook/source"
)

// Issue is the plan as it was handed out, recorded line by line.
type Issue struct {
	Origin
	Day  Text
	Text string // below the front matter, which is blank in it
}

// Place is the place of a line of the issue's text, counted from 1.
func (i *Issue) Place(line int) source.Pos { return source.Pos{File: i.File, Line: line, Col: 1} }

// Number is what the file's name begins with; less than 0 where it has no number.
func (i *Issue) Number() int {
	name := path.Base(i.File)
	end := 0
	for end < len(name) && name[end] >= '0' && name[end] <= '9' {
		end++
	}
	n, err := strconv.Atoi(name[:end])
	if err != nil {
		return -1
	}
	return n
}

// LastIssue is the one that a plan is compared with, nil where there is none. Two people who recorded one each, in branches of their own, gave the same number: of these it is the one of the latest day, where the days tell, else the
// last by name. The others are beside it.
func (j *Job) LastIssue() (last *Issue, beside []*Issue) {
	if len(j.Issues) == 0 {
		return nil, nil
	}
	last = j.Issues[len(j.Issues)-1]
	alike := slices.DeleteFunc(slices.Clone(j.Issues), func(i *Issue) bool {
		return last.Number() < 0 && i != last || i.Number() != last.Number() || path.Dir(i.File) != path.Dir(last.File)
	})
	if !slices.ContainsFunc(alike, func(i *Issue) bool { return i.Day.Text == "" }) {
		for _, i := range alike {
			if i.Day.Text > last.Day.Text { // year-month-day
				last = i
			}
		}
	}
	return last, slices.DeleteFunc(alike, func(i *Issue) bool { return i == last })
}

var issueFields = []field[Issue]{
	dateField("day", "day it was handed out", func(i *Issue) *Text { return &i.Day }),
}
