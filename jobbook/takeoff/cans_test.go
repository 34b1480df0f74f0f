package takeoff

import (
	"fmt"
	"math/big"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/finish"
	"balustrade/jobbook/job"
	"balustrade/jobbook/job/jobtest"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// TestCheapestCans: the cans of two groups' coats, bought together, against trying every number of pints, quarts and gallons; fluid ounces are 16 to the pint, 32 to the quart and 128 to the gallon.
func TestCheapestCans(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		sizes := []int64{16, 32, 128}
		names := []string{"1 pt", "1 qt", "1 gal"}
		var prices []int64 // cents
		sells := ""
		for i, name := range names {
			prices = append(prices, rapid.Int64Range(1, 9000).Draw(r, name))
			sells += fmt.Sprintf("{can: %s, price: %d.%02d}, ", name, prices[i]/100, prices[i]%100)
		}
		var volumes []*big.Rat // in fl oz
		need := new(big.Rat)
		for range 2 {
			v := big.NewRat(rapid.Int64Range(1, 1500).Draw(r, "tenths of a fl oz"), 10)
			volumes = append(volumes, v)
			need.Add(need, v)
		}
		best := int64(-1)
		for p := range int64(20) {
			for q := range int64(11) {
				for g := range int64(4) {
					if new(big.Rat).SetInt64(p*sizes[0]+q*sizes[1]+g*sizes[2]).Cmp(need) < 0 {
						continue
					}
					if cost := p*prices[0] + q*prices[1] + g*prices[2]; best < 0 || cost < best {
						best = cost
					}
				}
			}
		}
		j := jobtest.Job(t, map[string]string{"job.md": plainJob, "settings.md": plainShop, "yard.md": "kind: supplier\nsells: {clear: [" + sells + "]}", "finishes/clear.md": "kind: finish\ncoats: [{coat: varnish, type: clear}]"}, parts)
		var f finish.Finishing
		for i, v := range volumes {
			f.Groups = append(f.Groups, finish.Group{Name: []string{"newels", "shoe"}[i], Finish: j.Coatings[0], Coats: []finish.Coat{{N: 1, Coat: &j.Coatings[0].Coats[0], Volume: &working.Figure{Value: exact.FromRat(v), Unit: "fl oz"}}}})
		}
		got := Buy(j, Takeoff{}, f)
		if int64(got.Known) != best {
			r.Fatalf("%s fl oz at %v: %s, the cheapest is %d: %q", need.FloatString(1), prices, got.Known, best, lines(got))
		}
	})
}

// What coating uses up is bought from whoever sells it, in packs; what nobody sells is no open price, and what is on the rack is not bought.
func TestSupplies(t *testing.T) {
	supplies := []finish.Supply{{Name: "sandpaper-180", Title: "Sandpaper, 180", Count: 12, At: source.Pos{File: "settings.md"}}, {Name: "rag", Title: "Rag", Count: 8, At: source.Pos{File: "settings.md"}}}
	for _, c := range []struct {
		name, sells, rack string
		want              []string
	}{
		{"in packs", "sandpaper-180: {pack: 5, price: 4.00}, rag: {price: 0.50}", "", []string{"yard: 3 sandpaper-180 of 5 at 4.00 = 12.00", "yard: 8 rag of 1 at 0.50 = 4.00"}},
		{"on the shelf", "rag: {price: 0.50}", "", []string{"yard: 8 rag of 1 at 0.50 = 4.00"}},
		{"on the rack", "rag: {price: 0.50}", "pieces: [{part: rag, count: 5}]", []string{"yard: 3 rag of 1 at 0.50 = 1.50"}},
		{"nobody sells any", "clear: {can: 1 qt, price: 5}", "", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := map[string]string{"job.md": plainJob, "settings.md": plainShop, "yard.md": "kind: supplier\nlead: 2\nsells: {" + c.sells + "}", "finishes/clear.md": "kind: finish\nbare: [{grit: [180]}]\ncoats: [{coat: varnish, type: clear}]"}
			if c.rack != "" {
				files["rack.md"] = "kind: rack\n" + c.rack
			}
			j := jobtest.Job(t, files, parts)
			got := Buy(j, Takeoff{}, finish.Finishing{Supplies: supplies})
			if !slices.Equal(lines(got), c.want) || !got.Complete || len(got.Unknown) > 0 {
				t.Errorf("%q, complete %v, unknown %q\nwant %q", lines(got), got.Complete, got.Unknown, c.want)
			}
		})
	}
	t.Run("a grit that no finish asks for", func(t *testing.T) {
		j := jobtest.Job(t, map[string]string{"job.md": plainJob, "settings.md": plainShop, "finishes/clear.md": "kind: finish\nbare: [{grit: [180]}]\ncoats: [{coat: varnish, type: clear}]"}, parts)
		if len(j.Wares(job.Sandpaper+"180")) != 1 || len(j.Wares(job.Sandpaper+"80")) != 0 {
			t.Error("the names of sandpaper are not those of its grits")
		}
	})
}

// TestMoreThanCanBeReckoned: a can of 1000 gal without a price, and a coat of more than all the paint there is, are out of the range of the search. The coat
// stays on the list, by nobody, and the numbers are asked for again; the can of the ordinary size beside it is bought where only that fits.
func TestMoreThanCanBeReckoned(t *testing.T) {
	for _, c := range []struct {
		name, sells string
		need        exact.Number
		want        []string
		asks        bool
	}{
		{"a can as large as a lorry", "{can: 1000 gal}", exact.Of(100), []string{": 0 clear of 0 at ?"}, true},
		{"a coat on half the earth", "{can: 1 gal, price: 60}", exact.Of(1 << 62), []string{": 0 clear of 0 at ?"}, true},
		{"a gallon", "{can: 1 gal, price: 60}", exact.Of(100), []string{"yard: 1 clear of 0 at 60.00 = 60.00"}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := jobtest.Job(t, map[string]string{"job.md": plainJob, "settings.md": plainShop, "yard.md": "kind: supplier\nlead: 2\nsells: {clear: [" + c.sells + "]}", "finishes/clear.md": "kind: finish\ncoats: [{coat: varnish, type: clear}]"}, parts)
			got := Buy(j, Takeoff{}, finish.Finishing{Groups: []finish.Group{{Name: "shoe", Finish: j.Coatings[0], Coats: []finish.Coat{{N: 1, Coat: &j.Coatings[0].Coats[0], Volume: &working.Figure{Value: c.need, Unit: "fl oz"}}}}}})
			if !slices.Equal(lines(got), c.want) || got.Complete == c.asks {
				t.Errorf("%q, complete %v, want %q", lines(got), got.Complete, c.want)
			}
			asked := slices.ContainsFunc(got.Asks, func(r finding.Reading) bool { return strings.Contains(r.What, "more than can be reckoned with") })
			if asked != c.asks {
				t.Errorf("asks %+v", got.Asks)
			}
		})
	}
}
