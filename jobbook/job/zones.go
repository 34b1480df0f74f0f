package job

import "time"

// Zone is a time zone: what its clocks show, and when they are put on and back.
type Zone struct {
	Name     string // as the zone database has it, and a calendar's TZID
	Standard Clock
	Summer   *Clock // nil where clocks are never changed
}

// Clock is what clocks of a zone show for a part of the year.
type Clock struct {
	Name   string      // EST
	Offset int         // minutes that it shows more than UTC
	From   ClockChange // when it begins, by the clock before it
}

// ClockChange is a Sunday on which clocks are changed.
type ClockChange struct {
	Month time.Month
	Week  int // the first Sunday is 1; the last one -1
	At    int // minutes from midnight
}

// Day is the Sunday of a year.
func (c ClockChange) Day(year int) time.Time {
	if c.Week < 0 {
		day := time.Date(year, c.Month+1, 0, 0, 0, 0, 0, time.UTC) // the last of the month
		return day.AddDate(0, 0, -int(day.Weekday()))
	}
	day := time.Date(year, c.Month, 1, 0, 0, 0, 0, time.UTC)
	return day.AddDate(0, 0, (7-int(day.Weekday()))%7+7*(c.Week-1))
}

const oclock = 60 // minutes

// zone makes a zone; offsets in minutes from UTC.
func zone(name, standard string, offset int, back ClockChange, summer string, on ClockChange) Zone {
	return Zone{name, Clock{standard, offset, back}, &Clock{summer, offset + oclock, on}}
}

func plainZone(name, clock string, offset int) Zone {
	return Zone{Name: name, Standard: Clock{Name: clock, Offset: offset}}
}

// When clocks are changed, by the zone database (IANA, 2025b; a test compares every hour of fifteen years with the one that Go carries).
var (
	americaOn    = ClockChange{time.March, 2, 2 * oclock}
	americaBack  = ClockChange{time.November, 1, 2 * oclock}
	britainOn    = ClockChange{time.March, -1, 1 * oclock}
	britainBack  = ClockChange{time.October, -1, 2 * oclock}
	southOn      = ClockChange{time.October, 1, 2 * oclock}
	southBack    = ClockChange{time.April, 1, 3 * oclock}
	newZealandOn = ClockChange{time.September, -1, 2 * oclock}
)

// Zones are the zones that a job can name: those of the countries that the library has rule sets of, as far as their clocks go by a rule that a calendar's file can state.
// Who is elsewhere leaves the zone out: times are then as a clock on the spot shows them.
var Zones = []Zone{
	zone("America/New_York", "EST", -5*oclock, americaBack, "EDT", americaOn),
	zone("America/Chicago", "CST", -6*oclock, americaBack, "CDT", americaOn),
	zone("America/Denver", "MST", -7*oclock, americaBack, "MDT", americaOn),
	plainZone("America/Phoenix", "MST", -7*oclock),
	zone("America/Los_Angeles", "PST", -8*oclock, americaBack, "PDT", americaOn),
	zone("America/Anchorage", "AKST", -9*oclock, americaBack, "AKDT", americaOn),
	plainZone("Pacific/Honolulu", "HST", -10*oclock),
	zone("America/Halifax", "AST", -4*oclock, americaBack, "ADT", americaOn),
	zone("America/Toronto", "EST", -5*oclock, americaBack, "EDT", americaOn),
	zone("America/Winnipeg", "CST", -6*oclock, americaBack, "CDT", americaOn),
	plainZone("America/Regina", "CST", -6*oclock),
	zone("Europe/London", "GMT", 0, britainBack, "BST", britainOn),
	zone("Australia/Sydney", "AEST", 10*oclock, southBack, "AEDT", southOn),
	zone("Australia/Melbourne", "AEST", 10*oclock, southBack, "AEDT", southOn),
	plainZone("Australia/Brisbane", "AEST", 10*oclock),
	zone("Australia/Adelaide", "ACST", 9*oclock+30, southBack, "ACDT", southOn),
	plainZone("Australia/Perth", "AWST", 8*oclock),
	zone("Pacific/Auckland", "NZST", 12*oclock, southBack, "NZDT", newZealandOn),
}

// zoneNames are their names, in order.
func zoneNames() (list []string) {
	for _, z := range Zones {
		list = append(list, z.Name)
	}
	return list
}

// TheZone is the zone that the calendar names; nil where it names none.
func (c Calendar) TheZone() *Zone {
	for i := range Zones {
		if c.Zone.Given && Zones[i].Name == c.Zone.Text {
			return &Zones[i]
		}
	}
	return nil
}

// PutOn are the times between two years, both counted, at which clocks are put on by an hour: by the clock before, in a time that knows no zone.
func (z *Zone) PutOn(from, to int) (list []time.Time) {
	if z == nil || z.Summer == nil {
		return nil
	}
	for year := from; year <= to; year++ {
		list = append(list, z.Summer.From.Day(year).Add(time.Duration(z.Summer.From.At)*time.Minute))
	}
	return list
}
