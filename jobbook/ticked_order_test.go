package jobbook_test

import (
	"strings"
	"testing"
)

// TestTickedOutOfOrder: what came was ordered before; on one day, and the right way round, nothing is said. So it is through steps in between that nobody ticked: acclimatise comes after receive.
func TestTickedOutOfOrder(t *testing.T) {
	for done, want := range map[string]string{
		"order: 2027-03-24, receive: 2027-03-10":     "receive is ticked off before order, which it waits for",
		"order: 2027-03-10, receive: 2027-03-10":     "",
		"order: 2027-03-10, receive: 2027-03-24":     "",
		"order: 2027-03-24, acclimatise: 2027-03-10": "acclimatise is ticked off before order, which it waits for",
	} {
		p := planOf(t, oneRun(t, coatedWith+"done: {"+done+"}"))
		said := ""
		for _, f := range p.Sequence.Findings {
			if strings.Contains(f.Title, "which it waits for") {
				said += f.Title
				if f.At.Line == 0 {
					t.Errorf("%s: at no line", done)
				}
			}
		}
		if said != want {
			t.Errorf("%s: %q, want %q", done, said, want)
		}
	}
}

// TestTickedOnOneDay: a coat of the landing's balusters is 71 min of work and dries 4 h by its can (asserted below). By hand: begun at 8:00, the first of them can be coated again at 12:00, all of them 71 min later, at 13:11. A day until 13:00 is too short for two, one until 13:30 is not; until
// 11:00 the first coat cannot even have been dry.
func TestTickedOnOneDay(t *testing.T) {
	for hours, want := range map[string]string{"8:00 to 13:30": "", "8:00 to 13:00": "are ticked off on one day", "8:00 to 11:00": "can have been dry"} {
		p := planOf(t, oneRun(t, strings.Replace(coatedWith, "8:00 to 16:00", hours, 1)+"done: {finish-parts: {balusters 1: 2027-03-08, balusters 2: 2027-03-08}}"))
		for i, task := range p.Schedule.Tasks {
			if p.Schedule.Of[i].Coat != nil && (task.Minutes != 71 || task.Wait != 240) {
				t.Fatalf("%+v", task)
			}
		}
		said := ""
		for _, f := range p.Schedule.Recoated {
			said += f.Title
		}
		if (want == "") != (said == "") || !strings.Contains(said, want) {
			t.Errorf("%s: %q, want %q", hours, said, want)
		}
	}
}
