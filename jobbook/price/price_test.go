package price

import (
	"fmt"
	"math/big"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/money"
	"balustrade/jobbook/sequence"
	"balustrade/jobbook/takeoff"
)

func amount(m money.Money) job.Amount { return job.Amount{Money: m, Given: true} }

// rated is so many thousandths of a per cent.
func rated(thousandths int64) job.Ratio {
	return job.Ratio{Thousandths: thousandths, Unit: "%", Given: true}
}

func words(s string) job.Text { return job.Text{Text: s, Given: true} }

func extra(what string, m money.Money) job.Extra {
	return job.Extra{What: words(what), Price: amount(m)}
}

// whole is a job with nothing missing: one run of 120 in of handrail and 30 balusters, 200.00 of materials from one supplier, a step of 90 minutes at 40.00 an hour, 60.00 of labour; all
// rates 0 %. It costs 260.00.
func whole() Input {
	j := &job.Job{File: "job.md"}
	j.Shop.Currency = words("$")
	j.Shop.Rates = job.Rates{Hour: amount(4000), Overhead: rated(0), MarkUp: rated(0), Tax: rated(0)}
	j.Price.Show = words("lines")
	run := &layout.Run{ID: "run/hall", Name: "hall", Title: "Hall", Job: &job.Run{File: "runs/hall.md", NoShoe: true, NoRailFillet: true, NoShoeFillet: true}, Chosen: &layout.Candidate{Count: 30}, Handrail: &layout.Cut{Length: 120 * length.Inch}}
	return Input{
		Job: j, Layout: layout.Layout{Runs: []*layout.Run{run}},
		Buying:   takeoff.Buying{Complete: true, Orders: []takeoff.Order{{Supplier: takeoff.Source{Name: "yard", Title: "Yard"}, Known: 20000, Complete: true, Figure: "buy/yard"}}},
		Sequence: sequence.Sequence{Minutes: 90, Steps: []sequence.Step{step(1, "fit", 90)}},
	}
}

func step(n int, name string, minutes int) sequence.Step {
	return sequence.Step{N: n, Minutes: minutes, Step: &job.Step{Origin: job.Origin{Name: name, File: "steps/" + name + ".md"}, Minutes: job.Minutes{Once: job.Whole{N: minutes, Given: true}}}}
}

// lines are an estimate's lines as they are printed.
func lines(list []Line) (printed []string) {
	for _, l := range list {
		printed = append(printed, l.Title+" "+l.Amount.String())
	}
	return printed
}

// Every expected amount was worked by hand from the line's own rule; the exact value is beside it where it was rounded.
func TestSums(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*Input)
		want   []string
		offer  []string
	}{
		{"nothing on it", func(*Input) {}, []string{"Materials 200.00", "Labour 60.00", "Total 260.00"}, []string{"The guard, as described 260.00", "Total 260.00"}},
		{"overhead and mark-up on cost", func(in *Input) {
			in.Job.Shop.Rates.Overhead, in.Job.Shop.Rates.MarkUp = rated(12_500), rated(10_000) // 12.5 % of 260 are 32.50; 10 % of 292.50 are 29.25
		}, []string{"Materials 200.00", "Labour 60.00", "Cost 260.00", "Overhead 32.50", "Cost with overhead 292.50", "Mark-up on cost 29.25", "Total 321.75"},
			[]string{"The guard, as described 321.75", "Total 321.75"}},
		{"a half is rounded up", func(in *Input) {
			in.Job.Shop.Rates.Overhead = rated(1_250) // 1.25 % of 260.20 are 3.2525; of 260.40, 3.255
			in.Buying.Orders[0].Known = 20040
		}, []string{"Materials 200.40", "Labour 60.00", "Cost 260.40", "Overhead 3.26", "Total 263.66"}, []string{"The guard, as described 263.66", "Total 263.66"}},
		{"tax on materials is in the guard, and not shown", func(in *Input) {
			in.Job.Shop.Rates.Tax, in.Job.Shop.Rates.TaxOn = rated(7_250), words("materials") // 14.50
		}, []string{"Materials 200.00", "Labour 60.00", "Cost 260.00", "Tax on materials 14.50", "Total 274.50"}, []string{"The guard, as described 274.50", "Total 274.50"}},
		{"tax on everything", func(in *Input) {
			in.Job.Shop.Rates.Tax, in.Job.Shop.Rates.TaxOn = rated(7_250), words("everything") // 7.25 % of 260 are 18.85
		}, []string{"Materials 200.00", "Labour 60.00", "The guard 260.00", "Tax 18.85", "Total 278.85"}, []string{"The guard, as described 260.00", "Tax 18.85", "Total 278.85"}},
		{"rounded up before extras, discount and tax", func(in *Input) {
			in.Job.Shop.Rates.Round = amount(2500)                                              // to 275
			in.Job.Shop.Rates.Tax, in.Job.Shop.Rates.TaxOn = rated(10_000), words("everything") // of 346.25: 34.625
			in.Job.Price.Extras = []job.Extra{extra("Patching", 5000)}                          // 325
			in.Job.Price.Allowances = []job.Extra{extra("A gate", 3000)}                        // after the discount
			in.Job.Price.Discount.Percent = rated(2_692)                                        // 8.749 of 325
		}, []string{"Materials 200.00", "Labour 60.00", "The guard 260.00", "Rounding up 15.00", "The guard, rounded up 275.00", "Patching 50.00", "The guard and its extras 325.00",
			"Discount -8.75", "A gate 30.00", "The price before tax 346.25", "Tax 34.63", "Total 380.88"},
			[]string{"The guard, as described 275.00", "Patching 50.00", "Discount -8.75", "A gate 30.00", "The price before tax 346.25", "Tax 34.63", "Total 380.88"}},
		{"a multiple already", func(in *Input) { in.Job.Shop.Rates.Round = amount(2000) },
			[]string{"Materials 200.00", "Labour 60.00", "The guard 260.00", "Rounding up 0.00", "Total 260.00"}, []string{"The guard, as described 260.00", "Total 260.00"}},
		{"a hundredth over a multiple", func(in *Input) { in.Job.Shop.Rates.Round, in.Buying.Orders[0].Known = amount(2000), 20001 },
			[]string{"Materials 200.01", "Labour 60.00", "The guard 260.01", "Rounding up 19.99", "Total 280.00"}, []string{"The guard, as described 280.00", "Total 280.00"}},
		{"the job's own hours", func(in *Input) { in.Job.Price.Hours = job.Ratio{Thousandths: 12_333, Unit: "h", Given: true} }, // 493.32
			[]string{"Materials 200.00", "Labour 493.32", "Total 693.32"}, []string{"The guard, as described 693.32", "Total 693.32"}},
		{"an agreed discount", func(in *Input) { in.Job.Price.Discount.Sum = amount(1001) },
			[]string{"Materials 200.00", "Labour 60.00", "The guard 260.00", "Discount -10.01", "Total 249.99"}, []string{"The guard, as described 260.00", "Discount -10.01", "Total 249.99"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := whole()
			c.change(&in)
			e, problems := Reckon(in)
			if len(problems) > 0 || !e.Complete || !e.Known || len(e.Asks) > 0 {
				t.Fatalf("complete %v, known %v, asks %v, problems %v", e.Complete, e.Known, e.Asks, problems)
			}
			if diff := cmp.Diff(c.want, lines(e.Sums)); diff != "" {
				t.Errorf("sums, want -, got +:\n%s", diff)
			}
			if diff := cmp.Diff(c.offer, lines(e.Offer.Lines)); diff != "" {
				t.Errorf("offer, want -, got +:\n%s", diff)
			}
			addsUp(t, e)
		})
	}
}

// addsUp adds the printed amounts up again: every sum is that of the lines above it that are none.
func addsUp(t interface {
	Helper()
	Errorf(string, ...any)
}, e Estimate) {
	t.Helper()
	for name, list := range map[string][]Line{"sums": e.Sums, "offer": e.Offer.Lines} {
		sum := new(big.Rat)
		for _, l := range list {
			printed, ok := new(big.Rat).SetString(l.Amount.String())
			switch {
			case !ok:
				t.Errorf("%s: %s is %q", name, l.Title, l.Amount)
			case l.Sum && printed.Cmp(sum) != 0:
				t.Errorf("%s: %s is %s, its lines add up to %s", name, l.Title, l.Amount, sum.FloatString(2))
			case !l.Sum:
				sum.Add(sum, printed)
			}
		}
	}
	for _, part := range []struct {
		lines []Line
		sum   int
	}{{e.Materials, 0}, {e.Labour, 1}} {
		sum := money.Money(0)
		for _, l := range part.lines {
			sum += l.Amount
		}
		if len(e.Sums) > part.sum && sum != e.Sums[part.sum].Amount {
			t.Errorf("%s is %s, its lines add up to %s", e.Sums[part.sum].Title, e.Sums[part.sum].Amount, sum)
		}
	}
	if e.Known && len(e.Sums) > 0 && e.Sums[len(e.Sums)-1].Amount != e.Total || e.Offer.Show && e.Offer.Total != e.Total {
		t.Errorf("total %s, last line %v, offer %s", e.Total, e.Sums[len(e.Sums)-1], e.Offer.Total)
	}
}

// 10 minutes at 58.25 are 9.708; at 0.01 an hour, 30 minutes are half a hundredth, which is rounded up, and 29 minutes are less.
func TestLabourByStep(t *testing.T) {
	for _, c := range []struct {
		minutes int
		hour    money.Money
		want    money.Money
	}{{10, 5825, 971}, {30, 1, 1}, {29, 1, 0}, {0, 5825, 0}, {60, 5825, 5825}} {
		in := whole()
		in.Job.Shop.Rates.Hour = amount(c.hour)
		in.Sequence.Steps = []sequence.Step{step(1, "fit", c.minutes), step(2, "sand", c.minutes)}
		e, _ := Reckon(in)
		if e.Labour[0].Amount != c.want || e.Sums[1].Amount != 2*c.want {
			t.Errorf("%d minutes at %s: %s, two of them %s, want %s", c.minutes, c.hour, e.Labour[0].Amount, e.Sums[1].Amount, c.want)
		}
	}
}

// What is not known is asked for by its key, the client sees no price, and a total says that it is the least.
func TestAsks(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*Input)
		ask    string
		known  bool
		covers bool // a contingency stands for it
	}{
		{"no hour", func(in *Input) { in.Job.Shop.Rates.Hour = job.Amount{} }, "rates: {hour: }", false, false},
		{"no overhead", func(in *Input) { in.Job.Shop.Rates.Overhead = job.Ratio{} }, "rates: {overhead: ; 0 % for none}", true, false},
		{"no mark-up", func(in *Input) { in.Job.Shop.Rates.MarkUp = job.Ratio{} }, "rates: {mark-up: ; 0 % for none}", true, false},
		{"no tax", func(in *Input) { in.Job.Shop.Rates.Tax = job.Ratio{} }, "rates: {tax: ; 0 % for none}", true, false},
		{"tax on what", func(in *Input) { in.Job.Shop.Rates.Tax = rated(5_000) }, "rates: {tax-on: everything or materials}", true, false},
		{"a price", func(in *Input) { in.Buying.Complete = false }, "kind: supplier", true, true},
		{"a run", func(in *Input) { in.Layout.Runs[0].Chosen = nil }, "runs/hall.md", true, true},
		{"a shoe", func(in *Input) { in.Layout.Runs[0].Job.NoShoe = false }, "shoe: ; none", true, true},
		{"a reading", func(in *Input) { in.Open = []finding.Reading{{What: "x", Where: "the newel", Group: "job"}} }, "the newel", true, true},
		{"a step without a time", func(in *Input) { in.Sequence.Steps[0].Step.Minutes = job.Minutes{} }, "steps/fit.md, minutes: {once: }", true, true},
		{"a step that waits", func(in *Input) { in.Sequence.Steps[0].Waits = "marks" }, "readings that are still to be taken", true, true},
		{"an extra", func(in *Input) { in.Job.Price.Extras = []job.Extra{{What: words("Patching")}} }, "extras: {price: }", true, false},
		{"an allowance", func(in *Input) { in.Job.Price.Allowances = []job.Extra{{What: words("A gate")}} }, "allowances: {price: }", true, false},
		{"too large a discount", func(in *Input) { in.Job.Price.Discount.Sum = amount(30001) }, "discount: ", true, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := whole()
			c.change(&in)
			e, problems := Reckon(in)
			if e.Complete || e.Known != c.known || e.Offer.Show || len(problems) > 0 {
				t.Errorf("complete %v, known %v, shown %v, problems %v", e.Complete, e.Known, e.Offer.Show, problems)
			}
			if len(e.Asks) != 1 || !strings.Contains(e.Asks[0].Where, c.ask) {
				t.Errorf("want %q asked for, got %+v", c.ask, e.Asks)
			}
			if last := e.Sums[len(e.Sums)-1].Title; e.Known && !strings.HasSuffix(last, ", at the least") {
				t.Errorf("the total is called %q", last)
			}
			if !c.known && (e.Total != 0 || len(e.Sums) > 2) {
				t.Errorf("there is no price, and yet %v", lines(e.Sums))
			}
			addsUp(t, e)
			in.Job.Price.Contingency = amount(100)
			e, _ = Reckon(in)
			if e.Complete != c.covers || e.Offer.Show != c.covers || len(e.Asks) != 1 {
				t.Errorf("with a contingency: complete %v, shown %v, asks %v", e.Complete, e.Offer.Show, e.Asks)
			}
			addsUp(t, e)
		})
	}
	t.Run("a hold point takes no time", func(t *testing.T) {
		in := whole()
		hold := step(2, "hold", 0)
		hold.Step.Minutes, hold.Step.Hold = job.Minutes{}, words("marks checked")
		in.Sequence.Steps = append(in.Sequence.Steps, hold)
		if e, _ := Reckon(in); !e.Complete || len(e.Labour) != 1 {
			t.Errorf("asks %v, labour %v", e.Asks, e.Labour)
		}
	})
	t.Run("a discount of all of it", func(t *testing.T) {
		in := whole()
		in.Job.Price.Discount.Sum = amount(26000)
		if e, _ := Reckon(in); !e.Complete || e.Total != 0 {
			t.Errorf("total %s, asks %v", e.Total, e.Asks)
		}
	})
}

// Amounts up to a thousand times the most that can be written are reckoned with; over it there is a problem and no total, and never a number that wrapped.
func TestTooMuch(t *testing.T) {
	in := whole()
	in.Buying.Orders[0].Known = most - 6000
	if e, problems := Reckon(in); len(problems) > 0 || e.Total != most {
		t.Errorf("at the most: total %s, problems %v", e.Total, problems)
	}
	for _, c := range []struct {
		name   string
		change func(*Input)
	}{
		{"materials", func(in *Input) { in.Buying.Orders[0].Known = most + 1 }},
		{"cost", func(in *Input) { in.Buying.Orders[0].Known = most - 5999 }},
		{"overhead", func(in *Input) {
			in.Buying.Orders[0].Known = most - 6000
			in.Job.Shop.Rates.Overhead = rated(100_000_000)
		}},
		{"labour", func(in *Input) {
			in.Job.Shop.Rates.Hour = amount(money.Most)
			in.Job.Price.Hours = job.Ratio{Thousandths: 100_000_000, Unit: "h", Given: true}
		}},
		{"rounding", func(in *Input) {
			in.Buying.Orders[0].Known = most - 6001
			in.Job.Shop.Rates.Round = amount(money.Most - 1)
		}},
		{"extras", func(in *Input) {
			in.Buying.Orders[0].Known = most - 6000
			in.Job.Price.Extras = []job.Extra{extra("More", 1)}
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := whole()
			c.change(&in)
			e, problems := Reckon(in)
			if len(problems) != 1 || !strings.Contains(problems[0].Summary, "comes to more than") {
				t.Errorf("problems %v", problems)
			}
			if e.Known || e.Complete || e.Offer.Show || e.Total != 0 || e.Guard != 0 || len(e.Sums) > 0 || len(e.Asks) != 1 {
				t.Errorf("there is a price: %+v", e)
			}
		})
	}
}

// The lines of an offer, by hand. By runs of 120 and 60 in: two thirds and a third of 260.00. By cost: 200.00 and
// 60.00 of 312.00, 240.00 and 72.00.
func TestOfferLines(t *testing.T) {
	line := func(what string) job.PriceLine { return job.PriceLine{What: words(what)} }
	by := func(what string, share int64) job.PriceLine {
		l := line(what)
		l.Share = rated(share)
		return l
	}
	for _, c := range []struct {
		name  string
		lines []job.PriceLine
		more  func(*Input)
		want  []string
	}{
		{"shares", []job.PriceLine{by("a", 33_333), by("b", 33_333), line("c")}, nil, []string{"a 86.67", "b 86.66", "c 86.67", "Total 260.00"}}, // 86.6658, 86.6658, 86.6684: c has the largest remainder, then a as the first of equal ones
		{"all in the last", []job.PriceLine{by("a", 0), line("b")}, nil, []string{"a 0.00", "b 260.00", "Total 260.00"}},
		{"runs", nil, func(in *Input) {
			second := *in.Layout.Runs[0]
			second.Name, second.ID, second.Handrail = "stair", "run/stair", &layout.Cut{Length: 60 * length.Inch}
			in.Layout.Runs = append(in.Layout.Runs, &second)
			a, b := line("the hall"), line("the stair")
			a.Runs, b.Runs = []job.Text{words("hall")}, []job.Text{words("stair")}
			in.Job.Price.Lines = []job.PriceLine{a, b}
		}, []string{"the hall 173.33", "the stair 86.67", "Total 260.00"}},
		{"costs", nil, func(in *Input) {
			in.Job.Shop.Rates.MarkUp = rated(20_000)
			a, b := line("timber and parts"), line("work")
			a.Of, b.Of = []job.Text{words("materials")}, []job.Text{words("labour")}
			in.Job.Price.Lines = []job.PriceLine{a, b}
			in.Job.Price.Extras = []job.Extra{extra("Labour", 10), extra("Materials", 0)} // words of the job are not taken for the sums
		}, []string{"timber and parts 240.00", "work 72.00", "Labour 0.10", "Materials 0.00", "Total 312.10"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := whole()
			in.Job.Price.Lines = c.lines
			if c.more != nil {
				c.more(&in)
			}
			e, _ := Reckon(in)
			if diff := cmp.Diff(c.want, lines(e.Offer.Lines)); diff != "" {
				t.Errorf("want -, got +:\n%s", diff)
			}
			addsUp(t, e)
		})
	}
	t.Run("total alone", func(t *testing.T) {
		in := whole()
		in.Job.Price.Show, in.Job.Price.Lines = words("total"), []job.PriceLine{line("a")}
		if e, _ := Reckon(in); !e.Offer.Show || len(e.Offer.Lines) > 0 || e.Offer.Total != 26000 {
			t.Errorf("%+v", e.Offer)
		}
	})
	for _, show := range []job.Text{{}, words("none")} {
		t.Run("show "+show.Text, func(t *testing.T) {
			in := whole()
			in.Job.Price.Show = show
			if e, _ := Reckon(in); e.Offer.Show || e.Offer.Total != 0 || len(e.Offer.Lines) > 0 {
				t.Errorf("%+v", e.Offer)
			}
		})
	}
	t.Run("costs of nothing", func(t *testing.T) {
		in := whole()
		in.Buying.Orders, in.Sequence.Steps = nil, []sequence.Step{step(1, "fit", 0)}
		l := line("all")
		l.Of = []job.Text{words("materials"), words("labour")}
		in.Job.Price.Lines = []job.PriceLine{l}
		if e, _ := Reckon(in); e.Offer.Show || len(e.Asks) != 1 || e.PerLength.Value.Sign() != 0 {
			t.Errorf("%+v, %v", e.Offer, e.Asks)
		}
	})
}

// 260.00 over 120 in are 26.00 a foot, over 30 balusters 8.666.
func TestEach(t *testing.T) {
	e, _ := Reckon(whole())
	if e.PerLength.Result() != "26" || e.PerBaluster.Result() != "8.67" {
		t.Errorf("a foot %s, a baluster %s", e.PerLength.Result(), e.PerBaluster.Result())
	}
	in := whole()
	in.Job.System = length.Millimetres
	in.Layout.Runs[0].Handrail.Length = 4000 * length.Millimetre // 65.00 a metre
	in.Layout.Runs[0].Chosen.Count = 0
	if e, _ = Reckon(in); e.PerLength.Result() != "65" || e.PerBaluster != nil {
		t.Errorf("a metre %s, a baluster of none %v", e.PerLength.Result(), e.PerBaluster)
	}
}

// Parts by hand, and what must hold for any: they add up, and each is its exact share rounded down or a hundredth more.
func TestParts(t *testing.T) {
	for _, c := range []struct {
		of      money.Money
		weights []int64
		want    string
	}{
		{10000, []int64{1, 1, 1}, "33.34 33.33 33.33"},
		{1, []int64{1, 1}, "0.01 0.00"},
		{0, []int64{2, 5}, "0.00 0.00"},
		{1000, []int64{0, 1}, "0.00 10.00"},
		{10000, []int64{1, 2, 3}, "16.67 33.33 50.00"},  // 16.666 has the larger remainder, 33.333 the smaller
		{7, []int64{3, 3, 3, 1}, "0.02 0.02 0.02 0.01"}, // 2.1, 2.1, 2.1, 0.7
	} {
		var weights []exact.Number
		for _, w := range c.weights {
			weights = append(weights, exact.Of(w))
		}
		var got []string
		for _, p := range Parts(c.of, weights) {
			got = append(got, p.Amount.String())
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%s by %v: %v, want %s", c.of, c.weights, got, c.want)
		}
	}
	rapid.Check(t, func(rt *rapid.T) {
		of := money.Money(rapid.Int64Range(0, int64(most)).Draw(rt, "amount"))
		numbers := rapid.SliceOfN(rapid.Int64Range(0, 1_000_000), 1, 9).Draw(rt, "weights")
		numbers[0]++
		whole := int64(0)
		var weights []exact.Number
		for _, n := range numbers {
			whole += n
			weights = append(weights, exact.New(n, 7))
		}
		left := of
		for i, p := range Parts(of, weights) {
			left -= p.Amount
			share := new(big.Rat).Mul(big.NewRat(int64(of), 1), big.NewRat(numbers[i], whole))
			over := new(big.Rat).Sub(big.NewRat(int64(p.Amount), 1), share)
			if over.Cmp(big.NewRat(1, 1)) >= 0 || over.Cmp(big.NewRat(-1, 1)) <= 0 || p.Amount < 0 {
				rt.Errorf("part %d of %s by %v is %s", i, of, numbers, p.Amount)
			}
		}
		if left != 0 {
			rt.Errorf("%s is left of %s by %v", left, of, numbers)
		}
	})
}

// random is an estimate's input with every sort of rate, sum and line.
func random(rt *rapid.T) Input {
	in := whole()
	sum := func(name string) money.Money { return money.Money(rapid.Int64Range(0, 5_000_000).Draw(rt, name)) }
	rate := func(name string) job.Ratio { return rated(rapid.Int64Range(0, 60_000).Draw(rt, name)) }
	in.Job.Shop.Rates = job.Rates{Hour: amount(sum("hour")), Overhead: rate("overhead"), MarkUp: rate("mark-up"), Tax: rate("tax"), TaxOn: words(rapid.SampledFrom([]string{"everything", "materials"}).Draw(rt, "tax on"))}
	if rapid.Bool().Draw(rt, "round") {
		in.Job.Shop.Rates.Round = amount(sum("multiple"))
	}
	in.Buying.Orders[0].Known = sum("materials")
	in.Sequence.Steps = nil
	for i := range rapid.IntRange(1, 4).Draw(rt, "steps") {
		in.Sequence.Steps = append(in.Sequence.Steps, step(i+1, fmt.Sprint("s", i), rapid.IntRange(0, 5000).Draw(rt, "minutes")))
	}
	for range rapid.IntRange(0, 2).Draw(rt, "extras") {
		in.Job.Price.Extras = append(in.Job.Price.Extras, extra("x", sum("extra")))
	}
	for range rapid.IntRange(0, 2).Draw(rt, "allowances") {
		in.Job.Price.Allowances = append(in.Job.Price.Allowances, extra("y", sum("allowance")))
	}
	switch rapid.IntRange(0, 2).Draw(rt, "discount") {
	case 1:
		in.Job.Price.Discount.Sum = amount(sum("discount"))
	case 2:
		in.Job.Price.Discount.Percent = rated(rapid.Int64Range(0, 100_000).Draw(rt, "discount in %"))
	}
	in.Job.Price.Contingency = amount(sum("contingency"))
	for i := range rapid.IntRange(0, 4).Draw(rt, "lines") {
		l := job.PriceLine{What: words(fmt.Sprint("l", i))}
		l.Share = rated(rapid.Int64Range(0, 25_000).Draw(rt, "share"))
		in.Job.Price.Lines = append(in.Job.Price.Lines, l)
	}
	if n := len(in.Job.Price.Lines); n > 0 {
		in.Job.Price.Lines[n-1].Share = job.Ratio{}
	}
	return in
}

// Whatever the rates, what is printed adds up; and with more of any one thing the total is never less.
func TestRandom(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		in := random(rt)
		before, _ := Reckon(in)
		addsUp(rt, before)
		raise := money.Money(rapid.Int64Range(1, 1_000_000).Draw(rt, "raised by"))
		what := rapid.SampledFrom([]string{"hour", "minutes", "materials", "overhead", "mark-up", "tax", "extra", "allowance", "contingency"}).Draw(rt, "raised")
		switch r, p := &in.Job.Shop.Rates, &in.Job.Price; what {
		case "hour":
			r.Hour.Money += raise
		case "minutes":
			in.Sequence.Steps[0].Minutes += int(raise)
		case "materials":
			in.Buying.Orders[0].Known += raise
		case "overhead":
			r.Overhead.Thousandths += int64(raise)
		case "mark-up":
			r.MarkUp.Thousandths += int64(raise)
		case "tax":
			r.Tax.Thousandths += int64(raise)
		case "extra":
			p.Extras = append(p.Extras, extra("more", raise))
		case "allowance":
			p.Allowances = append(p.Allowances, extra("more", raise))
		case "contingency":
			p.Contingency.Money += raise
		}
		after, _ := Reckon(in)
		addsUp(rt, after)
		if before.Known && after.Known && after.Total < before.Total {
			rt.Errorf("more %s: %s became %s", what, before.Total, after.Total)
		}
	})
}
