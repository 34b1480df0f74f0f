package site

import (
	"bufio"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path"
	"strings"
	"testing"
	"time"
)

var long = flag.Bool("long", false, "kill a thousand runs, not sixty")

// killDir names the folder that a child of TestKilled writes to.
const killDir = "SITE_TEST_KILL_DIR"

// killBook is one of two books that share some files, differ in some, and have some to themselves. Files are of up to some 100 KB, as real ones are.
func killBook(which string) []File {
	files := book("index.html", "index of "+which, "style.css", "the same in both", "only-"+which+"/deep/page.html", "a page of "+which)
	for i := range 30 {
		size := (i*i*137 + len(which)) % 100_000
		files = append(files, File{fmt.Sprintf("pages/%d.html", i), []string{strings.Repeat(fmt.Sprintf("%s %d.", which, i), size/8+1)}})
	}
	return append(files, File{map[string]string{"old": "swap", "newer": "swap/below"}[which], []string{"a file here, ", "a folder there"}})
}

// TestKilledChild is the run that TestKilled kills: it writes one book and the other, without end.
func TestKilledChild(t *testing.T) {
	dir := os.Getenv(killDir)
	if dir == "" {
		t.Skip("runs as a child of TestKilled only")
	}
	books := [][]File{killBook("old"), killBook("newer")}
	fmt.Println("\nready")
	for i := 0; ; i++ {
		if _, err := Write(dir, books[i%2]); err != nil {
			t.Fatal(err)
		}
	}
}

// TestKilled ends a program that writes books with the signal that cannot be caught, at a moment of chance, again and again in one folder. After each, every file is whole, of one book or the other; what was there of
// somebody else's is as it was; the lock does not outlive the program; and the next run leaves its book exactly.
func TestKilled(t *testing.T) {
	if os.Getenv(killDir) != "" {
		t.Skip("this is a child")
	}
	kills := 60
	if *long {
		kills = 1000
	}
	dir := t.TempDir()
	allowed := map[string][]string{"pages/mine.txt": {"not ours"}}
	want := map[string]map[string]string{}
	for _, which := range []string{"old", "newer"} {
		for _, f := range killBook(which) {
			allowed[f.Path] = append(allowed[f.Path], strings.Join(f.Pieces, ""))
		}
		other := t.TempDir()
		mustWrite(t, other, killBook(which))
		put(t, path.Join(other, "pages/mine.txt"), "not ours")
		want[which] = tree(t, other)
	}
	mustWrite(t, dir, killBook("old"))
	put(t, path.Join(dir, "pages/mine.txt"), "not ours")

	chance := rand.New(rand.NewPCG(1, 2))
	between := 0
	for n := range kills {
		child := exec.Command(os.Args[0], "-test.run=^TestKilledChild$")
		child.Env = append(os.Environ(), killDir+"="+dir)
		out, err := child.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := child.Start(); err != nil {
			t.Fatal(err)
		}
		lines := bufio.NewScanner(out)
		for lines.Scan() && lines.Text() != "ready" {
		}
		time.Sleep(time.Duration(chance.IntN(15_000)) * time.Microsecond)
		if err := child.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		io.Copy(io.Discard, out)
		if err := child.Wait(); err == nil || child.ProcessState.Exited() {
			t.Fatalf("kill %d: the child ended by itself: %v", n, err)
		}

		found := tree(t, dir)
		for name, content := range found {
			whole := strings.HasSuffix(name, "/") || strings.HasPrefix(path.Base(name), leftoverPrefix)
			for _, data := range allowed[name] {
				whole = whole || content == data
			}
			if !whole {
				t.Fatalf("kill %d: %s holds %d bytes that are of neither book: %.40q…", n, name, len(content), content)
			}
		}
		if found["pages/mine.txt"] != "not ours" {
			t.Fatalf("kill %d: a file that is not ours is gone or changed", n)
		}
		which := []string{"old", "newer"}[chance.IntN(2)]
		result := mustWrite(t, dir, killBook(which)) // a lock left behind would be a BusyError here
		if result.Written > 0 && result.Unchanged > 1 {
			between++
		}
		if len(result.Kept) > 0 {
			t.Fatalf("kill %d: kept %v", n, result.Kept)
		}
		check(t, fmt.Sprintf("kill %d: the book after it", n), want[which], tree(t, dir))
		if t.Failed() {
			return
		}
	}
	t.Logf("%d runs were killed, %d of them between two books", kills, between)
	if between == 0 {
		t.Error("no run was killed between two books: the test tests nothing")
	}
}
