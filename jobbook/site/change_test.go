package site

import (
	"bytes"
	"errors"
	"math/rand/v2"
	"path/filepath"
	"testing"
)

// TestSameManifest: two are the same where they write the same bytes.
func TestSameManifest(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	random := func() manifest {
		m := manifest{}
		for range r.IntN(4) {
			m.add([]string{"a", "b"}[r.IntN(2)], hash([]byte{byte(r.IntN(3))}))
		}
		return m
	}
	same := 0
	for range 1000 {
		a, b := random(), random()
		want := bytes.Equal(a.bytes(), b.bytes())
		if want {
			same++
		}
		if sameManifest(a, b) != want {
			t.Fatalf("%s and %s: %v, want %v", a.bytes(), b.bytes(), !want, want)
		}
	}
	if same < 50 || same > 950 {
		t.Errorf("%d of 1000 are the same: nothing was compared", same)
	}
}

// TestSeesEdits: what somebody made of a file is not overwritten.
func TestSeesEdits(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "book")
	for _, text := range []string{"one", "two"} {
		if _, err := Write(dir, book("index.html", text, "a.html", "same")); err != nil {
			t.Fatal(err)
		}
	}
	put(t, filepath.Join(dir, "index.html"), "twi")
	if _, err := Write(dir, book("index.html", "three", "a.html", "same")); !errors.Is(err, ErrForeign) {
		t.Errorf("an edited page: %v", err)
	}
	put(t, filepath.Join(dir, "index.html"), "two")
	if r, err := Write(dir, book("index.html", "three", "a.html", "same")); err != nil || r.Written != 1 || r.Unchanged != 1 {
		t.Errorf("put back: %+v, %v", r, err)
	}
	put(t, filepath.Join(dir, "a.html"), "somebody's")
	if _, err := Write(dir, book("index.html", "three", "a.html", "same")); !errors.Is(err, ErrForeign) {
		t.Errorf("an edited page that stays as it was: %v", err)
	}
}
