package yard

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/money"
)

// balusters are so many pieces to buy, as a job's list has them that buys by the piece.
func balusters(folder string, want int, cost money.Money, lines ...Line) Summary {
	s := Summary{Folder: folder, Title: strings.ToUpper(folder), State: ToOrder, Shared: true, Currency: "$", Lines: lines, Offers: []Offer{
		{Supplier: "turner", From: "The turner", Kind: "baluster", Part: "maple", Pack: 1, Each: 11_20, Priced: true},
		{Supplier: "turner", From: "The turner", Kind: "baluster", Part: "maple", Pack: 10, Each: 104_00, Priced: true},
	}}
	if len(lines) == 0 {
		s.Lines = []Line{{Supplier: "turner", From: "The turner", Shared: true, Kind: "baluster", Part: "maple", Title: "Maple", Count: want, Pack: 1, Want: want, Each: 11_20, Priced: true, Amount: cost, Complete: true}}
	}
	return s
}

// TestOneOrder: packs and cans are rounded up once, sticks are added up. Worked by hand: 12 balusters are a pack of ten and two singles, 126.40, and 8 are eight singles, 89.60; twenty are two packs, 208.00. 10 and 14 fl oz are a quart each, and 24 are one.
func TestOneOrder(t *testing.T) {
	quart := job.Ratio{Thousandths: 1000, Unit: "qt", Given: true}
	ounce := job.Ratio{Thousandths: 1000, Unit: "fl oz"}.Volume()
	enamel := func(n int64) Line {
		return Line{Supplier: "paint", From: "Paint", Shared: true, Kind: "finish", Part: "enamel", Coat: "enamel", Title: "Enamel", Count: 1, Can: quart, Volume: n * ounce, Each: 24_50, Priced: true, Amount: 24_50, Complete: true, By: "2026-12-0" + fmt.Sprint(n%9)}
	}
	rail := func(n int) Line {
		return Line{Supplier: "turner", From: "The turner", Shared: true, Kind: "handrail", Part: "rail", Title: "Rail", Count: n, Long: 12 * 12 * length.Inch, Each: 100_00, Priced: true, Amount: money.Money(n) * 100_00, Complete: true}
	}
	can := Offer{Supplier: "paint", From: "Paint", Kind: "finish", Part: "enamel", Coat: "enamel", Pack: 1, Can: quart, Each: 24_50, Priced: true}
	a, b := balusters("ash", 12, 126_40), balusters("birch", 8, 89_60)
	a.Lines = []Line{
		{Supplier: "turner", From: "The turner", Shared: true, Kind: "baluster", Part: "maple", Title: "Maple", Count: 1, Pack: 10, Want: 12, Each: 104_00, Priced: true, Amount: 104_00, Complete: true, By: "2026-12-09"},
		{Supplier: "turner", From: "The turner", Shared: true, Kind: "baluster", Part: "maple", Title: "Maple", Count: 2, Pack: 1, Want: 12, Each: 11_20, Priced: true, Amount: 22_40, Complete: true, By: "2026-12-08"},
	}
	a.Lines, a.Offers = append(a.Lines, enamel(10), rail(2)), append(a.Offers, can)
	b.Lines, b.Offers = append(b.Lines, enamel(14), rail(1)), append(b.Offers, can)
	y := Of([]Summary{b, a}, nil)
	want := map[string]string{"baluster": "2 of 10 at 104.00, 208.00", "finish": "1 of 0 at 24.50, 24.50", "handrail": "3 of 0 at 100.00, 300.00"}
	got := map[string]string{}
	for _, o := range y.Buying.Orders {
		for _, l := range o.Lines {
			got[l.Kind] += fmt.Sprintf("%d of %d at %s, %s", l.Count, l.Pack, l.Each, l.Amount)
		}
	}
	for kind, w := range want {
		if got[kind] != w {
			t.Errorf("%s: %s, want %s", kind, got[kind], w)
		}
	}
	if y.Buying.Known != 532_50 || y.Buying.Alone != 126_40+89_60+49_00+300_00 || !y.Buying.Whole || !y.Buying.Cheaper {
		t.Errorf("together %s, alone %s, %v", y.Buying.Known, y.Buying.Alone, y.Buying.Whole)
	}
	for _, o := range y.Buying.Orders {
		by := map[string]string{"turner": "2026-12-08 ash", "paint": "2026-12-01 ash"}[o.Supplier]
		if got := o.By + " " + strings.Join(o.ByJob, ","); got != by {
			t.Errorf("%s: by %q, want %q", o.Supplier, got, by)
		}
	}
	for _, f := range y.Figures {
		if !f.Value.Known() || len(f.Cites) == 0 {
			t.Errorf("%s has no value or rests on nothing", f.ID)
		}
	}
}

// TestOneOrderIsLeast: against every number of packs there could be, tried one by one.
func TestOneOrderIsLeast(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	for range 300 {
		single, pack := money.Money(1+r.IntN(2000)), money.Money(1+r.IntN(15000))
		var jobs []Summary
		need := 0
		for i := range 1 + r.IntN(5) {
			n := 1 + r.IntN(40)
			need += n
			s := balusters(fmt.Sprint("job", i), n, 0)
			s.Offers[0].Each, s.Offers[1].Each = single, pack
			jobs = append(jobs, s)
		}
		least := money.Money(1) << 60
		for tens := 0; tens <= (need+9)/10; tens++ {
			least = min(least, money.Money(tens)*pack+money.Money(max(0, need-10*tens))*single)
		}
		if got := Of(jobs, nil).Buying.Known; got != least {
			t.Fatalf("%d at %s, ten at %s: %s, want %s", need, single, pack, got, least)
		}
	}
}

// TestNotInTheOrder: a job is in the order when it is to be ordered, or when something of a delivery is short.
func TestNotInTheOrder(t *testing.T) {
	for _, c := range []struct {
		name string
		set  func(*Summary)
		want string
	}{
		{"ready", func(*Summary) {}, "in"},
		{"to be measured", func(s *Summary) { s.State = ToMeasure }, "it is to be measured"},
		{"a check fails", func(s *Summary) { s.State = ToSettle }, "it is to be settled"},
		{"ordered", func(s *Summary) { s.State, s.Ordered = UnderWay, true }, "it was ordered, or is built"},
		{"a delivery is short", func(s *Summary) { s.State, s.Ordered, s.Delivered = UnderWay, true, true }, "in"},
		{"built", func(s *Summary) { s.State, s.Built = UnderWay, true }, "it was ordered, or is built"},
		{"only pieces were made", func(s *Summary) { s.State = UnderWay; s.Lines[0].Complete = true }, "in"},
		{"pieces were made, and a check fails", func(s *Summary) { s.State, s.Stops = UnderWay, []Stop{{}} }, "it is to be settled"},
		{"pieces were made, and not all is counted", func(s *Summary) { s.State = UnderWay; s.Lines[0].Complete = false }, "it is to be measured"},
		{"done", func(s *Summary) { s.State = Done }, "it is done"},
		{"a shop of its own", func(s *Summary) { s.Shared = false }, "alone: the job has a shop of its own"},
		{"another money", func(s *Summary) { s.Currency = "€" }, "alone: the job reckons in €"},
		{"a seller of its own", func(s *Summary) { s.Lines[0].Shared = false }, "alone: sold by somebody in the job's own lists"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := balusters("oak", 4, 44_80)
			c.set(&s)
			b := Of([]Summary{balusters("ash", 3, 33_60), s}, nil).Buying
			got := "nowhere"
			for _, o := range b.Orders {
				for _, l := range o.Lines {
					for _, p := range l.For {
						if p.Folder == "oak" {
							got = "in"
						}
					}
				}
			}
			for _, l := range b.Left {
				got = l.Why
			}
			for _, l := range b.Sole {
				got = "alone: " + l.Why
			}
			if got != c.want {
				t.Errorf("%s, want %s", got, c.want)
			}
		})
	}
}

func day(date string, work ...Busy) Day { return Day{date, work} }

// TestClash: what two jobs want at once is told with its hours, and nothing else is. By hand: the shop has two people. On the 1st one job wants two from 8 to 10 and the other one from 9 to 11, so from 9 to 10 it is three.
// On the 2nd they follow each other. On the 3rd each wants one.
func TestClash(t *testing.T) {
	crew := job.Whole{N: 2, Given: true}
	jobs := func() []Summary {
		return []Summary{
			{Folder: "a", Shared: true, Crew: crew, Days: []Day{day("2027-03-01", Busy{480, 600, 2, "x"}), day("2027-03-02", Busy{480, 600, 2, "x"}), day("2027-03-03", Busy{480, 600, 1, "x"})}},
			{Folder: "b", Shared: true, Crew: crew, Days: []Day{day("2027-03-01", Busy{540, 660, 1, "y"}), day("2027-03-02", Busy{600, 660, 2, "y"}, Busy{540, 540, 0, "hold"}), day("2027-03-03", Busy{480, 600, 1, "y"})}},
		}
	}
	y := Of(jobs(), nil)
	if len(y.Clashes) != 1 {
		t.Fatalf("%+v", y.Clashes)
	}
	if c := y.Clashes[0]; c.Date != "2027-03-01" || c.From != 540 || c.To != 600 || c.People != 3 || !c.Known || !slices.Equal(c.Jobs, []string{"a", "b"}) {
		t.Errorf("%+v", c)
	}
	unknown := jobs()
	for i := range unknown {
		unknown[i].Crew = job.Whole{}
	}
	if y := Of(unknown, nil); len(y.Clashes) != 2 || y.Clashes[0].Known {
		t.Errorf("a crew that nobody wrote down was judged by: %+v", y.Clashes)
	}
}

// TestClashMinuteByMinute: against counting the people of every minute.
func TestClashMinuteByMinute(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	for range 300 {
		crew := 1 + r.IntN(3)
		var jobs []Summary
		var minutes [24 * 60]map[string]int
		for i := range 1 + r.IntN(4) {
			s := Summary{Folder: fmt.Sprint("j", i), Shared: true, Crew: job.Whole{N: crew, Given: true}}
			d := day("2027-03-01")
			for range 1 + r.IntN(4) {
				from := r.IntN(60)
				w := Busy{from, from + r.IntN(20), r.IntN(3), "x"}
				d.Work = append(d.Work, w)
				for m := w.From; m < w.To; m++ {
					if minutes[m] == nil {
						minutes[m] = map[string]int{}
					}
					minutes[m][s.Folder] += w.People
				}
			}
			s.Days = []Day{d}
			jobs = append(jobs, s)
		}
		first, last, most := -1, -1, 0
		for m, of := range minutes {
			people, busy := 0, 0
			for _, n := range of {
				people += n
				if n > 0 {
					busy++
				}
			}
			if busy > 1 && people > crew {
				if first < 0 {
					first = m
				}
				last, most = m+1, max(most, people)
			}
		}
		y := Of(jobs, nil)
		if (first >= 0) != (len(y.Clashes) == 1) {
			t.Fatalf("%d to %d: %+v", first, last, y.Clashes)
		}
		if first >= 0 {
			if c := y.Clashes[0]; c.From != first || c.To != last || c.People != most {
				t.Fatalf("%+v, want %d to %d, %d people", c, first, last, most)
			}
		}
	}
}

// TestOrderOfJobs: what can't be read first, then by the next day, then by name; without a day, and done, last.
func TestOrderOfJobs(t *testing.T) {
	y := Of([]Summary{
		{Folder: "done", State: Done}, {Folder: "z", State: ToOrder, NextDay: "2027-01-02"}, {Folder: "undated", State: ToMeasure},
		{Folder: "a", State: UnderWay, NextDay: "2027-01-03"}, {Folder: "b", State: UnderWay, NextDay: "2027-01-02"}, {Folder: "x", State: Unreadable},
	}, nil)
	var got []string
	for _, s := range y.Jobs {
		got = append(got, s.Folder)
	}
	if want := []string{"x", "b", "z", "a", "undated", "done"}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}
