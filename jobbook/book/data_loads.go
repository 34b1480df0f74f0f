package book

import (
	"balustrade/jobbook/load"
)

// This file is the screening for loads as data: its types, how they are filled, and its table.

type dataLoads struct {
	Loads   []dataLoad       `json:"loads" doc:"what the rule set has the guard take, each by itself" unit:"none"`
	Members []dataMember     `json:"members" doc:"parts and joints, screened" unit:"none"`
	Sharing []dataLoadShared `json:"sharing" doc:"what stays with each post when the rails hand a load on; judges nothing" unit:"none"`
}

type dataLoad struct {
	Name   string      `json:"name" doc:"its name in the rule set" unit:"text"`
	Value  string      `json:"value" doc:"as written, with its unit" unit:"text"`
	Side   *dataLength `json:"side,omitempty" doc:"side of the square that it is spread over" unit:"nm"`
	Clause string      `json:"clause" doc:"where the rule stands" unit:"text"`
	Status string      `json:"status" doc:"how sure the value is" unit:"text" enum:"status"`
	Force  *dataAmount `json:"force" doc:"as reckoned with, in pounds and inches" unit:"none"`
}

type dataMember struct {
	Group   string         `json:"group" doc:"run or post that it belongs to" unit:"text"`
	Name    string         `json:"name" doc:"which part or joint" unit:"text"`
	Title   string         `json:"title" doc:"the same in words" unit:"text"`
	Verdict string         `json:"verdict" doc:"screened is no pass" unit:"text" enum:"verdict"`
	Words   string         `json:"words" doc:"what was found" unit:"text"`
	Get     string         `json:"get,omitempty" doc:"what to get or do" unit:"text"`
	Cases   []dataLoadCase `json:"cases" doc:"under each load" unit:"none"`
}

type dataLoadCase struct {
	Load   string      `json:"load" doc:"name of the load" unit:"text"`
	How    string      `json:"how,omitempty" doc:"where or which way it acts, where a member has several cases of one load" unit:"text"`
	Comes  *dataAmount `json:"comes,omitempty" doc:"stress, force or moment that it comes to" unit:"none"`
	Ratio  *dataAmount `json:"ratio,omitempty" doc:"to the published value; absent where there is none" unit:"none"`
	Recall *dataAmount `json:"recalled,omitempty" doc:"to a value that was recalled only" unit:"none"`
	Sag    *dataAmount `json:"aside,omitempty" doc:"how far it gives" unit:"none"`
	By     string      `json:"by,omitempty" doc:"what the published value is" unit:"text"`
}

type dataLoadShared struct {
	Post  string      `json:"post" doc:"name of the post" unit:"text"`
	Along string      `json:"along" doc:"title of the run that the load is square to" unit:"text"`
	Part  *dataAmount `json:"part" doc:"share that stays with it, of one" unit:"none"`
	Alone *dataAmount `json:"alone" doc:"moment at its foot without the others" unit:"none"`
	Foot  *dataAmount `json:"foot" doc:"moment at its foot with its share" unit:"none"`
}

func (d dataWriter) loads(s load.Screening) dataLoads {
	return dataLoads{
		eachOf(s.Loads, func(l load.Acting) dataLoad {
			return dataLoad{l.Name, ratio(l.Value), d.lengthIf(l.Side.Given, l.Side.Length), l.Clause.Text, l.Status.String(), amountIf(l.Force)}
		}),
		eachOf(s.Members, func(m load.Member) dataMember {
			return dataMember{m.Group, m.Name, m.Title, m.Verdict.String(), m.Words, m.Get, eachOf(m.Cases, func(c load.Case) dataLoadCase {
				out := dataLoadCase{c.Load, c.How, amountIf(c.Comes), amountIf(c.Ratio), amountIf(c.Recall), amountIf(c.Sag), ""}
				if c.Ratio != nil {
					out.By = c.By
				}
				return out
			})}
		}),
		eachOf(s.Sharing, func(x load.Share) dataLoadShared {
			return dataLoadShared{x.Post, x.Along, amountIf(x.Part), amountIf(x.Alone), amountIf(x.Foot)}
		}),
	}
}

func (d dataWriter) loadsTable() File {
	s := sheet{path: "data/loads.csv", head: []string{"group", "part", "verdict", "load", "how", "comes to", "unit", "ratio", "ratio to a recalled value", "aside (in)", "by", "what to get", "working"}}
	for _, m := range d.plan.Loads.Members {
		if len(m.Cases) == 0 {
			s.row(cellText(m.Group), cellText(m.Title), cellText(m.Verdict.String()), "", "", "", "", "", "", "", cellText(m.Words), cellText(m.Get), "")
		}
		for _, c := range m.Cases {
			shown, by := c.Ratio, c.By
			if shown == nil {
				shown, by = c.Comes, m.Words
			}
			s.row(cellText(m.Group), cellText(m.Title), cellText(m.Verdict.String()), cellText(c.Load), cellText(c.How), cellValue(c.Comes), cellUnit(c.Comes), cellValue(c.Ratio), cellValue(c.Recall), cellValue(c.Sag), cellText(by), cellText(m.Get), cellText(figureID(shown)))
		}
	}
	return s.file()
}
