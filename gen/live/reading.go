package live

import (
	"os"
	"path/filepath"
	"unicode/utf8"

	"gridferry/gen/version"
)

// reading is a plan as it was read once: a version of its texts, and what became of them.
type reading struct {
	*version.Version
	version string // the digest of all texts
	job     Job
}

// reads makes readings of one plan.
type reads struct {
	flow Flow
	name string // of the plan
}

// of reads the plan, and what it names; some texts, by the names of their files, take the place of what the disk has. The
// error is that of reading the plan itself.
func (r *reads) of(drafts map[string]string) (*reading, error) {
	texts, err := version.Open(r.name, drafts)
	if err != nil {
		return nil, err
	}
	job := r.flow.Read(texts.Source())
	return &reading{texts, texts.Digest(), job}, nil
}

// longestShown is the most bytes of a text that a page gets: nobody edits more by hand.
const longestShown = 2 << 20

// whole reports whether a page can have the text of a file.
func whole(f *version.File) bool {
	return f.Err == nil && len(f.Text) <= longestShown && utf8.ValidString(f.Text)
}

// writable reports whether a page may save the file.
func writable(f *version.File) bool {
	info, err := os.Lstat(filepath.FromSlash(f.Name))
	return whole(f) && (err != nil || info.Mode().IsRegular() && info.Mode().Perm()&0o200 != 0)
}
