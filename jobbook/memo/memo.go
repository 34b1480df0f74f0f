// Package memo remembers what a slow function of plain values has given, so that it is worked out once: between the alternatives of a job, between the jobs of a yard, and from one save to
// the next under a watcher. The function has to be pure: then nobody can tell an answer that was remembered from one that was worked out, and a book has the same bytes either way.
package memo

import (
	"crypto/sha256"
	"encoding/binary"
	"math"
	"slices"
	"sync"
)

// By holds the answers of one function by a value that is everything an answer depends on. Those that were asked for least lately are forgotten, so that it never holds more than twice most of them. It is
// for several goroutines at once. What it gives is shared: nobody writes to it.
type By[K comparable, V any] struct {
	mutex     sync.Mutex
	most      int
	now, then map[K]V // asked for since the last change of the two, and before it
}

// NewBy holds most answers, and as many of the time before; most is 1 or more.
func NewBy[K comparable, V any](most int) *By[K, V] {
	return &By[K, V]{most: most, now: map[K]V{}}
}

// Get gives the answer to a question, worked out where it is not known. Two that ask the same at one time may both work it out.
func (m *By[K, V]) Get(k K, work func() V) V {
	m.mutex.Lock()
	v, ok := m.now[k]
	if !ok {
		if v, ok = m.then[k]; ok {
			m.keep(k, v)
		}
	}
	m.mutex.Unlock()
	if ok {
		return v
	}
	v = work()
	m.mutex.Lock()
	m.keep(k, v)
	m.mutex.Unlock()
	return v
}

func (m *By[K, V]) keep(k K, v V) {
	if len(m.now) >= m.most {
		m.now, m.then = make(map[K]V, m.most), m.now
	}
	m.now[k] = v
}

// Memo holds the answers of one function as By does, to questions that are as long as they need be.
type Memo[V any] struct{ by *By[[sha256.Size]byte, V] }

// New holds most answers, and as many of the time before; most is 1 or more.
func New[V any](most int) *Memo[V] { return &Memo[V]{NewBy[[sha256.Size]byte, V](most)} }

// Get gives the answer to a question, as By does. The key is asked once: it is lent to others after that.
func (m *Memo[V]) Get(k *Key, work func() V) V {
	sum := sha256.Sum256(k.bytes)
	k.bytes = k.bytes[:0]
	keys.Put(k)
	return m.by.Get(sum, work)
}

// Key is everything that an answer depends on, in order. A list says how long it is, so that no two questions write the same. The zero value is ready.
type Key struct{ bytes []byte }

// keys are those that were asked.
var keys = sync.Pool{New: func() any { return new(Key) }}

// KeyOf is an empty key with room for so many numbers.
func KeyOf(numbers int) *Key {
	k := keys.Get().(*Key)
	k.bytes = slices.Grow(k.bytes, 8*numbers)
	return k
}

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
