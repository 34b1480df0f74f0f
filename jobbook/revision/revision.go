// Package revision reads Markdown files as they were in a revision of the git repository that a folder lies in. It asks the system's own git, changes nothing, and takes nothing over from the state of the
// repository but what was asked for.
package revision

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os/exec"
	"path"
	"slices"
	"strings"
	"unicode"
)

// Tree is one revision of a repository.
type Tree struct {
	Hash  string // of the commit, in full
	Dir   string // the folder that was asked for, as it was called then: a slash path below the repository's top; "." for the top itself
	Now   string // as it is called now
	Notes []string

	folder string // on the disk, within the repository
	top    string // of the repository, on the disk
	files  []file // Markdown alone, sorted by path
}

// file is one Markdown file of a revision, or a link that is called like one.
type file struct {
	path, object string
	link         bool
}

// Error says why a revision cannot be read: in words that go on after its name, with what to do about it.
type Error struct{ Summary, Hint string }

func (e *Error) Error() string { return e.Summary }

// isHash reports a whole hash, SHA-1 or SHA-256.
func isHash(text string) bool {
	return len(text) >= 40 && len(text) <= 64 && strings.Trim(text, "0123456789abcdef") == ""
}

// Open looks a revision up: a branch, a tag, a hash or whatever else git takes for a commit. dir is a folder on the disk. What can't be had is an *Error; any other error is the context's.
func Open(ctx context.Context, dir, name string) (*Tree, error) {
	if name == "" || strings.HasPrefix(name, "-") || strings.ContainsFunc(name, unicode.IsControl) {
		return nil, &Error{"cannot be the name of a revision", "name a branch, a tag or a hash"}
	}
	t := &Tree{folder: dir}
	place, said, err := git(ctx, dir, "rev-parse", "--show-toplevel", "--show-prefix")
	switch {
	case errors.Is(err, exec.ErrNotFound):
		return nil, &Error{"is to be looked up by git, which is not installed", "install git"}
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case err != nil && strings.Contains(said, "not a git repository"):
		return nil, &Error{"cannot be looked up: " + dir + " is in no git repository", "put the job under version control: git init, git add, git commit"}
	case err != nil:
		return nil, &Error{"cannot be looked up: git says: " + first(said), ""}
	}
	lines := strings.SplitN(place, "\n", 3)
	if len(lines) < 2 {
		return nil, &Error{"cannot be looked up: " + dir + " is in no work tree of git", ""}
	}
	t.top = lines[0]
	t.Now = path.Clean("./" + strings.TrimSuffix(lines[1], "/"))
	t.Dir = t.Now
	hash, said, err := git(ctx, dir, "rev-parse", "--verify", name+"^{commit}")
	hash = strings.TrimSpace(hash)
	switch {
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case err != nil && strings.Contains(said, "ambiguous"):
		return nil, &Error{"is how several hashes begin", "write more of the hash"}
	case err != nil || !isHash(hash):
		hint := "name a branch, a tag or a hash"
		if shallow, _, _ := git(ctx, dir, "rev-parse", "--is-shallow-repository"); strings.TrimSpace(shallow) == "true" {
			hint = "fetch the whole history first: this clone has a part of it"
		}
		return nil, &Error{"is no revision of git", hint}
	case strings.Contains(said, "ambiguous"):
		t.Notes = append(t.Notes, "several branches or tags are called "+name+"; git took the commit "+hash)
	}
	t.Hash = hash
	if err := t.list(ctx); err != nil {
		return nil, err
	}
	if !t.Has(t.Dir) {
		return t, t.find(ctx, name)
	}
	return t, nil
}

// list takes down the Markdown files of the revision. Nothing else of it is read: photographs are large.
func (t *Tree) list(ctx context.Context) error {
	out, said, err := git(ctx, t.folder, "ls-tree", "-r", "-z", "--full-tree", t.Hash)
	if err != nil {
		return t.unread(ctx, said)
	}
	for entry := range strings.SplitSeq(out, "\x00") { // 100644 blob HASH<tab>path
		about, name, ok := strings.Cut(entry, "\t")
		fields := strings.Fields(about)
		if !ok || len(fields) != 3 || fields[1] != "blob" || !strings.EqualFold(path.Ext(name), ".md") {
			continue
		}
		t.files = append(t.files, file{name, fields[2], fields[0] == "120000"})
	}
	slices.SortFunc(t.files, func(a, b file) int { return strings.Compare(a.path, b.path) })
	return nil
}

func (t *Tree) unread(ctx context.Context, said string) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	return &Error{"cannot be read: git says: " + first(said), ""}
}

// find looks for what the folder was called, where it is not there under its name of now: most of the files that git holds for renamed came from there.
func (t *Tree) find(ctx context.Context, name string) error {
	votes := map[string]int{}
	out, _, err := git(ctx, t.folder, "diff-tree", "-r", "-z", "-M", "--diff-filter=R", "--name-status", "--no-ext-diff", "--no-textconv", t.Hash, "HEAD")
	if err == nil {
		words := strings.Split(out, "\x00") // R100, was, is
		for i := 0; i+2 < len(words); i += 3 {
			was, is := words[i+1], words[i+2]
			within, ok := strings.CutPrefix(is, t.Dir+"/")
			if t.Dir == "." {
				within, ok = is, true
			}
			if dir := path.Clean("./" + strings.TrimSuffix(was, within)); ok && (was == within || strings.HasSuffix(was, "/"+within)) {
				votes[dir]++
			}
		}
	}
	best := ""
	var jobs []string
	for _, f := range t.files {
		for dir := path.Dir(f.path); ; dir = path.Dir(dir) {
			if votes[dir] > votes[best] {
				best = dir
			}
			if dir == "." {
				break
			}
		}
		if path.Base(f.path) == "job.md" {
			jobs = append(jobs, path.Dir(f.path))
		}
	}
	if best != "" {
		t.Dir = best
		t.Notes = append(t.Notes, fmt.Sprintf("the folder was called %s in %s", best, name))
		return nil
	}
	hint := "name a revision in which the job is there already"
	if len(jobs) > 0 {
		hint = "there were the jobs: " + strings.Join(jobs, ", ")
	}
	return &Error{"has no folder " + t.Dir + " with Markdown in it", hint}
}

// Has reports whether there was a folder with Markdown in it. dir is a slash path below the repository's top.
func (t *Tree) Has(dir string) bool {
	if dir == "." {
		return len(t.files) > 0
	}
	i, _ := slices.BinarySearchFunc(t.files, dir+"/", func(f file, dir string) int { return strings.Compare(f.path, dir) })
	return i < len(t.files) && strings.HasPrefix(t.files[i].path, dir+"/")
}

// Holds reports whether a folder on the disk lies in the same repository.
func (t *Tree) Holds(ctx context.Context, dir string) bool {
	top, _, err := git(ctx, dir, "rev-parse", "--show-toplevel")
	return err == nil && strings.TrimSuffix(top, "\n") == t.top
}

// local are what a hook of git's finds set, and what would make git look elsewhere than in the folder it is asked about.
var local = []string{"GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE", "GIT_PREFIX", "GIT_COMMON_DIR", "GIT_NAMESPACE"}

// git runs git in a folder and gives what it printed, and what it said on standard error.
func git(ctx context.Context, dir string, args ...string) (out, said string, err error) {
	cmd, stderr := command(ctx, dir, args...)
	var stdout bytes.Buffer
	cmd.Stdout = &stdout
	err = cmd.Run()
	return stdout.String(), stderr.String(), err
}

// command is git, ready to be run in a folder, and where it will say what is wrong.
func command(ctx context.Context, dir string, args ...string) (*exec.Cmd, *bytes.Buffer) {
	cmd := exec.CommandContext(ctx, "git", args...)
	cmd.Dir = dir
	cmd.Env = slices.DeleteFunc(cmd.Environ(), func(v string) bool {
		name, _, _ := strings.Cut(v, "=")
		return slices.Contains(local, name)
	})
	// English, for the words that are looked for; and nothing is asked, fetched or locked.
	cmd.Env = append(cmd.Env, "LC_ALL=C", "GIT_TERMINAL_PROMPT=0", "GIT_NO_LAZY_FETCH=1", "GIT_OPTIONAL_LOCKS=0")
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	return cmd, &stderr
}

// first is the first line of what git said, without the word before it.
func first(said string) string {
	line, _, _ := strings.Cut(strings.TrimSpace(said), "\n")
	return strings.TrimPrefix(strings.TrimPrefix(line, "fatal: "), "error: ")
}
