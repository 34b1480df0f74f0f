// Package memo remembers what a slow function of plain values has given, so that it is worked out once: between the alternatives of a job, between the jobs of a yard, and from one save to
// the next under a watcher. The function has to be pure: then nobody can tell an answer that was remembered from one that was worked out, and a book has the same bytes either way.
package memo

import (
	"crypto/sha256"
	"encoding/binary"
	"math"
	"sync"
)

// Memo holds the answers of one function. Those that were asked for least lately are forgotten, so that it never holds more than twice most of them. It is for several goroutines at once.
// What it gives is shared: nobody writes to it.
type Memo[V any] struct {
	mutex     sync.Mutex
	most      int
	now, then map[[sha256.Size]byte]V // asked for since the last change of the two, and before it
}

// New holds most answers, and as many of the time before; most is 1 or more.
func New[V any](most int) *Memo[V] { return &Memo[V]{most: most, now: map[[sha256.Size]byte]V{}} }

// Get gives the answer to a question, worked out where it is not known. Two that ask the same at one time may both work it out.
func (m *Memo[V]) Get(k *Key, work func() V) V {
	sum := sha256.Sum256(k.bytes)
	m.mutex.Lock()
	v, ok := m.now[sum]
	if !ok {
		if v, ok = m.then[sum]; ok {
			m.keep(sum, v)
		}
	}
	m.mutex.Unlock()
	if ok {
		return v
	}
	v = work()
	m.mutex.Lock()
	m.keep(sum, v)
	m.mutex.Unlock()
	return v
}

func (m *Memo[V]) keep(sum [sha256.Size]byte, v V) {
	if len(m.now) >= m.most {
		m.now, m.then = make(map[[sha256.Size]byte]V, m.most), m.now
	}
	m.now[sum] = v
}

// Key is everything that an answer depends on, in order. A list says how long it is, so that no two questions write the same. The zero value is ready.
type Key struct{ bytes []byte }

// KeyOf is an empty key with room for so many numbers.
func KeyOf(numbers int) *Key { return &Key{make([]byte, 0, 8*numbers)} }

// Int adds a whole number.
func (k *Key) Int(n int64) { k.bytes = binary.LittleEndian.AppendUint64(k.bytes, uint64(n)) }

// Float adds a number, bit by bit.
func (k *Key) Float(x float64) {
	k.bytes = binary.LittleEndian.AppendUint64(k.bytes, math.Float64bits(x))
}

// Text adds words, and how long they are.
func (k *Key) Text(s string) {
	k.Int(int64(len(s)))
	k.bytes = append(k.bytes, s...)
}
