package site

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"
)

// manifest reads the manifest of the folder, less its edition. One of a book that an older program made is read by what is there: what is as it was written is summed anew, and what is not has a sum that no file has.
func (d *disk) manifest(data []byte) (manifest, error) {
	text, old := strings.CutPrefix(string(data), manifestSHA+"\n")
	if !old {
		return parseManifest(data)
	}
	m := manifest{}
	for line := range strings.Lines(text) {
		sum, name, ok := strings.Cut(strings.TrimSuffix(line, "\n"), "  ")
		if !ok || len(sum) != hex.EncodedLen(sha256.Size) || name != ignoreName && checkName(name) != "" {
			return nil, errManifest
		}
		m.add(name, 0)
		switch kind, err := d.kind(name); {
		case err != nil:
			return nil, err
		case kind != regular:
			continue
		}
		is, err := d.read(name)
		if err != nil {
			return nil, err
		}
		if was := sha256.Sum256(is); hex.EncodeToString(was[:]) == sum {
			m.add(name, hash(is))
		}
	}
	return m, nil
}
