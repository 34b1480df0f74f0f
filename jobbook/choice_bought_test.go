package jobbook_test

import (
	"maps"
	"strings"
	"testing"
)

// TestChoiceAfterDelivery: sticks at 1 in place of turned ones at 20 are less as long as none came. Once the turned ones are there, they are paid for: no saving is offered, and the reason stands there. What came and is needed by both ways takes nothing away.
func TestChoiceAfterDelivery(t *testing.T) {
	for part, less := range map[string]bool{"": true, "turned-slim-vase": false, "rosette-round": true} {
		files := maps.Clone(simple)
		files["job.md"] = strings.Replace(files["job.md"], "baluster: square-1-1-4", "baluster: turned-slim-vase", 1) + "\nprice: {show: total, date: 2027-03-01, contingency: 500, choices: [square]}"
		files["settings.md"] = "kind: settings\ncurrency: $\nrates: {hour: 60, overhead: 0 %, mark-up: 0 %, tax: 0 %}"
		files["yard.md"] = "kind: supplier\nlead: 3\nsells: {turned-slim-vase: {price: 20}, square-1-1-4-long: {price: 1}, square-3-1-2: {price: 40}, rosette-round: {price: 3}, rail-plow-1-1-4: {lengths: [8', 12'], per-foot: 9}, shoe-1-1-4: {lengths: [8', 12'], per-foot: 4}, fillet-1-1-4: {lengths: [8', 12'], per-foot: 1}}"
		files["alternatives/square.md"] = "kind: alternative\ntitle: Plain sticks\njob: {baluster: square-1-1-4-long}"
		if part != "" {
			files["deliveries/1.md"] = "kind: delivery\nreceived: 2027-03-01\nitems: [{part: " + part + ", count: 40}]"
		}
		page := anyTag.ReplaceAllString(bookOf(t, folder(t, files))["client.html"], "")
		i := strings.Index(page, "Plain sticks")
		if i < 0 {
			t.Fatalf("%q: no choice", part)
		}
		words, _, _ := strings.Cut(page[i:], "\n")
		if strings.Contains(words, " less") != less || strings.Contains(words, "bought already") == less {
			t.Errorf("%q: %s", part, words)
		}
	}
}
