package takeoff

import (
	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// ask names something about buying that is still to be asked or decided.
func (t *taking) ask(what, where, why string, at source.Pos) {
	t.asks = append(t.asks, finding.Reading{What: what, Where: where, Why: why, Group: "buying", At: at})
}

// tape prints a length as a tape shows it, with its unit.
func (t *taking) tape(l length.Length) string { return tape(t.job, l) }

func tape(j *job.Job, l length.Length) string { return j.System.With(l) }

// money is an amount as an input.
func (t *taking) money(symbol, name string, a job.Amount) *working.Input {
	return &working.Input{Symbol: symbol, Name: name, Value: a.Number(), Unit: t.job.Shop.Currency.Text, At: a.At}
}

func thousandths(r job.Ratio) exact.Number { return exact.New(r.Thousandths, 1000) }
