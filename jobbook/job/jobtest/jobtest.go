// Package jobtest makes jobs out of the front matter of their files, for the tests of all packages above job. Nothing else imports it.
package jobtest

import (
	"testing"
	"testing/fstest"

	"balustrade/jobbook/job"
	"balustrade/jobbook/source"
)

// Read reads files of one layer, each its front matter alone, by path; a later set stands in place of an earlier one. A problem fails
// the test.
func Read(t testing.TB, layer source.Layer, prefix string, files ...map[string]string) []source.Document {
	t.Helper()
	fsys := fstest.MapFS{}
	for _, set := range files {
		for name, front := range set {
			fsys[name] = &fstest.MapFile{Data: []byte("---\n" + front + "\n---\n")}
		}
	}
	folder, err := source.Read(fsys, layer, prefix)
	if err != nil || len(folder.Problems) > 0 {
		t.Fatalf("reading: %v %+v", err, folder.Problems)
	}
	return folder.Documents
}

// Job is the job of such files, all of the job's own layer. A problem fails the test.
func Job(t testing.TB, files ...map[string]string) *job.Job {
	t.Helper()
	return Decode(t, Read(t, source.Job, "", files...))
}

// Decode is the job of documents. A problem fails the test.
func Decode(t testing.TB, documents []source.Document) *job.Job {
	t.Helper()
	j, problems := job.Decode(documents, nil)
	for _, p := range problems {
		t.Errorf("decoding: %s: %s (%s)", p.At, p.Summary, p.Hint)
	}
	if len(problems) > 0 {
		t.FailNow()
	}
	return j
}
