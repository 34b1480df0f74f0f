package site

import (
	"bytes"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"maps"
	"slices"
	"strings"

	"github.com/cespare/xxhash/v2"
)

// manifestName is the file that lists what we wrote. Below a first line with its version it is what xxh64sum prints:
// a hash in hexadecimal, two spaces, the path; sorted. A path has two lines while a run is under way: its old bytes
// and its new ones.
const manifestName = ".jobbook-manifest"

const manifestFirst = "jobbook-manifest 2"

// manifestSHA began those of a book whose sums were SHA-256.
const manifestSHA = "jobbook-manifest 1"

// stamped writes the edition that a folder holds behind the manifest's version; nothing for the whole book.
func stamped(edition string, data []byte) []byte {
	if edition == "" {
		return data
	}
	return append([]byte(manifestFirst+" "+edition), data[len(manifestFirst):]...)
}

// unstamped takes the edition off again. What is no name of one stays, for parseManifest to refuse.
func unstamped(data []byte) (edition string, rest []byte) {
	first, body, ok := strings.Cut(string(data), "\n")
	for _, version := range []string{manifestFirst, manifestSHA} {
		edition, found := strings.CutPrefix(first, version+" ")
		if ok && found && edition != "" && strings.Trim(edition, "abcdefghijklmnopqrstuvwxyz") == "" {
			return edition, []byte(version + "\n" + body)
		}
	}
	return "", data
}

// digest is XXH64 of a file's bytes. It is to tell a file that somebody edited, which no two of 2^64 do alike by chance; who wants to fool it can as well edit the manifest.
type digest uint64

const digestBytes = 8

func hash(data []byte) digest { return digest(xxhash.Sum64(data)) }

// hashOf is hash of bytes in pieces.
func hashOf(pieces []string) digest {
	sum := xxhash.New()
	for _, p := range pieces {
		_, _ = sum.WriteString(p) // never fails
	}
	return digest(sum.Sum64())
}

// manifest gives for each path of ours the hashes of what we may have written there.
type manifest map[string][]digest

func (m manifest) has(name string, sum digest) bool { return slices.Contains(m[name], sum) }

func (m manifest) add(name string, sum digest) {
	if !m.has(name, sum) {
		m[name] = append(m[name], sum)
	}
}

func (m manifest) bytes() []byte {
	long := len(manifestFirst) + len("\n")
	for name, sums := range m {
		long += len(sums) * (hex.EncodedLen(digestBytes) + len("  ") + len(name) + len("\n"))
	}
	b := append(make([]byte, 0, long), manifestFirst+"\n"...)
	for _, name := range slices.Sorted(maps.Keys(m)) {
		sums := m[name]
		if len(sums) > 1 {
			sums = slices.Sorted(slices.Values(sums))
		}
		for _, sum := range sums {
			b = append(append(append(hex.AppendEncode(b, binary.BigEndian.AppendUint64(nil, uint64(sum))), "  "...), name...), '\n')
		}
	}
	return b
}

func sameManifest(a, b manifest) bool {
	return (a == nil) == (b == nil) && maps.EqualFunc(a, b, func(a, b []digest) bool { // neither has one twice
		return len(a) == len(b) && !slices.ContainsFunc(a, func(sum digest) bool { return !slices.Contains(b, sum) })
	})
}

var errManifest = errors.New("not a manifest of ours")

// parseManifest reads a manifest. Anything that bytes would not have written is errManifest.
func parseManifest(data []byte) (manifest, error) {
	text, ok := strings.CutPrefix(string(data), manifestFirst+"\n")
	if !ok || text != "" && !strings.HasSuffix(text, "\n") {
		return nil, errManifest
	}
	m := manifest{}
	for line := range strings.Lines(text) {
		sum, name, ok := strings.Cut(strings.TrimSuffix(line, "\n"), "  ")
		raw, err := hex.DecodeString(sum)
		if !ok || err != nil || len(raw) != digestBytes || name != ignoreName && checkName(name) != "" {
			return nil, errManifest
		}
		m.add(name, digest(binary.BigEndian.Uint64(raw)))
	}
	if !bytes.Equal(m.bytes(), data) {
		return nil, errManifest
	}
	return m, nil
}
