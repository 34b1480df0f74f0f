// Package book turns a plan into pages: the job book as files in memory. It computes nothing that a person acts on; every number
// it prints comes from the plan.
package book

import (
	"io/fs"

	"balustrade/jobbook/plan"
	"balustrade/jobbook/source"
)

// File is one file of the book, by its slash path below the book's folder. Its bytes are in pieces: what stands in two files, as a drawing does, is one string in both.
type File struct {
	Path   string
	Pieces []string
}

// Render makes the whole book: pages, the print edition, the style sheet, drawings and data. templates holds pages/*.html and
// pages/style.css. The same plan and templates give the same bytes. Problems are what a person wrote that the book cannot show as
// meant, such as an unknown table or a link to a file that is not there; an error among them means that no book is made.
func Render(p *plan.Plan, templates fs.FS) ([]File, []source.Problem, error) {
	return render(p, templates, Whole)
}
