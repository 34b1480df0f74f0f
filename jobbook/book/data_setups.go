package book

import (
	"balustrade/jobbook/length"
	"balustrade/jobbook/takeoff"
	"balustrade/jobbook/working"
)

// This file is the labels still to be written on, and the settings of saw and drill, of plan.json.

type dataBlank struct {
	Mark   string `json:"mark" doc:"the one that the piece will have" unit:"text"`
	What   string `json:"what" doc:"handrail, shoe, baluster, newel" unit:"text"`
	Run    string `json:"run,omitempty" doc:"name of its run" unit:"text"`
	Post   string `json:"post,omitempty" doc:"name of its post" unit:"text"`
	Number int    `json:"number" min:"1" doc:"which of its sort in its run" unit:"none"`
	Of     int    `json:"of" min:"1" doc:"how many of its sort the run has" unit:"pieces"`
}

type dataSetups struct {
	Saws   []dataSaw   `json:"saws" doc:"square cuts first, then every angle from the smallest on" unit:"none"`
	Loose  []string    `json:"loose" doc:"marks of pieces without a stop: cut to the opening as it stands" unit:"text"`
	Drills []dataDrill `json:"drills" doc:"the smallest bit first" unit:"none"`
}

type dataSaw struct {
	Angle string     `json:"angle,omitempty" doc:"id of the working of the angle off square, degrees; absent where it is square" unit:"text"`
	Stops []dataStop `json:"stops" doc:"part by part, the longest first" unit:"none"`
}

type dataStop struct {
	What     string      `json:"what" doc:"what is cut at it; fillet is of shoe and rail alike" unit:"text"`
	Part     string      `json:"part,omitempty" doc:"the part's name" unit:"text"`
	Stop     *dataLength `json:"stop" doc:"where the stop is set" unit:"length"`
	Measured string      `json:"measured,omitempty" doc:"what it is measured to; absent where the piece is square" unit:"text"`
	Short    *dataLength `json:"short,omitempty" doc:"the short point of the same piece" unit:"length"`
	After    *dataLength `json:"after,omitempty" doc:"what a blank comes to along an edge, from point to point" unit:"length"`
	Both     bool        `json:"both" doc:"both ends are cut at the angle" unit:"none"`
	Marks    []string    `json:"marks" doc:"of the pieces" unit:"text"`
}

type dataDrill struct {
	For     string           `json:"for" doc:"what goes in" unit:"text"`
	Wide    *dataLength      `json:"wide" doc:"of the bit, or the side of a square hole" unit:"length"`
	Deep    *dataLength      `json:"deep,omitempty" doc:"along the hole; absent where it goes right through, or is not known" unit:"length"`
	Through bool             `json:"through" doc:"it goes right through" unit:"none"`
	Round   bool             `json:"round" doc:"bored; else square, cut to the foot" unit:"none"`
	Angle   string           `json:"angle,omitempty" doc:"id of the working of the angle off square to the face, degrees; absent where it is square" unit:"text"`
	Lies    string           `json:"lies,omitempty" doc:"how a hole at an angle lies" unit:"text"`
	Holes   []dataDrillHoles `json:"holes" doc:"the places" unit:"none"`
}

type dataDrillHoles struct {
	Run   string        `json:"run,omitempty" doc:"name of the run; absent for a post" unit:"text"`
	Where string        `json:"where,omitempty" doc:"the place" unit:"text"`
	Count int           `json:"count" min:"1" doc:"holes" unit:"pieces"`
	Note  string        `json:"note,omitempty" doc:"what to know when boring" unit:"text"`
	Rows  []dataFootRow `json:"rows,omitempty" doc:"where they are bored at a post's foot, the upper first" unit:"none"`
}

func (d dataWriter) blank(l takeoff.Blank) dataBlank {
	return dataBlank{l.Mark, l.What, l.Run, l.Post, l.Number, l.Of}
}

func markOf(l takeoff.Label) string { return l.Mark }

func figureID(f *working.Figure) string {
	if f == nil {
		return ""
	}
	return f.ID
}

func (d dataWriter) setups(s takeoff.Setups) dataSetups {
	positive := func(l length.Length) *dataLength { return d.lengthIf(l > 0, l) }
	return dataSetups{
		Saws: eachOf(s.Saws, func(saw takeoff.SawSetup) dataSaw {
			return dataSaw{figureID(saw.Angle), eachOf(saw.Stops, func(stop takeoff.SawStop) dataStop {
				return dataStop{stop.What, stop.Part, d.lengthIf(true, stop.Long), stop.Point, positive(stop.Short), positive(stop.After), stop.Both, eachOf(stop.Pieces, markOf)}
			})}
		}),
		Loose: eachOf(s.Loose, markOf),
		Drills: eachOf(s.Drills, func(x takeoff.DrillSetup) dataDrill {
			return dataDrill{x.For, d.lengthIf(true, x.Wide), positive(x.Deep), x.Through, x.Round, figureID(x.Angle), x.Lies, eachOf(x.Holes, func(h takeoff.DrillHoles) dataDrillHoles {
				return dataDrillHoles{h.Run, h.Where, h.Count, h.Note, eachOf(h.Rows, d.footRow)}
			})}
		}),
	}
}
