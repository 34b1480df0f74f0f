package book

import (
	"strings"

	"balustrade/jobbook/rules"
)

// The guard as it stands, as plan.json has it.

type dataSheet struct {
	ID     string      `json:"id" doc:"the group of its findings: as-built/gallery, as-built/post/corner" unit:"text"`
	Run    string      `json:"run,omitempty" doc:"name of the run or flight; absent for a post" unit:"text"`
	Post   string      `json:"post,omitempty" doc:"name of the post; absent for a run" unit:"text"`
	Checks []dataCheck `json:"checks" doc:"what is measured" unit:"none"`
	Ticks  []dataTick  `json:"ticks" doc:"what no length decides" unit:"none"`
	Pushes []dataPush  `json:"pushes" doc:"what pushes by hand showed, newest first; observations" unit:"none"`
}

type dataCheck struct {
	ID      string      `json:"id" doc:"stable name: as-built/gallery/opening" unit:"text"`
	What    string      `json:"what" doc:"what is measured, in words" unit:"text"`
	Where   string      `json:"where" doc:"where exactly" unit:"text"`
	With    string      `json:"with" doc:"what to measure it with" unit:"text"`
	Limits  []dataBound `json:"limits" doc:"what it is judged by; empty where the rule set has no limit for it" unit:"none"`
	Planned *dataLength `json:"planned,omitempty" doc:"by the plan, of an opening with its tolerances; absent while not known" unit:"length"`
	Figure  string      `json:"figure,omitempty" doc:"id of the working of the planned value" unit:"text"`
	Places  int         `json:"places" min:"0" doc:"how many risers or treads are read one by one; 0 for others" unit:"places"`
	Verdict string      `json:"verdict" enum:"verdict" doc:"of the readings that count" unit:"text"`
	Read    []dataBuilt `json:"read" doc:"readings, newest first" unit:"none"`
}

type dataBound struct {
	Name     string     `json:"name" doc:"name of the limit" unit:"text"`
	Operator string     `json:"operator" enum:"operator" doc:"how a reading is compared with it" unit:"text"`
	Limit    dataLength `json:"limit" doc:"the limit" unit:"length"`
	Units    string     `json:"units" enum:"units" doc:"unit that the rule set has it in" unit:"text"`
	Text     string     `json:"text" doc:"the limit in that unit" unit:"the rule set's unit"`
	Clause   string     `json:"clause,omitempty" doc:"the clause behind it" unit:"text"`
	Status   string     `json:"status,omitempty" enum:"status" doc:"how sure it is" unit:"text"`
	Rules    string     `json:"rules,omitempty" doc:"the rule set it was read in" unit:"text"`
	Amends   string     `json:"amends,omitempty" doc:"the rule set that it amends" unit:"text"`
}

type dataBuilt struct {
	Value   dataLength `json:"value" doc:"the reading, or the difference of readings" unit:"length"`
	Where   string     `json:"where,omitempty" doc:"where it was read, as written" unit:"text"`
	Number  int        `json:"number,omitempty" min:"1" doc:"of the riser or tread" unit:"none"`
	Date    string     `json:"date,omitempty" doc:"the day; absent where it is not said" unit:"date"`
	By      string     `json:"by,omitempty" doc:"who read it, as written" unit:"text"`
	Note    string     `json:"note,omitempty" doc:"anything else about it" unit:"text"`
	Counts  bool       `json:"counts" doc:"no newer reading takes its place" unit:"none"`
	Verdict string     `json:"verdict" enum:"verdict" doc:"of this reading" unit:"text"`
	Figure  string     `json:"figure,omitempty" doc:"id of the working of a difference" unit:"text"`
	At      *dataPlace `json:"at,omitempty" doc:"where it was written" unit:"none"`
}

type dataTick struct {
	ID     string `json:"id" doc:"stable name: as-built/gallery/push" unit:"text"`
	What   string `json:"what" doc:"what is looked at" unit:"text"`
	How    string `json:"how" doc:"how" unit:"text"`
	Right  string `json:"right" doc:"how it is right" unit:"text"`
	Source string `json:"source" doc:"what stands behind it" unit:"text"`
}

type dataPush struct {
	Where  string     `json:"where,omitempty" doc:"where, and which way, as written" unit:"text"`
	Load   string     `json:"load,omitempty" doc:"how hard, as written" unit:"text"`
	Moves  bool       `json:"moves" doc:"something moved" unit:"none"`
	Date   string     `json:"date,omitempty" doc:"the day; absent where it is not said" unit:"date"`
	By     string     `json:"by,omitempty" doc:"who pushed, as written" unit:"text"`
	Note   string     `json:"note,omitempty" doc:"what was seen" unit:"text"`
	Counts bool       `json:"counts" doc:"no newer push takes its place" unit:"none"`
	At     *dataPlace `json:"at,omitempty" doc:"where it was written" unit:"none"`
}

type dataInspection struct {
	Sheets []dataSheet `json:"sheets" doc:"runs in the order of the job, then posts" unit:"none"`
	Ticks  []dataTick  `json:"ticks" doc:"what no length decides, of the job as a whole" unit:"none"`
}

func (d dataWriter) inspection() dataInspection {
	return dataInspection{eachOf(d.plan.Inspection.Sheets, d.sheet), eachOf(d.plan.Inspection.Ticks, dataTickOf)}
}

func dataTickOf(t rules.Tick) dataTick { return dataTick(t) }

func (d dataWriter) sheet(s rules.Sheet) dataSheet {
	out := dataSheet{ID: s.ID, Post: s.Post, Checks: eachOf(s.Checks, d.check), Ticks: eachOf(s.Ticks, dataTickOf)}
	if s.Run != nil {
		out.Run = s.Run.Name
	}
	out.Pushes = eachOf(s.Pushes, func(p rules.Push) dataPush {
		return dataPush{p.Where, p.Load, p.Moves.Yes, p.Date, p.By, p.Note, p.Counts, placeIf(p.At)}
	})
	return out
}

func (d dataWriter) check(c rules.Check) dataCheck {
	return dataCheck{
		c.ID, c.What, c.Where, c.With, eachOf(c.Limits, d.bound), d.lengthIf(c.Known, c.Planned), c.Figure, len(c.Boxes), c.Verdict.String(),
		eachOf(c.Read, func(r rules.Built) dataBuilt {
			return dataBuilt{d.length(r.Value), r.Place, r.Number, r.Date, r.By, r.Note, r.Counts, r.Verdict.String(), r.Figure, placeIf(r.At)}
		}),
	}
}

func (d dataWriter) bound(b rules.Bound) dataBound {
	l := b.Limit
	return dataBound{l.Name, b.Op.String(), d.length(l.Value.Length), l.System.String(), rules.Words(l.Value.Length, l.System), l.Clause.Text, statusIf(l.Status), l.Set, l.Amends}
}

// inspectionTable has a line for each reading, and one for each check without any, with empty cells to fill in.
func (d dataWriter) inspectionTable() File {
	s := sheet{path: "data/inspection.csv", head: []string{
		"check", "group", "what", "where to measure", "with", "limits", d.in("planned"), "planned",
		d.in("as built"), "as built", "read where", "day", "read by", "counts", "verdict", "note", "written at",
	}}
	for _, one := range d.plan.Inspection.Sheets {
		for _, c := range one.Checks {
			var limits []string
			for _, b := range c.Limits {
				limits = append(limits, b.Op.String()+" "+rules.Words(b.Limit.Value.Length, b.Limit.System)+" ("+b.Limit.Clause.Text+", "+statusIf(b.Limit.Status)+")")
			}
			planned, plannedText := d.both(c.Known, c.Planned)
			head := []cell{cellText(c.ID), cellText(one.ID), cellText(c.What), cellText(c.Where), cellText(c.With), cellText(strings.Join(limits, "; ")), planned, plannedText}
			row := func(more ...cell) { s.row(append(append([]cell{}, head...), more...)...) }
			if len(c.Read) == 0 {
				row("", "", "", "", "", "", cellText(c.Verdict.String()), "", "")
			}
			for _, r := range c.Read {
				value, text := d.both(true, r.Value)
				row(value, text, cellText(r.Place), cellText(r.Date), cellText(r.By), cellYesNo(r.Counts), cellText(r.Verdict.String()), cellText(r.Note), cellText(r.At.String()))
			}
		}
		for _, t := range one.Ticks {
			s.tick(one.ID, t)
		}
		for _, p := range one.Pushes {
			seen := "nothing moves"
			if p.Moves.Yes {
				seen = "it moves"
			}
			s.row(cellText(one.ID+"/push"), cellText(one.ID), "push", cellText(p.Where), cellText(p.Load), "", "", "", "", "", cellText(p.Where), cellText(p.Date), cellText(p.By), cellYesNo(p.Counts), cellText(seen), cellText(p.Note), cellText(p.At.String()))
		}
	}
	for _, t := range d.plan.Inspection.Ticks {
		s.tick("", t)
	}
	return s.file()
}

func (s *sheet) tick(group string, t rules.Tick) {
	s.row(cellText(t.ID), cellText(group), cellText(t.What), cellText(t.How), "", cellText(t.Right+" ("+t.Source+")"), "", "", "", "", "", "", "", "", "", "", "")
}
