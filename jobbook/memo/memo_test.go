package memo_test

import (
	"fmt"
	"sync"
	"testing"

	"balustrade/jobbook/memo"
)

func key(numbers ...int64) *memo.Key {
	var k memo.Key
	for _, n := range numbers {
		k.Int(n)
	}
	return &k
}

func text(words ...string) *memo.Key {
	var k memo.Key
	for _, w := range words {
		k.Text(w)
	}
	return &k
}

// TestOnce: the same question is worked out once, another one anew.
func TestOnce(t *testing.T) {
	m, worked := memo.New[int64](10), 0
	ask := func(a, b int64) int64 { return m.Get(key(a, b), func() int64 { worked++; return 100*a + b }) }
	for _, c := range []struct{ a, b, want, worked int64 }{{1, 2, 102, 1}, {1, 2, 102, 1}, {2, 1, 201, 2}, {1, 2, 102, 2}, {-1, 2, -98, 3}} {
		if got := ask(c.a, c.b); got != c.want || worked != int(c.worked) {
			t.Errorf("ask(%d, %d) gives %d after %d times of work, want %d after %d", c.a, c.b, got, worked, c.want, c.worked)
		}
	}
}

// TestKeysDiffer: a whole number and the same number as a float are two questions, and so are numbers in another order.
func TestKeysDiffer(t *testing.T) {
	m := memo.New[string](10)
	var float, more memo.Key
	float.Float(1)
	more.Float(1)
	more.Int(0)
	for _, c := range []struct {
		k    *memo.Key
		name string
	}{{text("ab", "c"), "ab c"}, {text("a", "bc"), "a bc"}, {text("abc"), "abc"}, {text("", "abc"), "nothing and abc"}, {key(1), "int"}, {&float, "float"}, {&more, "two"}, {key(0, 1), "0 1"}, {key(1, 0), "1 0"}, {key(), "none"}} {
		if got := m.Get(c.k, func() string { return c.name }); got != c.name {
			t.Errorf("the answer to %s is that to %s", c.name, got)
		}
	}
}

// TestForgets: of many answers no more than twice the most are held, and one that is asked for again and again is not forgotten.
func TestForgets(t *testing.T) {
	m, worked := memo.New[int64](10), map[int64]int{}
	ask := func(n int64) { m.Get(key(n), func() int64 { worked[n]++; return n }) }
	for n := range int64(1000) {
		ask(-1)
		ask(n)
	}
	if worked[-1] != 1 {
		t.Errorf("what is asked for every time was worked out %d times", worked[-1])
	}
	again := 0
	for n := range int64(1000) {
		ask(n)
		again += worked[n] - 1
	}
	if again < 980 {
		t.Errorf("of 1000 answers %d are held still, more than twice ten", 1000-again)
	}
}

// TestAtOnce: many ask at the same time, for the race detector.
func TestAtOnce(t *testing.T) {
	m := memo.New[string](20)
	var group sync.WaitGroup
	for range 8 {
		group.Go(func() {
			for n := range int64(500) {
				want := fmt.Sprint(n % 50)
				if got := m.Get(key(n%50), func() string { return want }); got != want {
					t.Errorf("%d gives %s", n, got)
				}
			}
		})
	}
	group.Wait()
}

// TestBy: a plain value is its own question, and a key that was asked is empty when it is lent again.
func TestBy(t *testing.T) {
	type question struct {
		word string
		n    int
	}
	m, worked := memo.NewBy[question, string](10), 0
	for _, q := range []question{{"a", 1}, {"a", 2}, {"b", 1}, {"a", 1}} {
		if got, want := m.Get(q, func() string { worked++; return fmt.Sprint(q) }), fmt.Sprint(q); got != want {
			t.Errorf("%v gives %s", q, got)
		}
	}
	if worked != 3 {
		t.Errorf("worked out %d times, want 3: one was asked twice", worked)
	}
	keys := memo.New[int](10)
	for n := range 4 { // each asked with what was written into the same piece of memory before
		k := memo.KeyOf(2)
		k.Int(int64(n % 2))
		if got := keys.Get(k, func() int { return n }); got != n%2 {
			t.Errorf("the key %d gives %d", n%2, got)
		}
	}
}
