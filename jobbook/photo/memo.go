package photo

import (
	"crypto/sha256"
	"sync"
)

// Memo makes copies and remembers them by the bytes they were made of, so that a book that is made again and again reads no
// photograph twice. The zero value is ready. Several goroutines may ask at once.
type Memo struct {
	Before func(name string) ([]byte, bool) // finds a copy in the book that was made last, by the name of its file; may be nil

	lock         sync.Mutex
	known, asked map[[sha256.Size]byte]*answer // asked since the last Forget
	made         int
}

type answer struct {
	once sync.Once
	made *Copy
	no   *Refusal
}

// Make is the function of the same name, once for the same bytes: whoever asks while they are worked out waits for that.
func (m *Memo) Make(raw []byte) (*Copy, *Refusal) {
	a := m.answer(sha256.Sum256(raw))
	a.once.Do(func() {
		if m.Before != nil {
			if a.made = kept(raw, m.Before); a.made != nil {
				return
			}
		}
		a.made, a.no = Make(raw)
		m.lock.Lock()
		defer m.lock.Unlock()
		m.made++
	})
	return a.made, a.no
}

func (m *Memo) answer(key [sha256.Size]byte) *answer {
	m.lock.Lock()
	defer m.lock.Unlock()
	a := m.known[key]
	if a == nil {
		a = new(answer)
	}
	if m.known == nil {
		m.known = map[[sha256.Size]byte]*answer{}
	}
	if m.asked == nil {
		m.asked = map[[sha256.Size]byte]*answer{}
	}
	m.known[key], m.asked[key] = a, a
	return a
}

// Forget drops what was not asked for since it was called last.
func (m *Memo) Forget() {
	m.lock.Lock()
	defer m.lock.Unlock()
	m.known, m.asked = m.asked, nil
}

// Made is how many were worked out: tests of what is remembered ask.
func (m *Memo) Made() int {
	m.lock.Lock()
	defer m.lock.Unlock()
	return m.made
}
