package book

import (
	"strings"
	"testing"
)

// TestTakenAsMade holds what goes into a writer without a copy to the same as markup.
func TestTakenAsMade(t *testing.T) {
	fill := func(n int) *writer {
		w := new(writer)
		for range n {
			w.put("<p>oak</p>\n", markup("<svg>"+strings.Repeat("x", longMarkup)+"</svg>\n"))
			w.line("a & b")
		}
		return w
	}
	rows := func() *table {
		t := &table{label: "Rows", heads: []head{column("A"), num("B", "in")}, foot: "A foot."}
		t.row("1", "<b>2</b>")
		return t
	}
	list := pairs{class: "facts"}
	list.add("one", "<b>1</b>")
	for _, n := range []int{0, 1, 40} {
		want := say("<section>\n%s%s%s%s</section>\n", fill(n).markup(), rows().markup(), list.markup(), "<&>")
		inner := fill(n)
		got := say("<section>\n%s%s%s%s</section>\n", inner, rows(), &list, "<&>")
		if got != want {
			t.Errorf("%d: got %d bytes, want %d: %.300q", n, len(got), len(want), got)
		}
		if inner.Len() != 0 || inner.lent != nil {
			t.Errorf("%d: something is left", n)
		}
	}
	if got := say("%s%s%s|", new(writer), &table{label: "Empty"}, &pairs{}); got != "|" {
		t.Errorf("nothing gives %q", got)
	}
}
