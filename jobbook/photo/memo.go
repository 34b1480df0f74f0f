package photo

import "crypto/sha256"

// Memo makes copies and remembers them by the bytes they were made of, so that a book that is made again and again reads no
// photograph twice. The zero value is ready; it is not for several goroutines at once.
type Memo struct {
	known, asked map[[sha256.Size]byte]answer // asked since the last Forget
	Made         int                          // how many were worked out
}

type answer struct {
	made *Copy
	no   *Refusal
}

// Make is the function of the same name, once for the same bytes.
func (m *Memo) Make(raw []byte) (*Copy, *Refusal) {
	key := sha256.Sum256(raw)
	a, ok := m.known[key]
	if !ok {
		a.made, a.no = Make(raw)
		m.Made++
	}
	m.keep(key, a)
	return a.made, a.no
}

func (m *Memo) keep(key [sha256.Size]byte, a answer) {
	if m.known == nil {
		m.known = map[[sha256.Size]byte]answer{}
	}
	if m.asked == nil {
		m.asked = map[[sha256.Size]byte]answer{}
	}
	m.known[key], m.asked[key] = a, a
}

// Forget drops what was not asked for since it was called last.
func (m *Memo) Forget() { m.known, m.asked = m.asked, nil }
