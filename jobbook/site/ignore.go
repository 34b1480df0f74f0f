package site

// ignoreName is the file by which git passes over a folder. A book can be made again from its job, so it is kept out of version control unless somebody says otherwise.
const ignoreName = ".gitignore"

// ignoreAll passes over everything in the folder, this file included.
const ignoreAll = "*\n"

// ignores reports whether the file that keeps git out is ours to write: it is not there, or as we wrote it. One that somebody edited, an empty one for example, stays as it is and is theirs from then on.
func (c *change) ignores(d *disk) (bool, error) {
	k, err := d.kind(ignoreName)
	if err != nil || k != regular {
		return k == absent, err
	}
	data, err := d.read(ignoreName)
	return err == nil && c.before.has(ignoreName, hash(data)), err
}
