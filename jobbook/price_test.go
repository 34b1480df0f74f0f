package jobbook_test

import (
	"encoding/json"
	"fmt"
	"math/big"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"balustrade/jobbook"
	"balustrade/jobbook/source"
)

var (
	moneyTable = regexp.MustCompile(`(?s)<table class="([^"]*)">(.*?)</table>`)
	moneyRow   = regexp.MustCompile(`(?s)<tr>(.*?)</tr>`)
	moneyCell  = regexp.MustCompile(`(?s)<td[^>]*>(.*?)</td>`)
	moneyHead  = regexp.MustCompile(`(?s)<th[^>]*>(.*?)</th>`)
	anAmount   = regexp.MustCompile(`^-?[0-9]+\.[0-9]{2}$`)
)

// tablesAddUp reads every table whose last column is of money and adds its printed amounts up again: a bold one is the sum of all above it that are not. It gives
// how many sums there were, by the table's caption.
func tablesAddUp(t interface {
	Helper()
	Errorf(string, ...any)
}, where, page, currency string) map[string]int {
	t.Helper()
	sums := map[string]int{}
	for _, table := range moneyTable.FindAllStringSubmatch(page, -1) {
		heads := moneyHead.FindAllStringSubmatch(table[2], -1)
		if len(heads) == 0 || !strings.HasSuffix(strings.TrimSpace(plainText(heads[len(heads)-1][1])), "("+currency+")") {
			continue
		}
		caption := plainText(regexp.MustCompile(`(?s)<caption>(.*?)</caption>`).FindString(table[2]))
		sum := new(big.Rat)
		for _, row := range moneyRow.FindAllStringSubmatch(table[2], -1) {
			cells := moneyCell.FindAllStringSubmatch(row[1], -1)
			if len(cells) == 0 {
				continue
			}
			last := cells[len(cells)-1][1]
			text := strings.ReplaceAll(strings.TrimSpace(plainText(last)), "\u202f", "") // between thousands
			amount, _ := new(big.Rat).SetString(text)
			switch {
			case !anAmount.MatchString(text):
				if text != "" && text != "to be asked" {
					t.Errorf("%s, %s: %q is no amount", where, caption, text)
				}
			case strings.Contains(last, "<b>"):
				sums[caption]++
				if amount.Cmp(sum) != 0 {
					t.Errorf("%s, %s: the sum is %s, its lines add up to %s", where, caption, text, sum.FloatString(2))
				}
			default:
				sum.Add(sum, amount)
			}
		}
	}
	return sums
}

// priceOf is the price as plan.json has it.
type priceOf struct {
	Currency                          string
	Known, Complete                   bool
	Materials, Labour, Sums, Offer    []priceLine
	Guard, Net, Tax, Total, PerLength json.Number
	Asks                              []struct{ What string }
}

type priceLine struct {
	Title, About string
	Amount       json.Number
	Sum          bool
}

func pricesOf(t interface {
	Helper()
	Fatal(...any)
}, book map[string]string) priceOf {
	t.Helper()
	var plan struct{ Price priceOf }
	if err := json.Unmarshal([]byte(book["data/plan.json"]), &plan); err != nil {
		t.Fatal(err)
	}
	return plan.Price
}

// TestMoneyAddsUp walks every table with amounts of both books and adds the printed amounts up again; what one table hands to another is the same there.
func TestMoneyAddsUp(t *testing.T) {
	for dir, want := range map[string]map[string]int{ // the least number of sums on each page
		"../sample-job":          {"price.html": 8, "buying-list.html": 3, "client.html": 1, "print.html": 11},
		"../testdata/metric-job": {"price.html": 5, "buying-list.html": 1, "client.html": 0, "print.html": 6},
	} {
		t.Run(dir, func(t *testing.T) {
			book := bookOf(t, dir)
			price := pricesOf(t, book)
			for path, text := range book {
				if !strings.HasSuffix(path, ".html") {
					continue
				}
				n := 0
				for _, sums := range tablesAddUp(t, path, text, price.Currency) {
					n += sums
				}
				if n < want[path] {
					t.Errorf("%s has %d sums, want %d at least", path, n, want[path])
				}
			}
			var buying struct {
				Buying struct {
					Known  json.Number
					Orders []struct {
						Known json.Number
						Lines []struct{ Amount json.Number }
					}
				}
			}
			if err := json.Unmarshal([]byte(book["data/plan.json"]), &buying); err != nil {
				t.Fatal(err)
			}
			all := new(big.Rat)
			for i, o := range buying.Buying.Orders {
				sum := new(big.Rat)
				for _, l := range o.Lines {
					sum.Add(sum, rat(l.Amount))
				}
				if sum.Cmp(rat(o.Known)) != 0 {
					t.Errorf("order %d is %s, its lines %s", i, o.Known, sum.FloatString(2))
				}
				all.Add(all, sum)
			}
			if all.Cmp(rat(buying.Buying.Known)) != 0 {
				t.Errorf("all orders are %s, they add up to %s", buying.Buying.Known, all.FloatString(2))
			}
			if last := price.Sums[len(price.Sums)-1]; last.Amount != price.Total {
				t.Errorf("the last line is %s, the total %s", last.Amount, price.Total)
			}
		})
	}
}

func rat(n json.Number) *big.Rat {
	r, ok := new(big.Rat).SetString(string(n))
	if !ok {
		return new(big.Rat)
	}
	return r
}

// sentinels are put into everything that is the shop's own: words and amounts that stand nowhere else.
var sentinels = []string{
	"Qzshopprose", "Qzsupplier", "Qzstep", "Qznote", "Qzcaution", "Qzpost", "Qzsurvey", "Qzjobprose", "Qzrunprose", "Qzpartprose", "Qzalternative", "Qzrack", "Qzmeasurer",
	"137.31", "31.7", "23.3", "8.13", "4191", "1313.13",
}

// withSentinels is the sample with them put in, and with every part of it priced.
func withSentinels(t *testing.T, price string) string {
	t.Helper()
	dir := copyOf(t, "../sample-job")
	edit := func(file string, how func(string) string) { t.Helper(); change(t, dir, file, how) }
	write := func(file, text string) { t.Helper(); put(t, filepath.Join(dir, file), []byte(text)) }
	behind := func(word string) func(string) string { return func(s string) string { return s + "\n" + word + "\n" } }
	edit("shop/settings.md", func(s string) string {
		s = regexp.MustCompile(`rates: .*`).ReplaceAllString(s, "rates: {hour: 137.31, overhead: 31.7 %, mark-up: 23.3 %, tax: 8.13 %, tax-on: materials, round: 50.00}")
		return s + "\nQzshopprose\n"
	})
	edit("job.md", func(s string) string {
		s = regexp.MustCompile(`(?s)\nprice:\n.*?\nfloor:`).ReplaceAllString(s, "\nprice: "+price+"\nfloor:")
		s = strings.Replace(s, "measured-by: M. Osterhaven", "measured-by: Qzmeasurer", 1)
		return strings.Replace(s, "note: \"", "note: \"Qzpost ", 1) + "\nQzjobprose\n"
	})
	edit("runs/1-gallery.md", behind("Qzrunprose"))
	edit("parts/cherry-rail.md", behind("Qzpartprose"))
	edit("survey/old-guard.md", behind("Qzsurvey"))
	edit("notes/1-access.md", behind("Qznote"))
	edit("alternatives/1-tighter.md", behind("Qzalternative"))
	edit("shop/rack.md", behind("Qzrack"))
	edit("shop/suppliers/2-otterhead-turners.md", func(s string) string {
		return regexp.MustCompile(`title: .*`).ReplaceAllString(s, "title: Qzsupplier") + "\nQzsupplier\n"
	})
	write("shop/steps/500-more.md", "---\nkind: step\ntitle: Qzstep\nminutes: {once: 4191}\n---\n\nQzstep\n")
	write("shop/cautions/900-more.md", "---\nkind: caution\ntitle: Qzcaution\n---\n\nQzcaution\n")
	write("shop/cautions/050-lead.md", "---\nkind: caution\ntitle: Qzcaution\n---\n\nQzcaution\n")
	return dir
}

// TestClientSeesNothingInternal: whatever the job shows of the price, no word of the shop's and no amount from behind the price is in the bytes of the client's document, no path, and
// no link that leads out of it.
func TestClientSeesNothingInternal(t *testing.T) {
	const rest = "contingency: 1313.13, extras: [{what: A threshold, price: 87.65}], allowances: [{what: A gate, price: 76.54}], discount: 3 %, valid: 20 days, choices: [tighter, square-and-clear]}"
	for name, price := range map[string]string{
		"nothing": "{" + rest,
		"total":   "{show: total, " + rest,
		"lines":   "{show: lines, " + rest,
		"shares":  "{show: lines, lines: [{what: Most of it, share: 70 %}, {what: The rest}], " + rest,
		"runs":    "{show: lines, lines: [{what: Level, runs: [gallery, return, bridge]}, {what: Stair, runs: [lower-flight]}], " + rest,
		"costs":   "{show: lines, lines: [{what: Timber, of: materials}, {what: Work, of: labour}], " + rest,
	} {
		t.Run(name, func(t *testing.T) {
			book := bookOf(t, withSentinels(t, price))
			client := book["client.html"]
			_, client, _ = strings.Cut(client, "</style>") // the style sheet and the drawings' coordinates have numbers of their own
			numbers := regexp.MustCompile(`(?s)<svg.*?</svg>`).ReplaceAllStringFunc(client, plainText)
			numbers = strings.ReplaceAll(numbers, "\u202f", "") // between thousands
			all := book["price.html"] + book["buying-list.html"] + book["recorded.html"] + book["sequence.html"] + book["cautions.html"] + book["notes.html"]
			for _, s := range sentinels {
				if !strings.Contains(all, s) {
					t.Errorf("%q is nowhere in the book: the test sees nothing", s)
				}
				if strings.HasPrefix(s, "Qz") && strings.Contains(client, s) || strings.Contains(numbers, s) {
					t.Errorf("the client reads %q", s)
				}
			}
			p := pricesOf(t, book)
			if !p.Complete || !p.Known {
				t.Fatalf("the price is not whole: %+v", p.Asks)
			}
			shown := map[json.Number]bool{}
			for _, l := range p.Offer {
				shown[l.Amount] = true
			}
			if name == "total" {
				for _, n := range []json.Number{p.Total, "87.65", "76.54"} {
					shown[n] = true
				}
			}
			internal := []json.Number{p.Guard, p.Net, p.Tax, p.PerLength}
			for _, l := range slices.Concat(p.Materials, p.Labour, p.Sums) {
				internal = append(internal, l.Amount)
			}
			for _, n := range internal {
				if text := rat(n).FloatString(2); !shown[n] && rat(n).Sign() != 0 && strings.Contains(numbers, text) {
					t.Errorf("the client reads the internal amount %s", text)
				}
			}
			for n := range shown {
				if !strings.Contains(numbers, rat(n).FloatString(2)) {
					t.Errorf("the client does not read %s", n)
				}
			}
			if name == "nothing" && (strings.Contains(client, "Price") || regexp.MustCompile(`\$\d`).MatchString(client)) {
				t.Error("the client reads a price that the job does not show")
			}
			for _, href := range regexp.MustCompile(`(?:href|src)="([^"]*)"`).FindAllStringSubmatch(client, -1) {
				if !strings.HasPrefix(href[1], "#") {
					t.Errorf("a link leads out of the client's document, to %q", href[1])
				}
			}
			for _, path := range []string{".md", "working", "shop/", "library/", "overhead", "mark-up", "Rounding", "ontingency", "supplier"} {
				if strings.Contains(strings.ToLower(client), strings.ToLower(path)) {
					t.Errorf("%q is in the client's document", path)
				}
			}
			if last := strings.LastIndex(book["print.html"], `id="page-price"`); last < strings.LastIndex(book["print.html"], `<section class="sheet"`) {
				t.Error("the price is not the last part of the print edition")
			}
			if strings.Contains(book["print.html"], `href="client.html"`) || !strings.Contains(book["index.html"], `href="client.html"`) {
				t.Error("the first page leads to the client's document, and the print edition does not")
			}
		})
	}
}

// TestClientWithoutAPrice: where the price is not whole, the client's document says that it follows, and has no amount.
func TestClientWithoutAPrice(t *testing.T) {
	book := bookOf(t, "../testdata/metric-job")
	if p := pricesOf(t, book); p.Complete || len(p.Offer) > 0 {
		t.Fatal("the metric job's price is whole")
	}
	_, client, _ := strings.Cut(book["client.html"], "</style>")
	if !strings.Contains(client, "The price follows") || strings.Contains(client, "€") {
		t.Error("an amount, or nothing that says why there is none")
	}
}

// TestRandomPrices gives random jobs random rates and prices: everything that is printed adds up, and what is not known is never a whole price.
func TestRandomPrices(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		dir, err := os.MkdirTemp(t.TempDir(), "job")
		if err != nil {
			rt.Fatal(err)
		}
		files := randomJob(rt)
		sum := func(name string) string {
			n := rapid.IntRange(0, 99_999).Draw(rt, name)
			return fmt.Sprintf("%d.%02d", n/100, n%100)
		}
		rate := func(name string) string {
			return fmt.Sprintf("%d.%d %%", rapid.IntRange(0, 30).Draw(rt, name), rapid.IntRange(0, 9).Draw(rt, name+", tenths"))
		}
		rates := "{"
		for _, r := range []struct{ key, value string }{{"hour", sum("hour")}, {"overhead", rate("overhead")}, {"mark-up", rate("mark-up")}, {"tax", rate("tax")}, {"tax-on", rapid.SampledFrom([]string{"everything", "materials"}).Draw(rt, "on")}, {"round", sum("round")}} {
			if rapid.IntRange(0, 7).Draw(rt, "has "+r.key) > 0 {
				rates += r.key + ": " + r.value + ", "
			}
		}
		files["settings.md"] = "kind: settings\nrates: " + strings.TrimSuffix(rates, ", ") + "}\n"
		files["yard.md"] = "kind: supplier\nsells:\n  square-1-1-4: {price: " + sum("baluster") + "}\n  turned-tapered: [{pack: 7, price: " + sum("pack") + "}, {price: " + sum("one") + "}]\n  rail-plow-1-1-4: {lengths: [8', 12', 16'], per-foot: " + sum("foot") + "}\n  shoe-1-1-4: {lengths: [16'], per-foot: 3.33}\n"
		price := "{show: " + rapid.SampledFrom([]string{"none", "total", "lines"}).Draw(rt, "show") + ", lines: [{what: a, share: " + rate("share") + "}, {what: b}], extras: [{what: x, price: " + sum("extra") + "}], discount: " +
			rapid.SampledFrom([]string{rate("less"), sum("less")}).Draw(rt, "discount")
		if rapid.Bool().Draw(rt, "contingency") {
			price += ", contingency: " + sum("contingency")
		}
		files["job.md"] += "price: " + price + "}\n"
		for name, text := range files {
			path := filepath.Join(dir, filepath.FromSlash(name))
			if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
				rt.Fatal(err)
			}
			if err := os.WriteFile(path, []byte("---\n"+text+"---\n"), 0o644); err != nil {
				rt.Fatal(err)
			}
		}
		result, made, err := jobbook.Make(dir)
		if result.Plan == nil && contradicts(result.Problems) {
			return
		}
		if err != nil || result.Plan == nil {
			rt.Fatal(err, result.Problems)
		}
		book := map[string]string{}
		for _, f := range made {
			book[f.Path] = strings.Join(f.Pieces, "")
			if strings.HasSuffix(f.Path, ".html") {
				tablesAddUp(rt, f.Path, strings.Join(f.Pieces, ""), "$")
			}
		}
		for _, f := range figuresOf(t, book) {
			if strings.HasPrefix(f.ID, "price/") || strings.HasPrefix(f.ID, "buy") {
				checkFigure(t, f)
			}
		}
		p := pricesOf(t, book)
		if p.Complete && len(p.Asks) > 0 && !strings.Contains(price, "contingency") || !p.Complete && len(p.Asks) == 0 || len(p.Offer) > 0 && !p.Complete {
			rt.Errorf("complete %v, asks %v, offer %v", p.Complete, p.Asks, p.Offer)
		}
		if p.Known != result.Job.Shop.Rates.Hour.Given || !p.Known && p.Total != "" {
			rt.Errorf("known %v, total %q", p.Known, p.Total)
		}
	})
}

// contradicts reports a job of which nothing is wrong but that readings of its old balusters, drawn at random, cannot all be right.
func contradicts(problems []source.Problem) bool {
	for _, p := range problems {
		if p.Severity == source.Error && !strings.HasPrefix(p.Summary, "old baluster") {
			return false
		}
	}
	return true
}
