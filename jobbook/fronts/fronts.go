// Package fronts holds the front matter of the built-in library, taken apart when the program was made: the library cannot change any more, and YAML is most of what a book costs to begin with.
package fronts

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strings"

	"balustrade/jobbook/source"
)

// file is a file of the library and what stands in its front matter.
type file struct {
	name  string // as in source.Pos.File
	sum   string // SHA-256 of its text
	front *source.Node
}

// Of is the front matter of a file of the library, which is shared: nobody writes to it. It is nil of a file that is not in the library, or has another text than it had when library.go was written.
func Of(name, text string) *source.Node {
	i, found := slices.BinarySearchFunc(files, name, func(f file, name string) int { return strings.Compare(f.name, name) })
	if !found {
		return nil
	}
	if sum := sha256.Sum256([]byte(text)); hex.EncodeToString(sum[:]) != files[i].sum {
		return nil
	}
	return files[i].front
}
