package yard

import (
	"cmp"
	"slices"
	"strings"

	"balustrade/jobbook/job"
	"balustrade/jobbook/working"
)

// Yard is all jobs of a shop together.
type Yard struct {
	Name    string    // of the shop, where its settings say one
	Jobs    []Summary // those that can't be read, then by the next day of each, then by folder; those without a day come last, then those that are done
	Others  []string  // folders beside the jobs that hold no job.md
	Crew    job.Whole // people, as the shop's settings say
	Clashes []Clash
	Buying  Buying
	Figures []*working.Figure
}

// Clash is a day on which several jobs are worked at once, with more people than there are; with any number where the shop does not say how many there are.
type Clash struct {
	Date     string
	From, To int      // the first and the last of it, in minutes from midnight
	People   int      // wanted at once, at the most
	Jobs     []string // their folders
	Known    bool     // the shop's crew is known, and too small
}

// Of puts jobs together. It sorts the list.
func Of(jobs []Summary, others []string) *Yard {
	y := &Yard{Jobs: jobs, Others: others}
	slices.SortFunc(y.Jobs, func(a, b Summary) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(a.NextDay, b.NextDay), cmp.Compare(a.Folder, b.Folder))
	})
	for _, s := range y.Jobs {
		if s.Shared && s.Crew.Given { // one shop: they all say the same
			y.Crew = s.Crew
		}
		if s.Shop != "" {
			y.Name = s.Shop
		}
	}
	y.clash()
	y.buy()
	return y
}

func rank(s Summary) int {
	switch {
	case s.State == Unreadable:
		return -1
	case s.State == Done:
		return 2
	case s.NextDay == "":
		return 1
	}
	return 0
}

// Job finds a job by its folder; nil where there is none.
func (y *Yard) Job(folder string) *Summary {
	for i := range y.Jobs {
		if y.Jobs[i].Folder == folder {
			return &y.Jobs[i]
		}
	}
	return nil
}

// Worked is what is done on one day, job by job.
type Worked struct {
	Date string
	Jobs []WorkedJob
}

// WorkedJob is what is done of one job on a day.
type WorkedJob struct {
	Folder string
	Work   []Busy
}

// Dates are the days on which something is done, in order, each with its jobs in their order.
func (y *Yard) Dates() []Worked {
	var list []Worked
	at := map[string]int{}
	for _, s := range y.Jobs {
		for _, d := range s.Days {
			i, ok := at[d.Date]
			if !ok {
				i = len(list)
				at[d.Date] = i
				list = append(list, Worked{Date: d.Date})
			}
			list[i].Jobs = append(list[i].Jobs, WorkedJob{s.Folder, d.Work})
		}
	}
	slices.SortFunc(list, func(a, b Worked) int { return strings.Compare(a.Date, b.Date) })
	return list
}

// clash finds the days on which jobs want more people at once than there are. Nothing is moved: which job gives way is the shop's to say.
func (y *Yard) clash() {
	for _, d := range y.Dates() {
		if len(d.Jobs) < 2 {
			continue
		}
		var times []int
		for _, j := range d.Jobs {
			for _, w := range j.Work {
				times = append(times, w.From, w.To)
			}
		}
		slices.Sort(times)
		times = slices.Compact(times)
		c := Clash{Date: d.Date, Known: y.Crew.Given}
		for k := 1; k < len(times); k++ {
			from, to := times[k-1], times[k]
			people, jobs := 0, []string(nil)
			for _, j := range d.Jobs {
				n := 0
				for _, w := range j.Work {
					if w.From < to && from < w.To {
						n += w.People
					}
				}
				if n > 0 {
					people += n
					jobs = append(jobs, j.Folder)
				}
			}
			if len(jobs) < 2 || y.Crew.Given && people <= y.Crew.N {
				continue
			}
			if len(c.Jobs) == 0 {
				c.From = from
			}
			c.To, c.People = to, max(c.People, people)
			for _, name := range jobs {
				if !slices.Contains(c.Jobs, name) {
					c.Jobs = append(c.Jobs, name)
				}
			}
		}
		if len(c.Jobs) > 0 {
			y.Clashes = append(y.Clashes, c)
		}
	}
}
