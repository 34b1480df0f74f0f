package jobbook_test

import (
	"strings"
	"testing"
	"time"

	"balustrade/jobbook"
)

// TestDayRepeatsWhatFails: the sheet of a day has what the calendar fails: goods that come later than they are wanted, coats that went on too soon, a coat without the one under it. 1 March 2027 is a Monday; water enamel dries four hours by its can, and work goes
// from 8:00 to 16:00, so that of two coats on one day the first may have been dry. A sealer that wants a day may not.
func TestDayRepeatsWhatFails(t *testing.T) {
	for _, c := range []struct{ name, job, want string }{
		{"goods", coatedWith + "wanted: 2027-03-01\n", "The goods are not there by the day that they are wanted by"},
		{"too soon", strings.Replace(coatedWith, "water-enamel", "oil-polyurethane", 1) + "done: {finish-parts: {balusters 1: 2027-03-08, balusters 2: 2027-03-08}}\n", "Balusters 2 went on before balusters 1 can have been dry"},
		{"without the one under it", coatedWith + "done: {finish-parts: {balusters 2: 2027-03-08}}\n", "Balusters 2 is ticked off, and balusters 1 under it is not"},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := oneRun(t, c.job)
			for _, minutes := range []int{0, 9 * 60} {
				result, lines, err := jobbook.Day(dir, time.Date(2027, time.March, 9, 0, 0, 0, 0, time.UTC), minutes)
				if err != nil || result.Plan == nil {
					t.Fatalf("%v %+v", err, result.Problems)
				}
				if text := strings.Join(strings.Fields(strings.Join(lines, " ")), " "); strings.Count(text, c.want) != 1 {
					t.Errorf("from %d min on it is not told once:\n%s", minutes, strings.Join(lines, "\n"))
				}
			}
		})
	}
	// What is as it has to be is not told.
	_, lines, err := jobbook.Day(oneRun(t, coatedWith+"wanted: 2027-03-19\ndone: {finish-parts: {balusters 1: 2027-03-08, balusters 2: 2027-03-09}}\n"), time.Date(2027, time.March, 9, 0, 0, 0, 0, time.UTC), 0)
	if text := strings.Join(lines, "\n"); err != nil || strings.Contains(text, "wanted by") || strings.Contains(text, "cannot have been") {
		t.Errorf("%v\n%s", err, text)
	}
}
