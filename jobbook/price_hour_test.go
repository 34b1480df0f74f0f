package jobbook_test

import (
	"strings"
	"testing"
)

// TestNoPriceOfAnHour: while nobody says what an hour costs, the page asks for that once, and not on a line for every step.
func TestNoPriceOfAnHour(t *testing.T) {
	const ask, table = "The price of an hour of working time", `id="price-labour"`
	front := map[string]string{"job.md": "kind: job\nheight: 38", "runs/1-hall.md": "kind: run\nfrom: wall\nto: wall\nclear: {floor: 96, rail: 96}"}
	page := bookOf(t, folder(t, front))["price.html"]
	if strings.Contains(page, table) || strings.Count(page, ask) != 1 {
		t.Errorf("without a price of an hour: the steps stand there %v, it is asked for %d times", strings.Contains(page, table), strings.Count(page, ask))
	}
	front["shop/settings.md"] = "kind: settings\nrates: {hour: 58}"
	page = bookOf(t, folder(t, front))["price.html"]
	if !strings.Contains(page, table) || strings.Contains(page, ask) {
		t.Error("with one: the steps are not there, or it is asked for still")
	}
}
