package book

import (
	_ "embed" // for the schema

	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/plan"
)

// dataFiles are the plan as data, for other programs: data/plan.json with its schema, and tables for a spreadsheet.
// They hold what the pages show and nothing that the plan does not. A plan without a job is an empty one.
func dataFiles(p *plan.Plan, printed *formulas) ([]File, error) {
	d := dataWriter{plan: p, job: p.Job, formulas: printed}
	if d.job == nil {
		d.job = &job.Job{}
	}
	d.division = d.job.Division.Length
	if d.division <= 0 {
		d.division = length.Inch / 16 // a tape's sixteenths, common practice
		if d.job.System == length.Millimetres {
			d.division = length.Millimetre
		}
	}
	whole := d.wholePlan()
	data, err := dataJSON(&whole)
	if err != nil {
		return nil, err
	}
	return append([]File{{"data/plan.json", data}, {"data/plan.schema.json", []string{planSchema}}}, d.tables(whole)...), nil
}

// planSchema is the schema of data/plan.json, which is the same for every plan. It is made from the types in data_plan.go by a test (see schema_test.go), which holds it to them.
//
//go:embed plan.schema.json
var planSchema string

// dataWriter turns a plan into data.
type dataWriter struct {
	plan     *plan.Plan
	job      *job.Job
	division length.Length
	formulas *formulas
}

// tape is a length as text with its unit: as a tape shows it where it lies on the job's division, on a sixty-fourth of an inch
// or on a tenth of a millimetre, else in decimals to 4 places, which no tape shows and no eye takes for a reading.
func (d dataWriter) tape(l length.Length) string {
	const places = 4 // a ten-thousandth of an inch, a tenth of a micrometre: finer than anything judged in the trade
	style := length.Style{System: d.job.System, Division: d.division, Rounding: length.Nearest}
	if l.Round(style.Division, length.Nearest) == l {
		return style.With(l)
	}
	style.Division = d.job.System.Finest()
	if l.Round(style.Division, length.Nearest) == l {
		return style.With(l)
	}
	return style.Decimal(l, places) + " " + d.job.System.String()
}
