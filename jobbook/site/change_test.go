package site

import (
	"bytes"
	"errors"
	"io"
	"math/rand/v2"
	"slices"
	"testing"
	"testing/iotest"
)

// TestSumUnlike holds the sum of a file that is read piece by piece against that of its bytes as a whole, whatever the pieces are and wherever it differs.
func TestSumUnlike(t *testing.T) {
	long := make([]byte, 300)
	for i := range long {
		long[i] = byte(i * 7)
	}
	changed := func(at int) []byte {
		b := slices.Clone(long)
		b[at] ^= 1
		return b
	}
	readers := map[string]func(io.Reader) io.Reader{
		"whole": func(r io.Reader) io.Reader { return r }, "byte by byte": iotest.OneByteReader, "halves": iotest.HalfReader, "end with the last bytes": iotest.DataErrReader,
	}
	for name, found := range map[string][]byte{
		"the same": long, "nothing": nil, "first byte": changed(0), "last byte": changed(299), "middle": changed(128), "before a border": changed(63), "after a border": changed(64),
		"shorter": long[:64], "shorter by one": long[:299], "longer": append(slices.Clone(long), 1), "much longer": bytes.Repeat(long, 3),
	} {
		for how, reader := range readers {
			for _, buffer := range []int{1, 64, 300, 1000} {
				for _, data := range [][]byte{long, nil} {
					got, err := sumUnlike(reader(bytes.NewReader(found)), data, hash(data), make([]byte, buffer))
					if err != nil || got != hash(found) {
						t.Errorf("%s, read as %s in pieces of %d, over %d bytes: %x, %v", name, how, buffer, len(data), got, err)
					}
				}
			}
		}
	}
	broken := errors.New("the disk said no")
	for _, found := range [][]byte{long[:100], changed(0)} {
		r := io.MultiReader(bytes.NewReader(found), iotest.ErrReader(broken))
		if _, err := sumUnlike(r, long, hash(long), make([]byte, 64)); !errors.Is(err, broken) {
			t.Errorf("what cannot be read to its end: %v", err)
		}
	}
}

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
