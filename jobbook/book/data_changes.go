package book

import (
	"slices"

	"balustrade/jobbook/changes"
)

// This file is the comparison with the last issue as data: its types, how they are filled, and its table.

type dataChanges struct {
	Issue    string        `json:"issue,omitempty" doc:"name of the issue that the plan is compared with; absent where there is none, or it is a revision" unit:"text"`
	Day      string        `json:"day,omitempty" doc:"day it was handed out" unit:"date"`
	Revision string        `json:"revision,omitempty" doc:"git revision of the job's folder that the plan is compared with, as it was named; absent where it is an issue" unit:"text"`
	Hash     string        `json:"hash,omitempty" doc:"of the revision's commit, in full" unit:"text"`
	Notes    []string      `json:"notes" doc:"what a reader must know of the revision" unit:"text"`
	Renamed  []dataRenamed `json:"renamed" doc:"files and posts that have another name now" unit:"none"`
	Gone     []string      `json:"gone" doc:"runs, posts and other files that are no more: run/gallery" unit:"text"`
	Added    []string      `json:"added" doc:"those that are new" unit:"text"`
	Facts    []dataFact    `json:"facts" doc:"what is not as it was recorded, sort by sort: what somebody wrote first, then what follows from it" unit:"none"`
}

type dataRenamed struct {
	Was string `json:"was" doc:"run/gallery" unit:"text"`
	Is  string `json:"is" doc:"run/hall" unit:"text"`
}

type dataFact struct {
	Sort   string      `json:"sort" enum:"change" doc:"what it is about; reading and choice are what somebody wrote" unit:"text"`
	Of     string      `json:"of" doc:"what it belongs to: run/gallery, post/corner, handrail/cherry-rail, job" unit:"text"`
	What   string      `json:"what" doc:"clear: floor; mark 12; of a check the stem of its id" unit:"text"`
	Title  string      `json:"title,omitempty" doc:"of a check, in words" unit:"text"`
	Was    string      `json:"was,omitempty" doc:"as recorded; absent for a new one" unit:"text"`
	Is     string      `json:"is,omitempty" doc:"as it is now; absent for one that is gone" unit:"text"`
	By     *dataLength `json:"by,omitempty" doc:"of a reading, how much more it is" unit:"length"`
	Within bool        `json:"within" doc:"a reading that differs by no more than the tape tells" unit:"none"`
	Likely bool        `json:"likely" doc:"no working leads to the causes: they changed in the same place, or might be behind it" unit:"none"`
	Causes []dataCause `json:"causes" doc:"what it follows from; empty for readings, choices and days, and where nothing could be traced" unit:"none"`
	Figure string      `json:"figure,omitempty" doc:"id of its working" unit:"text"`
	At     *dataPlace  `json:"at,omitempty" doc:"where it is written" unit:"none"`
}

type dataCause struct {
	Of   string `json:"of" doc:"what it belongs to" unit:"text"`
	What string `json:"what,omitempty" doc:"which reading or choice; absent where the whole is new or gone" unit:"text"`
}

func (d dataWriter) changes(c *changes.Comparison) dataChanges {
	if c == nil {
		c = &changes.Comparison{}
	}
	return dataChanges{
		c.Issue, c.Day, c.Revision, c.Hash, eachOf(c.Notes, asIs), eachOf(c.Renamed, func(r changes.Renamed) dataRenamed { return dataRenamed{r.Was, r.Is} }), eachOf(c.Gone, asIs), eachOf(c.Added, asIs),
		eachOf(c.Changes, func(x changes.Change) dataFact {
			f := dataFact{
				Sort: string(x.Sort), Of: x.Line.Of, What: x.What, Title: x.Title, Was: x.Was, Is: x.Value, By: d.lengthIf(x.Sized, x.By), Within: x.Within, Likely: x.Likely,
				Causes: eachOf(x.Causes, func(l changes.Line) dataCause { return dataCause{l.Of, l.What} }), Figure: x.Figure, At: placeIf(x.At),
			}
			if x.Gone {
				f.Is = ""
			}
			return f
		}),
	}
}

// changesTable has a row for each fact that changed, and before them one for each file or post that was renamed, is gone or new.
func (d dataWriter) changesTable() File {
	s := sheet{path: "data/changes.csv", head: []string{"sort", "of", "what", "was", "is", d.in("more by"), "within what a tape tells", "because of", "likely only", "working", "written at"}}
	c := d.plan.Changes
	if c == nil {
		return s.file()
	}
	for _, r := range c.Renamed {
		s.row("renamed", cellText(r.Is), "", cellText(r.Was), cellText(r.Is), "", "", "", "", "", "")
	}
	for _, of := range slices.Concat(c.Gone, c.Added) {
		word := cell("new")
		if slices.Contains(c.Gone, of) {
			word = "gone"
		}
		s.row(word, cellText(of), "", "", "", "", "", "", "", "", "")
	}
	for _, x := range c.Changes {
		is, by, within, likely := x.Value, cell(""), cell(""), cell("")
		if x.Gone {
			is = ""
		}
		if x.Sized {
			by, within = d.decimals(x.By), cellYesNo(x.Within)
		}
		if len(x.Causes) > 0 {
			likely = cellYesNo(x.Likely)
		}
		causes := ""
		for i, l := range x.Causes {
			if i > 0 {
				causes += "; "
			}
			causes += l.Of
			if l.What != "" {
				causes += ", " + l.What
			}
		}
		s.row(cellText(string(x.Sort)), cellText(x.Line.Of), cellText(x.Line.Words()), cellText(x.Was), cellText(is), by, within, cellText(causes), likely, cellText(x.Figure), cellText(x.At.String()))
	}
	return s.file()
}
