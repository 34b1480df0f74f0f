package jobbook_test

import (
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"

	"balustrade/jobbook"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/load"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/rules"
	"balustrade/jobbook/takeoff"
	"balustrade/jobbook/working"
)

// one compares things that are one and the same, such as parts of one job, and not what is in them.
func one[T any]() cmp.Option { return cmp.Comparer(func(a, b *T) bool { return a == b }) }

// checkBeside: what a plan is set beside others by is the same worked out with all that is left out there, which is nothing but labels, set-ups, sharing, and sheets that nothing was read for.
func checkBeside(t failer, p *plan.Plan) {
	whole, _ := plan.Make(p.Job, p.Written)
	beside, _ := plan.Beside(layout.Begin(p.Job), p.Written)
	shared := map[string]bool{} // figures of what is left out
	for _, f := range whole.Figures {
		shared[f.ID] = true
	}
	for _, f := range beside.Figures {
		delete(shared, f.ID)
	}
	for _, x := range whole.Loads.Sharing {
		for _, f := range []*working.Figure{x.Part, x.Alone, x.Foot} {
			if !shared[f.ID] {
				t.Errorf("%s is there", f.ID)
			}
		}
	}
	kept := func(list []*working.Figure) (out []*working.Figure) {
		for _, f := range list {
			if !shared[f.ID] {
				out = append(out, f)
			}
		}
		return out
	}
	for _, f := range kept(whole.Figures) {
		if f.Expr == nil {
			continue
		}
		for _, in := range f.Inputs() {
			if shared[in.Figure] {
				t.Errorf("%s rests on %s, which is left out", f.ID, in.Figure)
			}
		}
	}
	for _, f := range whole.Findings {
		if shared[f.Figure] {
			t.Errorf("%s rests on %s, which is left out", f.ID, f.Figure)
		}
	}
	whole.Figures, whole.Loads.Figures = kept(whole.Figures), kept(whole.Loads.Figures)
	whole.Takeoff.Labels, whole.Takeoff.Blanks, whole.Takeoff.Setups = nil, nil, takeoff.Setups{}
	whole.Loads.Sharing = []load.Share(nil)
	if len(p.Job.AsBuilt) == 0 {
		if len(whole.Inspection.Findings)+len(whole.Inspection.Missing)+len(whole.Inspection.Figures) > 0 {
			t.Errorf("nothing was read on the guard as it stands, and it is judged: %+v", whole.Inspection)
		}
		whole.Inspection = rules.Inspection{}
	} else if len(whole.Inspection.Sheets) != len(beside.Inspection.Sheets) {
		t.Errorf("%d sheets, %d beside", len(whole.Inspection.Sheets), len(beside.Inspection.Sheets))
	}
	whole.Inspection.Sheets, beside.Inspection.Sheets = nil, nil // functions are in them
	diff := cmp.Diff(*whole, *beside, cmp.Exporter(func(reflect.Type) bool { return true }),
		one[job.Job](), one[job.Run](), one[job.Post](), one[job.Step](), one[job.Caution](), one[job.Finish](), one[job.Fixing](), one[job.Fastening](), one[job.Species](), one[job.RuleSet](), one[job.Survey](), one[job.Baluster](),
		one[job.Newel](), one[job.Handrail](), one[job.Shoe](), one[job.Fillet](), one[job.Load](), one[job.Limit](), one[job.Coat](), one[job.Made](), one[plan.Plan](),
		cmp.FilterValues(func(a, b *working.Figure) bool { return a != nil && b != nil }, cmp.Comparer(func(a, b *working.Figure) bool {
			if a.ID != b.ID || a.Title != b.Title || a.Note != b.Note || a.Result() != b.Result() || (a.Expr == nil) != (b.Expr == nil) || !cmp.Equal(a.Cites, b.Cites) || !cmp.Equal(a.Series, b.Series, cmp.Exporter(func(reflect.Type) bool { return true })) {
				return false
			}
			return a.Expr == nil || a.Symbols() == b.Symbols() && a.Numbers() == b.Numbers()
		})))
	if diff != "" {
		t.Errorf("a plan beside others is not as it is by itself: %s", diff)
	}
}

func TestBeside(t *testing.T) {
	for _, dir := range jobs {
		t.Run(dir, func(t *testing.T) {
			result, err := jobbook.Check(dir)
			if err != nil || result.Plan == nil {
				t.Fatal(err, result.Problems)
			}
			checkBeside(t, result.Plan)
			for _, a := range result.Plan.Alternatives {
				checkBeside(t, a.Plan)
				if len(a.Plan.Takeoff.Labels)+len(a.Plan.Loads.Sharing)+len(a.Plan.Inspection.Sheets) > 0 {
					t.Errorf("%s has labels, sharing or sheets, which nobody sees", a.Of.Name)
				}
			}
		})
	}
}
