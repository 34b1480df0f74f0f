package job

import "balustrade/jobbook/source"

// Issue is the plan as it was handed out, recorded line by line.
type Issue struct {
	Origin
	Day  Text
	Text string // below the front matter, which is blank in it
}

// Place is the place of a line of the issue's text, counted from 1.
func (i *Issue) Place(line int) source.Pos { return source.Pos{File: i.File, Line: line, Col: 1} }

var issueFields = []field[Issue]{
	dateField("day", "day it was handed out", func(i *Issue) *Text { return &i.Day }),
}
