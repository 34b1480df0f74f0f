package job

import "balustrade/jobbook/source"

// underlined gives every problem that points at a value the width of that value, where it was not said: all of it is underlined then.
func underlined(problems []source.Problem, documents []source.Document) {
	values := map[string]map[source.Pos]*source.Node{} // of the files that have a problem
	for i := range problems {
		p := &problems[i]
		if p.Width > 1 {
			continue
		}
		at, read := values[p.At.File]
		if !read {
			at = map[source.Pos]*source.Node{}
			for k := range documents {
				if documents[k].File == p.At.File {
					scalars(documents[k].Front, at)
				}
			}
			values[p.At.File] = at
		}
		if n := at[p.At]; n != nil {
			p.Width = width(n)
		}
	}
}

// scalars keeps the single values below a node that stand on one line, by where they stand.
func scalars(n *source.Node, at map[source.Pos]*source.Node) {
	switch {
	case n == nil:
	case n.Kind == source.Scalar && !n.Block:
		at[n.At] = n
	default:
		for _, item := range n.Items {
			scalars(item, at)
		}
		for _, e := range n.Entries {
			scalars(e.Value, at)
		}
	}
}

// width is how many characters a single value takes up where it is written: at least one, for a blank one.
func width(n *source.Node) int {
	w := len([]rune(n.Text))
	if n.Quoted {
		w += 2
	}
	return max(w, 1)
}
