// Package jobbook is the whole way from a folder of Markdown to a job book: read, decode, plan, render, write.
package jobbook

import (
	"cmp"
	"context"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"balustrade/jobbook/book"
	"balustrade/jobbook/fronts"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/photo"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/site"
	"balustrade/jobbook/source"
	"balustrade/templates"
)

// Result is what a build did, for the terminal to tell.
type Result struct {
	Job      *job.Job
	Plan     *plan.Plan // nil where a file can't be understood
	Problems []source.Problem
	Texts    Texts
	Pictures []string // paths of those that files name, there or not
	Shared   string   // the folder of jobs with whose others it was planned, each taking its turn at the rack that they share; empty where it was planned by itself
	Then     *Then    // the job as it was in the revision to compare with, where that can't be understood; Plan is nil then
	Site     site.Result
}

// Build makes the book of the job in dir and writes it to out. Where a file can't be understood, the result holds the problems and
// nothing is written: the last good book stays. The error is the disk's, an output that is not ours to write, or the context's when
// it ended before the first write.
func Build(ctx context.Context, dir, out string) (Result, error) {
	return new(Maker).Build(ctx, dir, out)
}

// Make does everything but writing.
func Make(dir string) (Result, []site.File, error) { return new(Maker).Make(context.Background(), dir) }

// Maker makes a book again and again, and remembers the copies of photographs in between; those in the book that was made last are taken out of it. The zero value is ready; it makes one book at
// a time.
type Maker struct {
	Since string // the issue, or the git revision of the folder, that the plan is compared with; the last issue where empty

	copies photo.Memo
	taken  []job.Taken // what other jobs take off the shop's racks
}

// Build is the function of the same name.
func (m *Maker) Build(ctx context.Context, dir, out string) (Result, error) {
	if err := site.CheckPlace(dir, out); err != nil {
		return Result{}, err
	}
	m.copiesIn(out)
	result, files, err := m.Make(ctx, dir)
	if err == nil {
		err = ctx.Err()
	}
	if err != nil || result.Plan == nil {
		return result, err
	}
	result.Site, err = site.Write(out, files)
	return result, err
}

// Make is the function of the same name: it reads and decodes, plans, and makes the pages. There is no plan where a file can't be understood.
func (m *Maker) Make(ctx context.Context, dir string) (Result, []site.File, error) {
	d, err := drafted(dir, readShop)
	if err != nil || !d.good {
		return d.result, nil, err
	}
	if err := m.plan(ctx, &d); err != nil || d.result.Plan == nil {
		return d.result, nil, err
	}
	files, err := rendered(&d.result)
	return d.result, files, err
}

// plan plans a draft, and makes the copies of its photographs beside that.
func (m *Maker) plan(ctx context.Context, d *draft) error {
	var beside sync.WaitGroup
	texts := d.result.Texts
	if files := filesOf(book.SurveyPictures(d.result.Job)); len(files) > 0 { // shown whatever the plan says: remembered until they are asked for
		beside.Go(func() { _, _ = m.pictures(ctx, texts, files) })
	}
	var pictures []string
	var missing []source.Problem
	var unread error
	err := d.plan(ctx, m.Since, m.taken, func(p *plan.Plan) {
		shown := book.Pictures(p)
		beside.Go(func() { pictures, missing, unread = m.photographs(ctx, texts, p, shown) }) // copied while its alternatives are planned
	})
	beside.Wait()
	if err != nil || d.result.Plan == nil {
		return err
	}
	d.result.illustrate(pictures, missing)
	return unread
}

// illustrate says of a result which pictures it names, and what is wrong with them.
func (r *Result) illustrate(pictures []string, missing []source.Problem) {
	r.Problems = source.Sort(append(r.Problems, missing...))
	for _, file := range pictures {
		r.Pictures = append(r.Pictures, r.Texts.Path(file))
	}
}

// draft is a job that was read and decoded, and not planned yet.
type draft struct {
	documents []source.Document
	result    Result
	good      bool // every file can be understood
}

// drafted reads and decodes the job in dir, with the shop that shop reads.
func drafted(dir string, shop func(dir string) (*source.Folder, error)) (draft, error) {
	documents, broken, result, err := read(dir, shop)
	if err != nil {
		return draft{result: result}, err
	}
	return decoded(documents, broken, result), nil
}

// decoded makes the typed job of what was read.
func decoded(documents, broken []source.Document, result Result) draft {
	var problems []source.Problem
	result.Job, problems = job.Decode(documents, broken)
	result.Problems = append(result.Problems, problems...)
	good := !source.AnyError(result.Problems)
	if !good {
		result.Problems = source.Sort(result.Problems)
	}
	return draft{documents, result, good}
}

// rendered makes the pages of what was planned. The plan is let go where something can't be shown as it was meant.
func rendered(result *Result) ([]site.File, error) {
	pages, problems, err := book.Render(result.Plan, templates.Pages)
	result.Problems = source.Sort(slices.Concat(result.Problems, problems))
	if err != nil || source.AnyError(problems) {
		result.Plan = nil
		return nil, err
	}
	return filesFor(pages), nil
}

// filesFor are pages as the files that they are written to.
func filesFor(pages []book.File) []site.File {
	files := make([]site.File, 0, len(pages))
	for _, p := range pages {
		files = append(files, site.File(p))
	}
	return files
}

// Check reads, decodes and plans, without a book.
func Check(dir string) (Result, error) {
	d, err := drafted(dir, readShop)
	if err == nil && d.good {
		err = d.plan(context.Background(), "", nil, func(*plan.Plan) {})
	}
	return d.result, err
}

// plan plans what was decoded, with what other jobs leave on the shop's racks, and its alternatives beside it, and sets it beside what was issued. drawn is called with the plan as the job is drawn, before alternatives add to the files that it rests on.
// The plan is let go where something can't be understood after all.
func (d *draft) plan(ctx context.Context, since string, taken []job.Taken, drawn func(*plan.Plan)) error {
	result := &d.result
	j := result.Job
	j.Take(taken)
	begun := layout.Begin(j)
	rails := begun.Rails()
	var beside sync.WaitGroup
	var others []plan.Alternative
	var theirs []source.Problem
	beside.Go(func() { others, theirs = alternatives(j.Alternatives, rails, d.documents, taken) })
	var problems []source.Problem
	result.Plan, problems = plan.From(begun, asWritten(j, d.documents, taken))
	result.Problems = append(result.Problems, problems...)
	narrowed(result.Plan, d.documents, taken)
	drawn(result.Plan)
	more, err := compare(ctx, result, since)
	beside.Wait()
	if err != nil {
		return err
	}
	for _, p := range theirs {
		if !slices.ContainsFunc(result.Problems, p.Same) {
			result.Problems = append(result.Problems, p)
		}
	}
	result.Problems = source.Sort(append(result.Problems, more...))
	if result.Plan == nil {
		return nil
	}
	if source.AnyError(result.Problems) {
		result.Plan = nil
		return nil
	}
	result.Plan.Alternatives = others
	for _, a := range others {
		result.Job.RestOn(a.Plan.Job)
	}
	return nil
}

// alternatives plans every other way to build the job: the same documents with its keys laid over them, decoded and planned once more. drawn are the rails of the job itself.
func alternatives(of []*job.Alternative, drawn []layout.Rail, documents []source.Document, taken []job.Taken) ([]plan.Alternative, []source.Problem) {
	documents = without(documents, "as-built") // what was read on the guard that stands says nothing of another way to build it
	list := make([]plan.Alternative, len(of))
	found := make([][]source.Problem, len(list))
	var group sync.WaitGroup
	for i, a := range of {
		group.Go(func() {
			over, problems := a.Over(documents)
			other, more := planned(over, taken, func(rails []layout.Rail) []source.Document {
				if moved := movedRails(drawn, rails); len(moved) > 0 {
					return a.Keep(over, moved)
				}
				return nil
			})
			list[i] = plan.Alternative{Of: a, Plan: other}
			for _, p := range append(problems, more...) {
				if p.At.File != a.File {
					p.Notes = append(slices.Clone(p.Notes), source.Note{At: source.Pos{File: a.File, Line: 1, Col: 1}, Text: "only with this alternative laid over the job; a key left blank there counts as left out"})
				}
				found[i] = append(found[i], p)
			}
		})
	}
	group.Wait()
	return list, slices.Concat(found...)
}

// planned decodes documents and plans the job in them; nil where something is wrong with it. Where its rails ask for other documents, it is the job in those.
func planned(documents []source.Document, taken []job.Taken, instead func([]layout.Rail) []source.Document) (*plan.Plan, []source.Problem) {
	j, problems := job.Decode(documents, nil)
	if source.AnyError(problems) {
		return nil, problems
	}
	j.Take(taken)
	begun := layout.Begin(j)
	if other := instead(begun.Rails()); other != nil {
		return planned(other, taken, func([]layout.Rail) []source.Document { return nil })
	}
	p, more := plan.Beside(begun, asWritten(j, documents, taken))
	return p, append(problems, more...)
}

// movedRails are the runs whose rail an alternative puts at another height than the job does.
func movedRails(base, other []layout.Rail) (moved []job.Moved) {
	for i, r := range base {
		o := other[i] // the same files
		level := r.Level != o.Level && r.Level != job.ReadAt{} && o.Level != job.ReadAt{}
		raked := r.Raked != o.Raked && r.Raked > 0 && o.Raked > 0
		if level || raked {
			moved = append(moved, job.Moved{Run: r.Run, Was: r.Level, Is: o.Level})
		}
	}
	return moved
}

// asWritten plans the job as though nothing had been delivered or made yet; nil where nothing was, or that cannot be done.
func asWritten(j *job.Job, documents []source.Document, taken []job.Taken) *plan.Plan {
	if len(j.Deliveries) == 0 && len(j.MadeFiles) == 0 {
		return nil
	}
	before, problems := job.Decode(without(without(documents, "delivery"), "made"), nil)
	if source.AnyError(problems) {
		return nil
	}
	before.Take(taken)
	p, problems := plan.Beside(layout.Begin(before), nil)
	if source.AnyError(problems) {
		return nil
	}
	return p
}

// shopPrefix begins the names of the shop's files in the book, wherever its folder is.
const shopPrefix = "shop/"

// without leaves the files of one kind out.
func without(documents []source.Document, kind string) []source.Document {
	return slices.DeleteFunc(slices.Clone(documents), func(d source.Document) bool {
		k := d.Front.Get("kind")
		return k != nil && k.Text == kind
	})
}

// ShopDir is the shop's folder for a job: DIR/shop if there is one, else DIR/../shop; empty where there is neither.
func ShopDir(dir string) string {
	for _, d := range []string{filepath.Join(dir, "shop"), filepath.Join(dir, "..", "shop")} {
		if info, err := os.Lstat(d); err == nil && info.IsDir() { // a link would lead out of the job
			return d
		}
	}
	return ""
}

// library is the built-in library, which cannot change and is read once: its documents are shared by all jobs, and nothing writes to them.
var library = sync.OnceValues(func() (*source.Folder, error) {
	fsys, err := fs.Sub(templates.Library, "library")
	if err != nil {
		return nil, err
	}
	return source.ReadKnown(fsys, source.Library, "library/", fronts.Of)
})

// layers are what the library, the shop and the job hold, in this order.
type layers struct {
	documents, broken []source.Document
	problems          []source.Problem
	folders           []*source.Folder
}

func (l *layers) take(fsys fs.FS, layer source.Layer, prefix string, skip ...string) error {
	folder, err := source.Read(fsys, layer, prefix, skip...)
	if err == nil {
		l.add(of(folder))
	}
	return err
}

// of are the layers of one folder.
func of(f *source.Folder) layers {
	return layers{f.Documents, f.Broken, f.Problems, []*source.Folder{f}}
}

func (l *layers) add(nearer layers) {
	l.documents = append(l.documents, nearer.documents...)
	l.broken = append(l.broken, nearer.broken...)
	l.problems = append(l.problems, nearer.problems...)
	l.folders = append(l.folders, nearer.folders...)
}

func (l *layers) takeLibrary() error {
	folder, err := library()
	if err == nil {
		l.add(of(folder))
	}
	return err
}

func (l *layers) takeFolder(dir string, layer source.Layer, prefix string, skip ...string) error {
	folder, err := readFolder(dir, layer, prefix, skip...)
	if err == nil {
		l.add(of(folder))
	}
	return err
}

// readFolder reads a folder on the disk.
func readFolder(dir string, layer source.Layer, prefix string, skip ...string) (*source.Folder, error) {
	fsys, closer, err := source.Open(dir)
	if err != nil {
		return nil, err
	}
	defer closer.Close()
	return source.Read(fsys, layer, prefix, skip...)
}

// readShop reads the folder of a shop.
func readShop(dir string) (*source.Folder, error) { return readFolder(dir, source.Shop, shopPrefix) }

// read reads the three layers, farthest first; shop reads that of the shop.
func read(dir string, shop func(dir string) (*source.Folder, error)) (documents, broken []source.Document, result Result, err error) {
	result.Texts = Texts{dir: dir, shop: ShopDir(dir)}
	var l, own layers
	var beside sync.WaitGroup
	beside.Go(func() { err = l.takeLibrary() })
	var skip []string
	if result.Texts.shop == filepath.Join(dir, "shop") { // read already, as a layer of its own
		skip = []string{"shop"}
	}
	var other error
	if result.Texts.shop != "" {
		var folder *source.Folder
		if folder, other = shop(result.Texts.shop); other == nil {
			own.add(of(folder))
		}
	}
	if other == nil {
		other = own.takeFolder(dir, source.Job, "", skip...)
	}
	beside.Wait()
	if err = cmp.Or(err, other); err != nil {
		return nil, nil, result, err
	}
	l.add(own)
	result.Problems, result.Texts.folders = l.problems, l.folders
	return l.documents, l.broken, result, nil
}

// Texts finds the text behind a place in a file, and the file behind a name in the book.
type Texts struct {
	of        string // of files in a git revision: its name and a colon
	dir, shop string
	folders   []*source.Folder
}

// Line is the text of a line; empty where it is not known.
func (t Texts) Line(at source.Pos) string {
	for _, f := range t.folders {
		if line := f.Line(at); line != "" {
			return line
		}
	}
	return ""
}

// Path is a file of the book as the terminal can open it. Files of the built-in library have no path and keep their name.
func (t Texts) Path(file string) string {
	if rest, ok := strings.CutPrefix(file, shopPrefix); ok && t.of != "" && t.shop != "" {
		return t.of + path.Join(t.shop, rest)
	} else if t.of != "" {
		return t.of + path.Join(t.dir, file)
	}
	if rest, ok := strings.CutPrefix(file, shopPrefix); ok && t.shop != "" {
		return filepath.Join(t.shop, filepath.FromSlash(rest))
	}
	if _, ok := strings.CutPrefix(file, "library/"); ok {
		return file
	}
	return filepath.Join(t.dir, filepath.FromSlash(file))
}
