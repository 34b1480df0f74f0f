package job_test

import (
	"testing"

	"balustrade/jobbook/length"
)

// TestFootOverItsPin: the foot is what stands over the pin, 3/4 up, whether the stations begin with the pin or not; a blank pin leaves it open where the
// end may be one, for it is turned. The place is that of the station that says so.
func TestFootOverItsPin(t *testing.T) {
	const pinned = "profile: [{at: 0, round: 1/2}, {at: 3/4, round: 1/2}, {at: 3/4, square: 1 1/4}, {at: 42, square: 1 1/4}]"
	const block = "profile: [{at: 0, square: 1 1/4}, {at: 7, square: 1 1/4}, {at: 7, round: 1}, {at: 42, round: 1}]"
	for _, c := range []struct{ front, want string }{
		{"bottom: pin\npin: {wide: 1/2, long: 3/4}\n" + pinned, "1 1/4"},
		{"bottom: pin\npin: {wide: 1/2, long: 3/4}\n" + block, "1 1/4"},
		{"bottom: pin\npin: {wide: 1/2, long: 3/4}\nwide: 1/2\n" + pinned, "1/2"}, // what is written counts
		{"bottom: pin\npin: {wide: 1/2, long: }\n" + pinned, ""},
		{"bottom: pin\n" + pinned, ""},
		{"bottom: pin\n" + block, "1 1/4"},
		{pinned, "1/2"}, // no pin: it stands on the turned end
	} {
		j, problems := decode(t, nil, nil, files{"job.md": "kind: job", "parts/b.md": "kind: baluster\n" + c.front})
		if problems != "" || len(j.Balusters) != 1 {
			t.Fatalf("%s: %s", c.front, problems)
		}
		b := j.Balusters[0]
		got := ""
		if b.Wide.Given {
			got = length.Style{System: length.Inches, Division: length.Inch / 64, Rounding: length.Nearest}.Print(b.Wide.Length)
		}
		if got != c.want {
			t.Errorf("%s: foot %q, want %q", c.front, got, c.want)
		}
		if b.Wide.At.IsZero() && c.front != "bottom: pin\n"+pinned {
			t.Errorf("%s: no place", c.front)
		}
	}
}

// TestPinKeepsItsWidth: balusters that came 1 3/16 across the foot, with square blocks as wide, have the pin that they have, and the turning with its waist gauged as the file has it.
func TestPinKeepsItsWidth(t *testing.T) {
	j, problems := decode(t, nil, nil, files{
		"job.md":          "kind: job",
		"parts/b.md":      "kind: baluster\nbottom: pin\npin: {wide: 1/2, long: 3/4}\nprofile: [{at: 0, round: 1/2}, {at: 3/4, round: 1/2}, {at: 3/4, square: 1 1/4}, {at: 7, square: 1 1/4}, {at: 7, round: 1}, {at: 30, round: 1 1/4}, {at: 42, square: 1 1/4}]",
		"deliveries/1.md": "kind: delivery\nitems:\n- {part: b, wide: 1 3/16, waist: 1}",
	})
	if problems != "" {
		t.Fatal(problems)
	}
	got := ""
	for _, s := range j.Balusters[0].Profile.Stations {
		got += length.Style{System: length.Inches, Division: length.Inch / 64, Rounding: length.Nearest}.Print(s.Width) + " "
	}
	if want := "1/2 1/2 1 3/16 1 3/16 1 1 1/4 1 3/16 "; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}
