package job

import (
	"testing"
	"time"
	_ "time/tzdata" // the zone database that goes with Go, an independent source
)

// TestZones compares what every zone's clocks show with the zone database, each half hour of fifteen years.
func TestZones(t *testing.T) {
	for _, z := range Zones {
		t.Run(z.Name, func(t *testing.T) {
			place, err := time.LoadLocation(z.Name)
			if err != nil {
				t.Fatal(err)
			}
			end := time.Date(2040, time.January, 1, 0, 0, 0, 0, time.UTC)
			for at := time.Date(2025, time.January, 1, 0, 0, 0, 0, time.UTC); at.Before(end); at = at.Add(30 * time.Minute) {
				clock := z.at(at)
				name, seconds := at.In(place).Zone()
				if name != clock.Name || seconds != clock.Offset*60 {
					t.Fatalf("%s UTC: %s, %d min, want %s, %d min", at.Format(time.DateTime), clock.Name, clock.Offset, name, seconds/60)
				}
			}
		})
	}
}

// at is what clocks show at a time of UTC, from the two changes of its year.
func (z Zone) at(utc time.Time) Clock {
	if z.Summer == nil {
		return z.Standard
	}
	year := utc.Add(time.Duration(z.Standard.Offset) * time.Minute).Year()
	minute := time.Minute
	on := z.Summer.From.Day(year).Add(time.Duration(z.Summer.From.At-z.Standard.Offset) * minute)
	back := z.Standard.From.Day(year).Add(time.Duration(z.Standard.From.At-z.Summer.Offset) * minute)
	summer := !utc.Before(on) && utc.Before(back)
	if back.Before(on) { // south of the equator summer goes over the turn of the year
		summer = !utc.Before(on) || utc.Before(back)
	}
	if summer {
		return *z.Summer
	}
	return z.Standard
}

// TestPutOn: the second Sunday of March 2027 is the 14th (by a calendar).
func TestPutOn(t *testing.T) {
	c := Calendar{Zone: Text{Text: "America/New_York", Given: true}}
	got := c.TheZone().PutOn(2027, 2027)
	if len(got) != 1 || got[0].Format(time.DateTime) != "2027-03-14 02:00:00" {
		t.Errorf("%v", got)
	}
	if (Calendar{}).TheZone().PutOn(2027, 2030) != nil {
		t.Error("no zone puts no clock on")
	}
}
