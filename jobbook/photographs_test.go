package jobbook_test

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"balustrade/jobbook"
	"balustrade/jobbook/source"
)

// shot is a JPEG of one colour.
func shot(t testing.TB, wide, high int, c color.Color) []byte {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, wide, high))
	draw.Draw(m, m.Rect, image.NewUniform(c), image.Point{}, draw.Src)
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestPositionIsRemoved: the sample has a photograph with a position in it, stored sideways. Its copy stands upright, and no file of the book holds
// anything of what the camera wrote beside the picture.
func TestPositionIsRemoved(t *testing.T) {
	raw, err := os.ReadFile("../sample-job/survey/photographs/corner.jpg")
	if err != nil {
		t.Fatal(err)
	}
	// 48 degrees north as Exif has it: three fractions, each of two 32-bit numbers, the least byte first (Exif 2.32, 4.6.6).
	position := []byte("\x30\x00\x00\x00\x01\x00\x00\x00\x00\x00\x00\x00\x01\x00\x00\x00\x00\x00\x00\x00\x01\x00\x00\x00")
	const day = "2026:11:09 16:20:00"
	if !bytes.Contains(raw, []byte("Exif\x00\x00II")) || !bytes.Contains(raw, position) || !bytes.Contains(raw, []byte(day)) {
		t.Fatal("the sample's photograph has no position in it")
	}
	config, err := jpeg.DecodeConfig(bytes.NewReader(raw))
	if err != nil || config.Width != 1200 || config.Height != 900 {
		t.Fatalf("the sample's photograph is %d by %d, %v", config.Width, config.Height, err)
	}
	book := bookOf(t, "../sample-job")
	copies := 0
	for path, text := range book {
		if !strings.HasPrefix(path, "photographs/") {
			continue
		}
		copies++
		for _, secret := range []string{"Exif", day, string(position), "2026"} {
			if strings.Contains(text, secret) {
				t.Errorf("%s holds %q", path, secret)
			}
		}
		if n := strings.Count(book["measured.html"], `src="`+path+`"`); n != 1 {
			t.Errorf("%s is shown %d times", path, n)
		}
		if !strings.Contains(book["print.html"], `src="`+path+`"`) {
			t.Errorf("the print edition does not show %s", path)
		}
	}
	if copies != 3 {
		t.Errorf("%d copies, want the sample's three", copies)
	}
	upright := regexp.MustCompile(`<img src="photographs/[0-9a-f]{24}\.jpg" alt="[^"]*the corner newel[^"]*" width="900" height="1200" loading="lazy">`)
	if !upright.MatchString(book["measured.html"]) {
		t.Error("the corner newel does not stand upright")
	}
	if strings.Contains(book["client.html"], "<img") || strings.Contains(book["client.html"], "photographs/") {
		t.Error("the client's document has photographs")
	}
}

// TestClientSeesNoPhotographs: wherever a job, a run, a part, a note or a survey names a photograph, the client's document, which is whole in itself, has none.
func TestClientSeesNoPhotographs(t *testing.T) {
	dir := copyOf(t, "../sample-job")
	picture := shot(t, 40, 30, color.Gray{90})
	for _, file := range []string{"job.md", "runs/1-gallery.md", "parts/cherry-rail.md", "notes/1-access.md", "survey/old-guard.md", "alternatives/1-tighter.md", "shop/settings.md"} {
		name := filepath.Join(dir, filepath.FromSlash(file))
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		put(t, filepath.Join(filepath.Dir(name), "seen.jpg"), picture)
		put(t, name, append(text, "\n![Qzseen](seen.jpg)\n"...))
	}
	book := bookOf(t, dir)
	shown := 0
	for path, text := range book {
		if path != "print.html" {
			shown += strings.Count(text, `alt="Qzseen"`)
		}
	}
	if shown < 6 {
		t.Errorf("the book shows %d of them: the test sees nothing", shown)
	}
	if client := book["client.html"]; client == "" || strings.Contains(client, "Qzseen") || strings.Contains(client, "<img") || strings.Contains(client, "photographs/") {
		t.Error("the client's document has photographs")
	}
}

// aJob is a job folder with a note that names pictures.
func aJob(t testing.TB, note string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "job")
	put(t, filepath.Join(dir, "job.md"), []byte("---\nkind: job\ntitle: One\n---\n"))
	put(t, filepath.Join(dir, "notes", "1-a.md"), []byte(note))
	return dir
}

// TestPictureProblems compares whole problem texts: each is a warning where the picture is named, and the book is made.
func TestPictureProblems(t *testing.T) {
	dir := aJob(t, "Seen ![it](../photos/stiar.jpg), ![far](https://example.org/x.jpg)\n\n![a](/photos/phone.jpg)\n![b](../photos/words.jpg) ![b](../photos/words.jpg)\n\n- ![c](../photos/half.jpg)\n- ![d](../../else.jpg)\n- ![e](../photos/WebP)\n")
	put(t, filepath.Join(dir, "survey", "old.md"), []byte("---\nkind: survey\nphotos:\n  - {file: stair.jpg, shows: x}\n  - {file: \"../photos/stair.jpg\", shows: }\n  - {file: https://example.org/x.jpg}\n---\n"))
	put(t, filepath.Join(dir, "photos", "stair.jpg"), shot(t, 40, 30, color.White))
	put(t, filepath.Join(dir, "photos", "phone.jpg"), []byte("\x00\x00\x00\x18ftypheic"))
	put(t, filepath.Join(dir, "photos", "WebP"), []byte("RIFF\x10\x00\x00\x00WEBPVP8 "))
	put(t, filepath.Join(dir, "photos", "words.jpg"), []byte("these are words"))
	whole := shot(t, 400, 300, color.White)
	put(t, filepath.Join(dir, "photos", "half.jpg"), whole[:len(whole)/2])
	r, files, err := jobbook.Make(dir)
	if err != nil || r.Plan == nil || len(files) == 0 {
		t.Fatal(err, r.Problems)
	}
	var out strings.Builder
	source.Print(&out, r.Problems, r.Texts.Line, func(file string) string { return file })
	const neither = "  hint: put a JPEG or a PNG in its place; what counts is what is in the file, not how its name ends\n"
	want := `notes/1-a.md:1:6: warning: the picture photos/stiar.jpg is not there
  Seen ![it](../photos/stiar.jpg), ![far](https://example.org/x.jpg)
       ^^
  hint: did you mean stair.jpg?
notes/1-a.md:1:34: warning: a picture from elsewhere is not fetched: https://example.org/x.jpg
  Seen ![it](../photos/stiar.jpg), ![far](https://example.org/x.jpg)
                                   ^
  hint: put the picture beside the job and link to it there
notes/1-a.md:3:1: warning: the picture photos/phone.jpg is HEIC or AVIF, which is not read
  ![a](/photos/phone.jpg)
  ^^
  hint: have the phone save photographs as JPEG, or put a JPEG copy in its place
notes/1-a.md:4:1: warning: the picture photos/words.jpg is neither a JPEG nor a PNG
  ![b](../photos/words.jpg) ![b](../photos/words.jpg)
  ^^
` + neither + `notes/1-a.md:4:27: warning: the picture photos/words.jpg is neither a JPEG nor a PNG
  ![b](../photos/words.jpg) ![b](../photos/words.jpg)
                            ^^
` + neither + `notes/1-a.md:6:3: warning: the picture photos/half.jpg cannot be read as a JPEG: it is broken, or only a part of it is there
  - ![c](../photos/half.jpg)
    ^^
  hint: copy it from the camera again, or save it anew as an ordinary JPEG
notes/1-a.md:7:3: warning: the picture ../else.jpg is not in the job's folder
  - ![d](../../else.jpg)
    ^^
  hint: put a copy into the folder, and name that, with slashes: photos/corner.jpg
notes/1-a.md:8:3: warning: the picture photos/WebP is WebP, which is not read
  - ![e](../photos/WebP)
    ^^
  hint: put a JPEG or a PNG copy in its place
survey/old.md:4:12: warning: the picture survey/stair.jpg is not there
    - {file: stair.jpg, shows: x}
             ^^^^^^^^^
  hint: put it there, or take its name out
survey/old.md:6:12: warning: the picture https://example.org/x.jpg is not in the job's folder
    - {file: https://example.org/x.jpg}
             ^^^^^^^^^^^^^^^^^^^^^^^^^
  hint: put a copy into the folder, and name that, with slashes: photos/corner.jpg
`
	if diff := cmp.Diff(want, out.String()); diff != "" {
		t.Errorf("want -, got +:\n%s", diff)
	}
	shown := 0
	for _, f := range files {
		if f.Path == "measured.html" {
			shown = strings.Count(strings.Join(f.Pieces, ""), "<img")
		}
	}
	if shown != 1 {
		t.Errorf("%d pictures are shown, want the one that can be", shown)
	}
}

// TestShopsPictures: what a shop's own words name is looked for in the shop's folder, wherever that is.
func TestShopsPictures(t *testing.T) {
	for _, place := range []string{"shop", "../shop"} {
		dir := aJob(t, "Words.\n")
		shop := filepath.Join(dir, filepath.FromSlash(place))
		put(t, filepath.Join(shop, "steps", "500-clamp.md"), []byte("---\nkind: step\ntitle: Clamp\n---\n\n![the clamp](clamp.jpg)\n"))
		put(t, filepath.Join(shop, "steps", "clamp.jpg"), shot(t, 40, 30, color.White))
		r, files, err := jobbook.Make(dir)
		if err != nil || r.Plan == nil || len(r.Problems) > 0 {
			t.Fatal(place, err, r.Problems)
		}
		if want := filepath.Join(shop, "steps", "clamp.jpg"); len(r.Pictures) != 1 || r.Pictures[0] != want {
			t.Errorf("%s: the pictures are %v, want %s", place, r.Pictures, want)
		}
		found := false
		for _, f := range files {
			found = found || f.Path == "sequence.html" && strings.Contains(strings.Join(f.Pieces, ""), `alt="the clamp"`)
		}
		if !found {
			t.Errorf("%s: the step does not show its picture", place)
		}
	}
}

// TestCopiesComeAndGo: a copy is listed with what the program wrote, takes its place when the photograph changes, and goes with its last mention.
func TestCopiesComeAndGo(t *testing.T) {
	dir := aJob(t, "![the stair](stair.jpg)\n")
	out := dir + "-book"
	put(t, filepath.Join(dir, "notes", "stair.jpg"), shot(t, 40, 30, color.White))
	build := func() string {
		t.Helper()
		if r, err := jobbook.Build(t.Context(), dir, out); err != nil || r.Plan == nil {
			t.Fatal(err, r.Problems)
		}
		list, err := os.ReadFile(filepath.Join(out, ".jobbook-manifest"))
		if err != nil {
			t.Fatal(err)
		}
		copies := regexp.MustCompile(`(?m)  (photographs/.*)$`).FindAllStringSubmatch(string(list), -1)
		if len(copies) == 0 {
			return ""
		}
		if len(copies) != 1 {
			t.Fatalf("the copies are %q", copies)
		}
		return copies[0][1]
	}
	there := func(name string) bool {
		_, err := os.Stat(filepath.Join(out, filepath.FromSlash(name)))
		return err == nil
	}
	first := build()
	if first == "" || !there(first) {
		t.Fatalf("no copy: %q", first)
	}
	put(t, filepath.Join(dir, "notes", "stair.jpg"), shot(t, 40, 30, color.Black))
	second := build()
	if second == "" || second == first || !there(second) || there(first) {
		t.Errorf("after another photograph: %q, before %q", second, first)
	}
	put(t, filepath.Join(dir, "notes", "1-a.md"), []byte("No picture.\n"))
	if last := build(); last != "" || there(second) || there("photographs") {
		t.Errorf("after its last mention: %q", last)
	}
}

// TestMostPictures: beyond the most that a job can name, the first is told and the rest are left out.
func TestMostPictures(t *testing.T) {
	var note strings.Builder
	for i := range source.MostPictures + 2 {
		fmt.Fprintf(&note, "![x](%d.jpg)\n\n", i)
	}
	dir := aJob(t, note.String())
	for i := range source.MostPictures + 2 {
		put(t, filepath.Join(dir, "notes", fmt.Sprint(i)+".jpg"), shot(t, 1, 1, color.White))
	}
	r, files, err := jobbook.Make(dir)
	if err != nil || r.Plan == nil || len(files) == 0 {
		t.Fatal(err, r.Problems)
	}
	if len(r.Problems) != 1 || r.Problems[0].Summary != "the picture notes/500.jpg and those after it are not shown; a job has no more than 500" || r.Problems[0].At.Line != 1001 {
		t.Errorf("%+v", r.Problems)
	}
}
