package revision

import (
	"archive/zip"
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"

	"balustrade/jobbook/source"
)

// mostLinks is how many links are followed one after the other (our own choice).
const mostLinks = 8

// Files gives the Markdown files below a folder of the revision, in memory. dir is a slash path below the repository's top. A link to a file within the folder is followed, any other one left out. A file that is too large for a
// job is cut off where that shows.
func (t *Tree) Files(ctx context.Context, dir string) (fs.FS, error) {
	below := func(name string) (string, bool) {
		if dir == "." {
			return name, true
		}
		return strings.CutPrefix(name, dir+"/")
	}
	var list []file
	for _, f := range t.files {
		if name, ok := below(f.path); ok && !slices.ContainsFunc(strings.Split(name, "/"), source.Ignored) {
			f.path = name
			list = append(list, f)
		}
	}
	if len(list) > source.MostFiles {
		list = list[:source.MostFiles+1] // one more, so that it is said that there are too many
	}
	var links []file
	for _, f := range list {
		if f.link {
			links = append(links, f)
		}
	}
	to := map[string]string{} // path of a link to what it says
	err := t.read(ctx, links, func(f file, data []byte) error {
		to[f.path] = string(data)
		return nil
	})
	if err != nil {
		return nil, err
	}
	var follow []file
	for _, f := range list {
		at := f
		for n := 0; at.link && n < mostLinks; n++ {
			target := path.Join(path.Dir(at.path), to[at.path])
			i, found := slices.BinarySearchFunc(list, target, func(f file, name string) int { return strings.Compare(f.path, name) })
			if !found {
				break
			}
			at = list[i]
		}
		if !at.link {
			follow = append(follow, file{path: f.path, object: at.object})
		}
	}
	var archive bytes.Buffer // the standard library's own file system in memory
	w := zip.NewWriter(&archive)
	err = t.read(ctx, follow, func(f file, data []byte) error {
		entry, err := w.CreateHeader(&zip.FileHeader{Name: f.path, Method: zip.Store})
		if err == nil {
			_, err = entry.Write(data)
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return zip.NewReader(bytes.NewReader(archive.Bytes()), int64(archive.Len()))
}

// read gives the bytes of files to use, in their order: of each no more than shows that it is too large, and of all of them no more than a folder may hold.
func (t *Tree) read(ctx context.Context, list []file, use func(f file, data []byte) error) error {
	if len(list) == 0 {
		return nil
	}
	var ask strings.Builder
	for _, f := range list {
		ask.WriteString(f.object + "\n")
	}
	cmd, said := command(ctx, t.folder, "cat-file", "--batch")
	cmd.Stdin = strings.NewReader(ask.String())
	pipe, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		return t.unread(ctx, err.Error())
	}
	out, total := bufio.NewReader(pipe), 0
	next := func(f file) error {
		line, _ := out.ReadString('\n') // HASH blob SIZE, or HASH missing
		about := strings.Fields(line)
		if len(about) != 3 || about[0] != f.object || about[1] != "blob" {
			return &Error{"cannot be read: git has not all of " + f.path, "fetch the whole history first"}
		}
		size, err := strconv.ParseInt(about[2], 10, 64)
		if err != nil {
			return &Error{"cannot be read: git says " + line, ""}
		}
		data, err := io.ReadAll(io.LimitReader(out, min(size, source.MostBytes+1)))
		if err == nil {
			_, err = io.CopyN(io.Discard, out, size-int64(len(data))+1) // and the line break behind it
		}
		if err != nil {
			return &Error{"cannot be read: " + f.path + " ends early", ""}
		}
		if total += len(data); total > source.MostTotal {
			return &Error{fmt.Sprintf("cannot be read: its folder holds more than %d MiB of Markdown", source.MostTotal>>20), "name another revision"}
		}
		return use(f, data)
	}
	for _, f := range list {
		if err = next(f); err != nil {
			break
		}
	}
	if err != nil { // what is left of it is wanted by nobody
		_ = cmd.Process.Kill()
	}
	ended := cmd.Wait()
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case err != nil:
		return err
	case ended != nil:
		return t.unread(ctx, said.String())
	}
	return nil
}
