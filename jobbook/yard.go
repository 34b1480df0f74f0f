package jobbook

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"balustrade/jobbook/book"
	"balustrade/jobbook/job"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/site"
	"balustrade/jobbook/source"
	"balustrade/jobbook/takeoff"
	"balustrade/jobbook/yard"
	"balustrade/templates"
)

// jobName is the file that makes a folder below a yard a job's.
const jobName = "job.md"

// IsYard reports a folder of jobs: it holds no job.md itself, and a folder in it does.
func IsYard(dir string) bool {
	jobs, _, err := foldersOf(dir)
	return err == nil && len(jobs) > 0
}

// TakesAlone names the folder of jobs that dir lies in, where the plan or an alternative takes something off the rack that they share and was made as if no other job did: built with the others it may find less there. Empty else.
func TakesAlone(dir string, p *plan.Plan) string {
	if abs, err := filepath.Abs(dir); err == nil {
		dir = abs
	}
	parent := filepath.Dir(dir)
	jobs, _, err := foldersOf(parent)
	if own, e := os.Stat(filepath.Join(dir, "shop")); err != nil || len(jobs) < 2 || e == nil && own.IsDir() {
		return ""
	}
	plans := []*plan.Plan{p}
	for _, a := range p.Alternatives {
		plans = append(plans, a.Plan)
	}
	for _, l := range yard.RackLines(p.Job) {
		for _, of := range plans {
			if slices.ContainsFunc(of.Buying.OnHand, func(h takeoff.Hand) bool { return h.From.At == l.At }) {
				return parent
			}
		}
	}
	return ""
}

// foldersOf lists the folders of a yard that hold a job.md, and those that hold Markdown and none. The folder of the shop is neither, nor is one that holds a book of ours, nor a link; it goes one folder
// deep: a year's jobs in a folder of their own are a yard of their own, with a shop of their own beside them.
func foldersOf(dir string) (jobs, others []string, err error) {
	if isFile(filepath.Join(dir, jobName)) {
		return nil, nil, nil
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, nil, err
	}
	for _, e := range entries {
		name := e.Name()
		at := filepath.Join(dir, name)
		switch {
		case !e.IsDir() || source.Ignored(name) || name == "shop" || site.IsBook(at):
		case isFile(filepath.Join(at, jobName)):
			jobs = append(jobs, name)
		case hasMarkdown(at):
			others = append(others, name)
		}
	}
	return jobs, others, nil
}

func isFile(path string) bool {
	info, err := os.Stat(path)
	return err == nil && !info.IsDir()
}

func hasMarkdown(dir string) bool {
	list, err := filepath.Glob(filepath.Join(dir, "*.md"))
	return err == nil && len(list) > 0
}

// inTurn puts jobs in the order in which they take from the rack: the earlier day of wanted: first, those without one last, then by name.
func inTurn(dir string, jobs []string) []string {
	day := make(map[string]string, len(jobs))
	for _, name := range jobs {
		day[name] = wantedOf(filepath.Join(dir, name))
	}
	slices.SortFunc(jobs, func(a, b string) int {
		x, y := day[a], day[b]
		if (x == "") != (y == "") {
			return cmp.Compare(len(y), len(x)) // the one with a day first
		}
		return cmp.Or(cmp.Compare(x, y), cmp.Compare(a, b))
	})
	return jobs
}

// wantedOf is the day on which the goods of a job are to be there; empty where that is not known.
func wantedOf(dir string) string {
	folder, err := source.Read(only{os.DirFS(dir)}, source.Job, "")
	if err != nil {
		return ""
	}
	for _, doc := range folder.Documents {
		if n := doc.Front.Get("wanted"); n != nil {
			if _, err := time.Parse(time.DateOnly, n.Text); err == nil {
				return n.Text
			}
		}
	}
	return ""
}

// only is a folder in which nothing but job.md is seen.
type only struct{ fs.FS }

func (f only) ReadDir(name string) ([]fs.DirEntry, error) {
	list, err := fs.ReadDir(f.FS, name)
	return slices.DeleteFunc(list, func(e fs.DirEntry) bool { return e.Name() != jobName }), err
}

// JobResult is what came of one job of a yard.
type JobResult struct {
	Folder string // its name
	Out    string // where its book is; empty where none was to be written
	Result Result // its plan is let go after the job was told
	Err    error  // the disk's, or an output that is not ours to write; the other jobs are made all the same
}

// YardResult is what came of a yard.
type YardResult struct {
	Yard    *yard.Yard
	Made    int // jobs whose book was made or looked at
	Kept    int // jobs that nothing touched since
	Broken  int // jobs with a file that can't be understood
	Site    site.Result
	Removed []site.Result // books of jobs that are gone
	Err     error         // the first of a job's
}

// YardMaker makes the books of all jobs in a folder, and their index. Made again, it makes those jobs alone that what changed in between may touch; see Changed. The zero value is ready; it makes
// one yard at a time.
type YardMaker struct {
	known map[string]*made // by folder
	shop  map[string]shopFile
	last  string // the job that was made last by itself, and what it remembers
	maker *Maker

	lock    sync.Mutex
	changed []string
}

// made is what stays of a job when its book is made.
type made struct {
	summary  yard.Summary
	lines    []source.Pos // of the shop's rack, that it could take from
	with     []job.Taken  // what others took of them when it was made
	pictures []string
	again    bool // it has to be made the next time: its book could not be written, or there was no time for it
}

// Build makes the books of the jobs in dir, each in a folder of its name below out, and their index. At most as many are made at once as the machine has processors; a job's plan is let go as soon as its
// book is written. tell is called for every job that was made, one at a time and in the same order every time; it may be nil. A job that can't be understood, or whose book can't be written, stops no other.
//
// Jobs of one shop share its rack: each is planned with what those before it leave there. So a job's book in a yard is a function of the whole folder.
func (m *YardMaker) Build(ctx context.Context, dir, out string, tell func(JobResult)) (YardResult, error) {
	if err := site.CheckPlace(dir, out); err != nil {
		return YardResult{}, err
	}
	if err := site.Claim(out); err != nil {
		return YardResult{}, err
	}
	result, err := m.round(ctx, dir, out, tell)
	if err != nil {
		return result, err
	}
	for _, name := range booksOf(out) {
		if m.known[name] == nil { // no job is called so any more
			gone, err := site.RemoveBook(out, name)
			if err != nil {
				return result, err
			}
			if gone.Removed > 0 || len(gone.Kept) > 0 {
				result.Removed = append(result.Removed, gone)
			}
		}
	}
	pages, err := book.RenderYard(result.Yard, templates.Pages)
	if err != nil {
		return result, err
	}
	result.Site, err = site.Write(out, filesFor(pages))
	return result, err
}

// Check does everything but writing.
func (m *YardMaker) Check(ctx context.Context, dir string, tell func(JobResult)) (YardResult, error) {
	return m.round(ctx, dir, "", tell)
}

// booksOf lists the folders whose books the last index says were made.
func booksOf(out string) (names []string) {
	data, ok := site.Own(out, book.YardData)
	if !ok {
		return nil
	}
	var last struct {
		Jobs []struct{ Folder string }
	}
	if json.Unmarshal(data, &last) != nil {
		return nil
	}
	for _, j := range last.Jobs {
		if j.Folder != "" && j.Folder == filepath.Base(j.Folder) && filepath.IsLocal(j.Folder) {
			names = append(names, j.Folder)
		}
	}
	return names
}

// round is one time over all jobs.
type round struct {
	m        *YardMaker
	dir, out string
	shop     string // the folder that the jobs share
	shopRead func() (*source.Folder, error)
	jobs     []string
	fresh    map[string]bool // to be made, whatever else
	mine     []*made
	taken    []job.Taken // by the jobs whose turn was; only the one whose turn it is touches it
	turn     []chan struct{}
	word     []chan struct{}
	tell     func(JobResult)
	last     string // the one job that was saved, if it was one: it will be saved again
	maker    *Maker // its
	result   YardResult
}

func (m *YardMaker) round(ctx context.Context, dir, out string, tell func(JobResult)) (YardResult, error) {
	jobs, others, err := foldersOf(dir)
	if err != nil {
		return YardResult{}, err
	}
	r := &round{m: m, dir: dir, out: out, shop: filepath.Join(dir, "shop"), jobs: inTurn(dir, jobs), tell: tell, mine: make([]*made, len(jobs))}
	r.shopRead = sync.OnceValues(func() (*source.Folder, error) { return readShop(r.shop) })
	r.fresh = m.touched(dir, jobs)
	for range len(jobs) + 1 {
		r.turn, r.word = append(r.turn, make(chan struct{})), append(r.word, make(chan struct{}))
	}
	close(r.turn[0])
	close(r.word[0])
	var next atomic.Int64
	var group sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(jobs)) {
		group.Go(func() {
			for { // jobs are taken in their order, so that the one whose turn it is, is always under way
				i := int(next.Add(1)) - 1
				if i >= len(jobs) {
					return
				}
				r.job(ctx, i)
			}
		})
	}
	group.Wait()
	m.known = make(map[string]*made, len(jobs))
	list := make([]yard.Summary, len(jobs))
	for i, name := range r.jobs {
		m.known[name], list[i] = r.mine[i], r.mine[i].summary
	}
	m.last, m.maker = r.last, r.maker
	if err := ctx.Err(); err != nil {
		return r.result, err
	}
	r.result.Yard = yard.Of(list, others)
	return r.result, nil
}

// job makes one job. It is planned when its turn comes, with what those before it leave on the rack that they share; the next one's turn comes as soon as it is. Where there is nothing to share it is planned at once. A job whose words
// can't be shown keeps what it takes: its plan stands.
func (r *round) job(ctx context.Context, i int) {
	w := &making{round: r, dir: filepath.Join(r.dir, r.jobs[i]), told: JobResult{Folder: r.jobs[i]}, maker: new(Maker)}
	name := w.told.Folder
	if r.m.last == name {
		w.maker = r.m.maker
	}
	mine := r.m.known[name]
	fresh := mine == nil || mine.again || r.fresh[name]
	var good bool
	if fresh {
		mine = nil
		if good = w.read(ctx); good && !w.shares() {
			mine = w.plan(ctx, nil)
		}
	}
	<-r.turn[i]
	switch {
	case fresh && good && w.shares():
		mine = w.plan(ctx, r.taken)
	case !fresh && !slices.EqualFunc(left(r.taken, mine.lines), mine.with, sameTaken):
		fresh, mine = true, nil
		if w.read(ctx) {
			mine = w.plan(ctx, r.taken)
		}
	}
	if mine == nil {
		mine = &made{summary: r.unreadable(name, w.told)}
	}
	for _, t := range mine.summary.Takes {
		r.taken = add(r.taken, t.Taken)
	}
	close(r.turn[i+1])
	if fresh && w.planned() && !w.show(ctx) {
		takes := mine.summary.Takes
		mine.summary = r.unreadable(name, w.told)
		mine.summary.Takes = takes
	}
	if fresh {
		mine.pictures = w.told.Result.Pictures
	}
	<-r.word[i]
	r.mine[i] = mine
	mine.again = w.told.Err != nil
	switch {
	case w.told.Err != nil:
		if r.result.Err == nil {
			r.result.Err = w.told.Err
		}
	case mine.summary.State == yard.Unreadable:
		r.result.Broken++
	case !fresh:
		r.result.Kept++
	default:
		r.result.Made++
	}
	if fresh && !errors.Is(w.told.Err, context.Canceled) {
		if len(r.fresh) == 1 && r.fresh[name] {
			r.last, r.maker = name, w.maker
		}
		if r.tell != nil {
			r.tell(w.told)
		}
	}
	close(r.word[i+1])
}

// making is one job of a round on its way.
type making struct {
	*round
	dir    string
	shared bool // it has no shop of its own
	maker  *Maker
	draft  draft
	shown  []source.Named // pictures
	told   JobResult
}

// read reads and decodes the job; false where that can't be.
func (w *making) read(ctx context.Context) (good bool) {
	if w.told.Err = ctx.Err(); w.told.Err != nil {
		return false
	}
	w.shared = sharesShop(w.dir, w.shop)
	w.draft, w.told.Err = drafted(w.dir, w.readShop)
	w.told.Result = w.draft.result
	return w.told.Err == nil && w.draft.good
}

// readShop is the function of the same name: the shop that the jobs share is read once for all of them, and nothing writes to its documents.
func (w *making) readShop(dir string) (*source.Folder, error) {
	if dir == w.shop {
		return w.shopRead()
	}
	return readShop(dir)
}

// shares reports that the job was read, and that there is a rack which others could take from too.
func (w *making) shares() bool {
	return w.shared && len(yard.RackLines(w.draft.result.Job)) > 0
}

// plan plans the job with what others took; nil where that can't be.
func (w *making) plan(ctx context.Context, taken []job.Taken) *made {
	if w.told.Err = ctx.Err(); w.told.Err != nil {
		return nil
	}
	w.told.Err = w.draft.plan(ctx, "", taken, func(p *plan.Plan) { w.shown = book.Pictures(p) })
	w.told.Result = w.draft.result
	if !w.planned() {
		return nil
	}
	p := w.told.Result.Plan
	var lines []source.Pos
	if w.shared {
		lines = linesOf(p)
	}
	p.Job.Took(lines)
	for _, a := range p.Alternatives {
		if a.Plan != nil {
			a.Plan.Job.Took(lines)
		}
	}
	mine := &made{lines: lines, with: left(taken, lines), summary: yard.Sum(w.told.Folder, p, w.shared)}
	mine.summary.Events = book.Events(p)
	return mine
}

// planned reports that there is a plan, and nothing stands against showing it.
func (w *making) planned() bool { return w.told.Err == nil && w.told.Result.Plan != nil }

// show copies the pictures, makes the pages, and writes them where a book is wanted; false where something can't be shown as it was meant. The disk's errors are told.
func (w *making) show(ctx context.Context) (good bool) {
	result := &w.told.Result
	if w.out != "" {
		w.maker.copiesIn(filepath.Join(w.out, w.told.Folder))
	}
	pictures, missing, err := w.maker.photographs(ctx, result.Texts, result.Plan, w.shown)
	if w.told.Err = err; err != nil {
		return false
	}
	result.illustrate(pictures, missing)
	files, err := rendered(result)
	if w.told.Err = err; !w.planned() {
		return false
	}
	if w.out != "" {
		w.told.Out = filepath.Join(w.out, w.told.Folder)
		if w.told.Err = ctx.Err(); w.told.Err == nil {
			result.Site, w.told.Err = site.Write(w.told.Out, files)
		}
	}
	return true
}

// sharesShop reports that a job has no shop of its own, and so shares that beside the jobs, if there is one.
func sharesShop(dir, shop string) bool {
	its := ShopDir(dir)
	if its == "" {
		return true
	}
	a, err := os.Stat(its)
	if err != nil {
		return false
	}
	b, err := os.Stat(shop)
	return err == nil && os.SameFile(a, b)
}

// unreadable is the summary of a job that can't be understood, or whose book can't be written.
func (r *round) unreadable(name string, told JobResult) yard.Summary {
	s := yard.Summary{Folder: name, State: yard.Unreadable}
	for _, p := range told.Result.Problems {
		if p.Severity == source.Error {
			s.Problem = fmt.Sprintf("%s: %s", p.At, p.Summary)
			break
		}
	}
	if told.Err != nil {
		s.Problem = "its folder, or that of its book, could not be used"
	}
	if r.out != "" {
		s.HasBook = isFile(filepath.Join(r.out, name, "index.html"))
	}
	return s
}

// linesOf are the lines of the shop's racks that a plan, or one of the others it holds, could take from.
func linesOf(p *plan.Plan) (list []source.Pos) {
	parts := map[string]bool{}
	var collect func(p *plan.Plan)
	collect = func(p *plan.Plan) {
		if p == nil {
			return
		}
		for _, n := range p.Takeoff.Needs {
			parts[n.Part] = true
		}
		for _, g := range p.Finishing.Groups {
			if g.Finish != nil {
				parts[g.Finish.Name] = true
			}
		}
		collect(p.Written)
		for _, a := range p.Alternatives {
			collect(a.Plan)
		}
	}
	collect(p)
	for _, l := range yard.RackLines(p.Job) {
		if parts[l.Part] {
			list = append(list, l.At)
		}
	}
	return list
}

// left is what was taken of some lines.
func left(taken []job.Taken, lines []source.Pos) (list []job.Taken) {
	for _, t := range taken {
		if slices.Contains(lines, t.At) {
			t.By = slices.Clone(t.By)
			list = append(list, t)
		}
	}
	return list
}

func sameTaken(a, b job.Taken) bool {
	return a.At == b.At && a.Pieces == b.Pieces && a.Volume == b.Volume && slices.Equal(a.By, b.By)
}

// add puts what a job takes to what was taken before.
func add(taken []job.Taken, t job.Taken) []job.Taken {
	i := slices.IndexFunc(taken, func(x job.Taken) bool { return x.At == t.At })
	if i < 0 {
		return append(taken, job.Taken{At: t.At, Pieces: t.Pieces, Volume: t.Volume, By: slices.Clone(t.By)})
	}
	taken[i].Pieces += t.Pieces
	taken[i].Volume += t.Volume
	taken[i].By = append(taken[i].By, t.By...)
	return taken
}
