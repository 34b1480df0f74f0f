package book

import (
	"strconv"
	"strings"
	"time"

	"balustrade/jobbook/job"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/sequence"
)

// This file is the calendar as data: its types, how they are filled, and its table.

type dataCalendar struct {
	Start     string      `json:"start,omitempty" doc:"day 1, year-month-day; absent where the job names none, and day 1 is a Monday" unit:"text"`
	Zone      string      `json:"zone,omitempty" doc:"time zone that the job names; absent where times are as a clock on the spot shows them" unit:"text"`
	Crew      int         `json:"crew" min:"0" doc:"people; 0 where there is no calendar" unit:"people"`
	Tasks     []dataTask  `json:"tasks" doc:"steps, coats and old guards in the order in which they begin" unit:"none"`
	Uncounted []string    `json:"uncounted" doc:"what nothing is known of, so that it is not counted" unit:"text"`
	Moved     []dataMoved `json:"moved" doc:"the days of the last issue against those of now; empty without an issue" unit:"none"`
}

type dataTask struct {
	ID       string       `json:"id" doc:"the step's name, with a coat or an old guard behind it" unit:"text"`
	Title    string       `json:"title" doc:"the same in words" unit:"text"`
	Done     bool         `json:"done" doc:"done already, on the day that it begins" unit:"none"`
	Begins   dataMoment   `json:"begins" doc:"when it begins" unit:"none"`
	Over     dataMoment   `json:"over" doc:"when it is over" unit:"none"`
	Ready    dataMoment   `json:"ready" doc:"when what comes after it may begin: dry, delivered" unit:"none"`
	Latest   dataMoment   `json:"latest" doc:"when it may begin at the latest without moving the end or breaking a date" unit:"none"`
	Slack    int          `json:"slack" min:"0" doc:"working time between the two" unit:"min"`
	Critical bool         `json:"critical" doc:"it has no slack" unit:"none"`
	People   []int        `json:"people" doc:"who does it, from 1" unit:"people"`
	Spans    []dataWorked `json:"spans" doc:"when it is worked on" unit:"none"`
	With     []string     `json:"with,omitempty" doc:"names of steps that go hand in hand with it" unit:"text"`
	Shop     bool         `json:"shop" doc:"it is done in the shop" unit:"none"`
}

type dataPiece struct {
	Name string `json:"name" doc:"a group and which of its coats, or an old guard" unit:"text"`
	Done string `json:"done,omitempty" doc:"the day it was done; absent while it is not" unit:"text"`
}

type dataWait struct {
	Minutes int    `json:"minutes" min:"1" doc:"day and night" unit:"min"`
	Source  string `json:"source,omitempty" doc:"what it rests on" unit:"text"`
	Status  string `json:"status,omitempty" enum:"status" doc:"how sure that is" unit:"text"`
}

type dataMoved struct {
	Step string `json:"step,omitempty" doc:"the step's name; absent for the whole of the work" unit:"text"`
	Was  string `json:"was" doc:"the day on which it was to be over by the last issue" unit:"text"`
	Is   string `json:"is,omitempty" doc:"the day on which it is over now, or was done" unit:"text"`
	Done bool   `json:"done" doc:"it is done" unit:"none"`
	Days int    `json:"days" doc:"working days later; below 0 sooner" unit:"days"`
}

// moved are the days of the last issue, and those of now.
func (d dataWriter) moved() []dataMoved {
	return eachOf(d.plan.Moved(), func(m plan.Moved) dataMoved {
		out := dataMoved{Was: m.Was, Is: m.Is, Done: m.Done, Days: m.Days}
		if m.Step != nil {
			out.Step = m.Step.Name
		}
		return out
	})
}

// wait is what passes after a step: as the job says, else as its file does.
func (d dataWriter) wait(s *job.Step) *dataWait {
	t := s.Time
	for _, x := range d.plan.Job.Calendar.Waits {
		if x.Step.Text == s.Name && x.Wait.Given && x.Wait.Most > 0 {
			return &dataWait{Minutes: x.Wait.Most, Source: "written in " + x.Wait.At.File}
		}
	}
	if !t.Wait.Given {
		return nil
	}
	out := &dataWait{Minutes: t.Wait.Most, Source: t.Source.Text}
	if t.Status != 0 {
		out.Status = t.Status.String()
	}
	return out
}

type dataMoment struct {
	Day  int    `json:"day" doc:"day of the calendar, from 1; days before it are 0 and less" unit:"days"`
	Time string `json:"time" doc:"time of that day" unit:"text"`
	Date string `json:"date,omitempty" doc:"the same day, year-month-day; absent where the job names no first day" unit:"text"`
}

type dataWorked struct {
	From dataMoment `json:"from" doc:"its beginning" unit:"none"`
	To   dataMoment `json:"to" doc:"its end" unit:"none"`
}

func (d dataWriter) moment(m int) dataMoment {
	s := &d.plan.Schedule
	out := dataMoment{sequence.DayOf(m) + 1, sequence.Clock(m), ""}
	if s.Dated {
		out.Date = s.Date(m).Format(time.DateOnly)
	}
	return out
}

func (d dataWriter) calendar() dataCalendar {
	s := &d.plan.Schedule
	out := dataCalendar{Tasks: []dataTask{}, Uncounted: []string{}, Moved: d.moved()}
	if !s.Known {
		return out
	}
	out.Crew, out.Uncounted = s.Crew, append(out.Uncounted, s.Uncounted...)
	if s.Dated {
		out.Start = s.Start.Format(time.DateOnly)
	}
	if z := d.job.Calendar.TheZone(); z != nil {
		out.Zone = z.Name
	}
	out.Tasks = eachOf(s.Table.Order, func(i int) dataTask {
		t, p := s.Tasks[i], s.Table.Placed[i]
		return dataTask{s.Of[i].ID, t.Name, t.Done, d.moment(p.Start), d.moment(p.End), d.moment(p.Ready), d.moment(p.Latest), p.Slack, p.Critical && !t.Done,
			eachOf(p.People, func(k int) int { return k + 1 }), eachOf(p.Spans, func(x sequence.Span) dataWorked { return dataWorked{d.moment(x.From), d.moment(x.To)} }),
			eachOf(s.Of[i].With, func(x *sequence.Step) string { return x.Step.Name }), s.Of[i].Shop}
	})
	return out
}

func calendarTable(c dataCalendar) File {
	s := sheet{path: "data/calendar.csv", head: []string{"task", "title", "begins on day", "date", "at", "over on day", "date", "at", "dry or here on day", "date", "at", "slack (min)", "critical", "people", "done"}}
	moment := func(m dataMoment) []cell { return []cell{cellCount(m.Day), cellText(m.Date), cellText(m.Time)} }
	for _, t := range c.Tasks {
		var people []string
		for _, k := range t.People {
			people = append(people, strconv.Itoa(k))
		}
		row := []cell{cellText(t.ID), cellText(t.Title)}
		row = append(append(append(row, moment(t.Begins)...), moment(t.Over)...), moment(t.Ready)...)
		s.row(append(row, cellCount(t.Slack), cellYesNo(t.Critical), cellText(strings.Join(people, " ")), cellYesNo(t.Done))...)
	}
	return s.file()
}
