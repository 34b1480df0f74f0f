package jobbook

import (
	"path"
	"path/filepath"
	"strings"
	"unicode"
	"unicode/utf8"

	"balustrade/jobbook/job"
	"balustrade/jobbook/source"
	"balustrade/jobbook/yard"
)

// Changed says that files were saved, came or went since the last time. The next Build makes the jobs that this may touch: for a file in a job's folder that job; for one in the shop's, see inShop. A path that
// is empty means that it could be any. It may be called from any goroutine, also while a build is under way.
func (m *YardMaker) Changed(paths []string) {
	m.lock.Lock()
	defer m.lock.Unlock()
	m.changed = append(m.changed, paths...)
}

// Pictures are the paths of the pictures that files of the jobs name.
func (m *YardMaker) Pictures() (list []string) {
	for _, x := range m.known {
		list = append(list, x.pictures...)
	}
	return list
}

// touched are the jobs that what was saved may touch.
func (m *YardMaker) touched(dir string, jobs []string) map[string]bool {
	m.lock.Lock()
	changed := m.changed
	m.changed = nil
	m.lock.Unlock()
	touched := map[string]bool{}
	if m.known == nil { // the first time: all of them, and what is in the shop is remembered
		m.shop = shopOf(filepath.Join(dir, "shop"))
		return touched
	}
	shop := false
	for _, at := range changed {
		rel, err := filepath.Rel(dir, at)
		if at == "" || err != nil || !filepath.IsLocal(rel) {
			for _, name := range jobs {
				touched[name] = true
			}
			continue
		}
		first, _, _ := strings.Cut(filepath.ToSlash(rel), "/")
		if first != "shop" {
			touched[first] = true
			continue
		}
		shop = true
		for name, x := range m.known {
			for _, p := range x.pictures {
				touched[name] = touched[name] || filepath.Clean(p) == filepath.Clean(at)
			}
		}
	}
	if shop {
		m.inShop(dir, jobs, touched)
	}
	for name, on := range touched {
		if !on {
			delete(touched, name)
		}
	}
	return touched
}

// shopFile is a file of the shop or the library.
type shopFile struct {
	kind, name  string
	front, body string
	wrong       bool // there is a problem in it
	library     bool
}

// shopOf reads the shop's folder, and the library, whose files can name the shop's.
func shopOf(dir string) map[string]shopFile {
	files := map[string]shopFile{}
	var documents, broken []source.Document
	wrong := map[string]bool{}
	take := func(folder *source.Folder, err error) {
		if err != nil {
			return
		}
		documents, broken = append(documents, folder.Documents...), append(broken, folder.Broken...)
		for _, p := range folder.Problems {
			wrong[p.At.File] = true
		}
	}
	take(library())
	take(readShop(dir))
	_, problems := job.Decode(documents, broken)
	for _, p := range problems {
		wrong[p.At.File] = true
		for _, n := range p.Notes {
			wrong[n.At.File] = true
		}
	}
	for i, d := range append(documents, broken...) {
		front := frontOf(d.Text)
		f := shopFile{name: d.Name, front: front, body: d.Text[len(front):], wrong: wrong[d.File] || i >= len(documents), library: d.Layer == source.Library}
		if k := d.Front.Get("kind"); k != nil {
			f.kind = k.Text
		}
		files[d.File] = f
	}
	return files
}

// frontOf is a file's front matter, with the line before it.
func frontOf(text string) string {
	const line = "---"
	if !strings.HasPrefix(text, line) {
		return ""
	}
	if i := strings.Index(text[len(line):], "\n"+line); i >= 0 {
		return text[:len(line)+i]
	}
	return text
}

// inShop marks the jobs that what differs in the shop's folder may touch.
//
// A part, a finish or a rule set touches the jobs that name it, or name something that names it. One that comes, goes or gets another name or kind touches all jobs where a price list or a rack has the name, for what a name there means
// may be another thing now. A file with a problem, before or after, touches all jobs, for it stops them; a job that can't be understood is made at every change, for what was missing may be there now. Every other kind of file (steps, settings,
// price lists, the rack) touches all jobs.
func (m *YardMaker) inShop(dir string, jobs []string, touched map[string]bool) {
	before, after := m.shop, shopOf(filepath.Join(dir, "shop"))
	m.shop = after
	all := false
	names := map[string]bool{}
	differs := func(file string) {
		b, was := before[file]
		a, is := after[file]
		if was && is && a == b {
			return
		}
		if b.wrong || a.wrong || was && !job.ByName(b.kind) || is && !job.ByName(a.kind) {
			all = true
			return
		}
		renamed := !was || !is || a.kind != b.kind || a.name != b.name
		for _, x := range []shopFile{b, a} {
			if x.name == "" {
				continue
			}
			names[x.name] = true
			for _, files := range []map[string]shopFile{before, after} {
				for _, f := range files {
					if f.library || job.ByName(f.kind) {
						continue
					}
					all = all || renamed && mentions(f.front, x.name) || strings.Contains(f.body, path.Base(file)) // words may lead to it, and they stand in every book
				}
			}
		}
	}
	for file := range before {
		differs(file)
	}
	for file := range after {
		if _, was := before[file]; !was {
			differs(file)
		}
	}
	for more := true; more; { // what names one of them is one of them
		more = false
		for _, files := range []map[string]shopFile{before, after} {
			for _, f := range files {
				if !names[f.name] && job.ByName(f.kind) && mentionsAny(f.front, names) {
					names[f.name], more = true, true
				}
			}
		}
	}
	for _, name := range jobs {
		at := filepath.Join(dir, name)
		if touched[name] || !sharesShop(at, filepath.Join(dir, "shop")) {
			continue
		}
		known := m.known[name]
		touched[name] = all || known == nil || known.summary.State == yard.Unreadable || len(names) > 0 && jobMentions(at, names)
	}
}

// jobMentions reports that a job's files name one of the shop's, in their front matter, or in their words by the name of its file.
func jobMentions(dir string, names map[string]bool) bool {
	fsys, closer, err := source.Open(dir)
	if err != nil {
		return true
	}
	defer closer.Close()
	folder, err := source.Read(fsys, source.Job, "")
	if err != nil {
		return true
	}
	for _, d := range append(folder.Documents, folder.Broken...) {
		front := frontOf(d.Text)
		if mentionsAny(front, names) {
			return true
		}
		for name := range names {
			if strings.Contains(d.Text[len(front):], name+".md") {
				return true
			}
		}
	}
	return false
}

func mentionsAny(text string, names map[string]bool) bool {
	for name := range names {
		if mentions(text, name) {
			return true
		}
	}
	return false
}

// mentions reports that a name stands in a text as a word of its own.
func mentions(text, name string) bool {
	part := func(r rune) bool { return r == '-' || r == '_' || unicode.IsLetter(r) || unicode.IsDigit(r) }
	for at := 0; name != ""; {
		i := strings.Index(text[at:], name)
		if i < 0 {
			return false
		}
		from, to := at+i, at+i+len(name)
		before, _ := utf8.DecodeLastRuneInString(text[:from])
		after, _ := utf8.DecodeRuneInString(text[to:])
		if (from == 0 || !part(before)) && (to == len(text) || !part(after)) {
			return true
		}
		at = from + 1
	}
	return false
}
