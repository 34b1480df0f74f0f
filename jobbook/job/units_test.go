package job_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
)

const merchant = "kind: supplier\nsells:\n  rail: {lengths: [2400, 3000], per-metre: 31.50}"

// TestUnitsOfAShop: what a bare number of a shop's file means, for jobs in both units. Millimetres are written by hand.
func TestUnitsOfAShop(t *testing.T) {
	const mm, inch = length.Millimetre, length.Inch
	for _, c := range []struct {
		name      string
		settings  string
		supplier  string
		job       string
		want      length.Length // of the first stick
		fit       length.Length // of the settings
		complains string
	}{
		{"nothing said, job in inches", "fit: 1", strings.Replace(merchant, "2400", "96", 1), "units: in", 96 * inch, inch, ""},
		{"nothing said, job silent", "fit: 1", strings.Replace(merchant, "2400", "96", 1), "", 96 * inch, inch, ""},
		{"said in the settings", "units: mm\nfit: 1", merchant, "units: mm", 2400 * mm, mm, ""},
		{"said in the settings, job in inches", "units: mm\nfit: 1", merchant, "units: in", 2400 * mm, mm, ""},
		{"inches, for a job in millimetres", "units: in\nfit: 1/16", strings.Replace(merchant, "2400", "96", 1), "units: mm", 96 * inch, inch / 16, ""},
		{"a file for itself", "units: in\nfit: 1", "units: mm\n" + merchant, "units: in", 2400 * mm, inch, ""},
		{"a file for itself alone", "fit: 1 mm", "units: mm\n" + merchant, "units: mm", 2400 * mm, mm, ""},
		{"units behind every length", "fit: 1 mm", strings.NewReplacer("2400", "2400 mm", "3000", "3 m").Replace(merchant), "units: mm", 2400 * mm, mm, ""},
		{"nothing is the same in both", "fit: 0", "units: mm\n" + merchant, "units: mm", 2400 * mm, 0, ""},
		{"nothing said, job in millimetres", "fit: 1 mm", merchant, "units: mm", 0, 0, `shop/merchant.md:4:20: error: "2400" could be millimetres or inches, and so could another length of this file: the job is in millimetres, and the shop does not say what it measures in
    rail: {lengths: [2400, 3000], per-metre: 31.50}
                     ^^^^
  hint: write units: mm or units: in, once for all files of the shop, in its settings.md; or 2400 mm or 2400 in here
`},
		{"the settings themselves", "fit: 1", "units: mm\n" + merchant, "units: mm", 0, 0, `shop/settings.md:3:6: error: "1" could be millimetres or inches: the job is in millimetres, and the shop does not say what it measures in
  fit: 1
       ^
  hint: write units: mm or units: in, once for all files of the shop, in its settings.md; or 1 mm or 1 in here
`},
		{"a fraction can only be inches", "fit: 1/16", "units: mm\n" + merchant, "units: mm", 0, 0, `shop/settings.md:3:6: error: "1/16" could be millimetres or inches: the job is in millimetres, and the shop does not say what it measures in
  fit: 1/16
       ^^^^
  hint: write units: mm or units: in, once for all files of the shop, in its settings.md; or 1/16 in here
`},
		{"a unit that is none is told once", "units: cm\nfit: 1", merchant, "units: mm", 0, 0, `shop/settings.md:3:8: error: want one of in, mm, found "cm"
  units: cm
         ^^
  hint: did you mean mm?
`},
	} {
		t.Run(c.name, func(t *testing.T) {
			j, told := decode(t, nil,
				files{"settings.md": "kind: settings\n" + c.settings, "merchant.md": c.supplier},
				files{"job.md": "kind: job\n" + c.job, "parts/rail.md": "kind: handrail"})
			if told != c.complains {
				t.Fatalf("got  %s\nwant %s", told, c.complains)
			}
			if c.complains != "" {
				return
			}
			if got := j.Suppliers[0].Offers[0].Long.Length; got != c.want {
				t.Errorf("a stick of %d nm, want %d", got, c.want)
			}
			if got := j.Shop.Fit.Length; got != c.fit {
				t.Errorf("fit %d nm, want %d", got, c.fit)
			}
		})
	}
}

// TestUnitsRemembered: the same shop's documents, remembered once they are decoded, for jobs in both units one after the other.
func TestUnitsRemembered(t *testing.T) {
	read := func(layer source.Layer, prefix string, texts files) []source.Document {
		fsys := fstest.MapFS{}
		for name, text := range texts {
			fsys[name] = &fstest.MapFile{Data: []byte("---\n" + text + "\n---\n")}
		}
		folder, err := source.Read(fsys, layer, prefix)
		if err != nil {
			t.Fatal(err)
		}
		return folder.Documents
	}
	shop := read(source.Shop, "shop/", files{"merchant.md": merchant})
	says := read(source.Shop, "shop/", files{"settings.md": "kind: settings\nunits: mm"})
	stick := func(units string, more ...source.Document) (length.Length, int) {
		own := read(source.Job, "", files{"job.md": "kind: job\nunits: " + units, "parts/rail.md": "kind: handrail"})
		j, problems := job.Decode(append(append(append([]source.Document{}, shop...), more...), own...), nil)
		return j.Suppliers[0].Offers[0].Long.Length, len(problems)
	}
	for range 2 {
		if l, n := stick("in"); l != 2400*length.Inch || n != 0 {
			t.Errorf("a job in inches: %d nm, %d problems", l, n)
		}
		if _, n := stick("mm"); n != 1 {
			t.Errorf("a job in millimetres: %d problems, want one", n)
		}
		for _, units := range []string{"in", "mm"} {
			if l, n := stick(units, says...); l != 2400*length.Millimetre || n != 0 {
				t.Errorf("a shop in millimetres, a job in %s: %d nm, %d problems", units, l, n)
			}
		}
	}
}
