package jobbook

import (
	"time"

	"balustrade/jobbook/book"
	"balustrade/jobbook/plan"
)

// Day is the sheet of the job in dir for a day, from so many minutes after its midnight on, in lines of plain text. Where a file can't be understood, the result holds the problems and there are no lines.
func Day(dir string, day time.Time, minutes int) (Result, []string, error) {
	result, err := Check(dir)
	if err != nil || result.Plan == nil {
		return result, nil, err
	}
	return result, DayOf(result.Plan, day, minutes), nil
}

// DayOf is the sheet of a job that is planned already, as one of a yard is.
func DayOf(p *plan.Plan, day time.Time, minutes int) []string { return book.Day(p, day, minutes) }
