package money

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"balustrade/jobbook/exact"
)

func TestParse(t *testing.T) {
	for text, want := range map[string]Money{
		"0": 0, "12": 1200, "12.4": 1240, "12.40": 1240, "12.04": 1204, "0.05": 5, "007": 700, " 3.50 ": 350, "$3.50": 350, "€5": 500, "3.50 $": 350, "1000000000": Most,
	} {
		if got, err := Parse(text); err != nil || got != want {
			t.Errorf("%q is %d %v, want %d", text, got, err, want)
		}
	}
	for text, want := range map[string]string{
		"": `"" is not an amount`, "-1": `"-1" is less than nothing`, "1,5": `"1,5" could be a decimal or thousands`, "1.234": `"1.234" has more than two decimals`,
		".5": `".5" is not an amount`, "5.": `"5." is not an amount`, "1e3": `"1e3" is not an amount`, "1/2": `"1/2" is not an amount`,
		"1000000000.01": `"1000000000.01" is too much`, "99999999999999999999999": `"99999999999999999999999" is too much`,
	} {
		_, err := Parse(text)
		if err == nil || err.Error() != want || err.(*Error).Hint == "" {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}

// Half a hundredth goes away from nothing; worked out by hand.
func TestOf(t *testing.T) {
	for _, c := range []struct {
		num, den int64
		want     Money
	}{{1, 3, 33}, {2, 3, 67}, {1, 200, 1}, {-1, 200, -1}, {199, 40000, 0}, {201, 40000, 1}, {5, 1, 500}, {0, 1, 0}, {12345, 1000, 1235}, {-12345, 1000, -1235}} {
		if got := Of(exact.New(c.num, c.den)); got != c.want {
			t.Errorf("%d/%d is %d, want %d", c.num, c.den, got, c.want)
		}
	}
}

func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Money(rapid.Int64Range(0, int64(Most)).Draw(t, "m"))
		if got, err := Parse(m.String()); err != nil || got != m {
			t.Errorf("%s is read as %d, %v", m, got, err)
		}
		if got := Of(m.Number()); got != m {
			t.Errorf("%d is rounded to %d", m, got)
		}
		if got := (-m).String(); m > 0 && got != "-"+m.String() {
			t.Errorf("%d is printed as %s", -m, got)
		}
	})
}

// TestGrouped: thousands are parted from the point on; worked out by hand.
func TestGrouped(t *testing.T) {
	for m, want := range map[Money]string{
		0: "0.00", 99: "0.99", 99999: "999.99", 100000: "1_000.00", 124050: "1_240.50", 12345678: "123_456.78", 123456789: "1_234_567.89", Most: "1_000_000_000.00",
		-99999: "-999.99", -100000: "-1_000.00", -12345678: "-123_456.78",
	} {
		if got := strings.ReplaceAll(m.Grouped(), "\u202f", "_"); got != want {
			t.Errorf("%d is %s, want %s", m, got, want)
		}
	}
}

// TestOfLong: amounts whose fraction does not fit two words are rounded in the same way. By hand: they lie just beside a half hundredth.
func TestOfLong(t *testing.T) {
	for text, want := range map[string]Money{"12.3450000000000000000001": 1235, "12.3449999999999999999999": 1234, "-12.3450000000000000000001": -1235, "-12.3449999999999999999999": -1234, "0.0000000000000000000001": 0} {
		if x, ok := exact.Parse(text); !ok || Of(x) != want {
			t.Errorf("%s is %d hundredths, want %d", text, Of(x), want)
		}
	}
	if got := Of(exact.Number{}); got != 0 {
		t.Errorf("no number is %d hundredths", got)
	}
}
