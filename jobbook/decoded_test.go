package jobbook_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"testing"

	"balustrade/jobbook"
	"balustrade/jobbook/job"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/source"
	"balustrade/jobbook/yard"
	"balustrade/templates"
)

// TestDecodedOnce: documents of library and shop are decoded once, for whatever jobs come. After everything that is done to a job (the racks are taken from, it is planned, and so is each of its alternatives, and the book is made), the same documents give
// the job that documents give which nobody has ever decoded. These are the same with every node copied, for what is remembered is known by its node.
func TestDecodedOnce(t *testing.T) {
	for _, dir := range []string{sample, "testdata/made-job", "../testdata/kept-job", "../testdata/metric-job"} {
		t.Run(filepath.Base(dir), func(t *testing.T) {
			documents := documentsOf(t, dir)
			i := slices.IndexFunc(documents, func(d source.Document) bool { return d.Front.Get("after") != nil })
			documents = append(documents, source.Document{File: "shop/steps/none.md", Name: documents[i].Name, Layer: source.Shop, Front: &source.Node{Kind: source.Map, Entries: []source.Entry{ // leaves a step of the library out, and takes over what that waits for
				{Key: "kind", Value: &source.Node{Kind: source.Scalar, Text: "step"}}, {Key: "omit", Value: &source.Node{Kind: source.Scalar, Text: "yes"}},
			}}})
			j, problems := job.Decode(documents, nil)
			if source.AnyError(problems) {
				t.Fatal(problems)
			}
			rewritten := 0
			for range 2 {
				var taken []job.Taken
				for _, l := range yard.RackLines(j) {
					taken = append(taken, job.Taken{At: l.At, Pieces: 1, Volume: 1, By: []string{"another job"}})
				}
				j.Take(taken)
				rewritten += len(j.OffRack)
				plan.Make(j, nil)
				for _, a := range j.Alternatives {
					over, _ := a.Over(documents)
					other, problems := job.Decode(over, nil)
					if source.AnyError(problems) {
						t.Fatal(problems)
					}
					other.Take(taken)
					plan.Make(other, nil)
					j.RestOn(other)
				}
				if r, _, err := jobbook.Make(dir); err != nil || r.Plan == nil {
					t.Fatal(err, r.Problems)
				}
				again, said := job.Decode(documents, nil)
				anew, want := job.Decode(jobbook.Unread(documents), nil)
				if !reflect.DeepEqual(said, want) {
					t.Errorf("the same documents are found fault with otherwise: %v, and were %v", said, want)
				}
				if !reflect.DeepEqual(again, anew) {
					t.Error("documents that were decoded before give another job than those that were not")
				}
				j = again
			}
			if dir == sample && rewritten == 0 {
				t.Error("nothing was taken off the shop's racks")
			}
		})
	}
}

// TestDecodedFaults: what is wrong in a file of the shop is said each time that it is decoded.
func TestDecodedFaults(t *testing.T) {
	bad := source.Document{File: "shop/x.md", Name: "x", Layer: source.Shop, Front: &source.Node{Kind: source.Map, Entries: []source.Entry{
		{Key: "kind", Value: &source.Node{Kind: source.Scalar, Text: "rosette"}}, {Key: "wide", Value: &source.Node{Kind: source.Scalar, Text: "wide"}},
	}}}
	library := documentsOf(t, "../testdata/metric-job")
	for range 2 {
		_, problems := job.Decode(append(slices.Clone(library), bad), nil)
		if len(problems) != 1 || problems[0].Severity != source.Error {
			t.Errorf("a width that is none is said so %d times: %v", len(problems), problems)
		}
	}
}

// documentsOf are those of the library, the shop and the job.
func documentsOf(t *testing.T, dir string) (list []source.Document) {
	t.Helper()
	library, err := fs.Sub(templates.Library, "library")
	if err != nil {
		t.Fatal(err)
	}
	read := func(fsys fs.FS, layer source.Layer, prefix string, skip ...string) {
		folder, err := source.Read(fsys, layer, prefix, skip...)
		if err != nil || len(folder.Broken) > 0 {
			t.Fatal(err, folder.Problems)
		}
		list = append(list, folder.Documents...)
	}
	read(library, source.Library, "library/")
	if shop := jobbook.ShopDir(dir); shop != "" {
		read(os.DirFS(shop), source.Shop, "shop/")
	}
	read(os.DirFS(dir), source.Job, "", "shop")
	return list
}
