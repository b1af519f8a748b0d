package gen

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// planEnds are the ends of the names of plans in a folder.
var planEnds = []string{".plan.yaml", ".plan.yml", ".plan.json"}

// PlanFiles finds plans. A name that ends in "/..." or is that of a folder stands for all plans in
// the folder and below, in the order of their names; what is hidden and node_modules are left out.
// A file or a folder that is reached in several ways, as through links, is taken once.
func PlanFiles(names []string) ([]string, error) {
	f := finder{seen: map[string]bool{}}
	for _, name := range names {
		folder, all := Below(name)
		if !all {
			if _, err := os.Stat(name); err != nil {
				return nil, err
			}
			f.add(name)
			continue
		}
		before := len(f.files)
		if err := f.below(folder); err != nil {
			return nil, err
		}
		if len(f.files) == before && !f.again {
			return nil, fmt.Errorf("there is no plan in %q: a plan's name ends in %s", name, strings.Join(planEnds, ", "))
		}
	}
	return f.files, nil
}

// Below reports whether a name stands for all plans in a folder, and names the folder.
func Below(name string) (folder string, all bool) {
	if folder, all = strings.CutSuffix(filepath.ToSlash(name), "/..."); all {
		if folder == "" {
			folder = "/"
		}
		return folder, true
	}
	if name == "..." {
		return ".", true
	}
	info, err := os.Stat(name)
	return name, err == nil && info.IsDir()
}

// finder goes through folders.
type finder struct {
	files []string
	seen  map[string]bool // files and folders, by their real names
	again bool            // something was met that had been met before
	links []string        // to be followed when the folders have been gone through
}

// below finds the plans of a folder. What is reached by a link comes last, so that a plan has the
// name of the place where it lies, if that is in the folder as well.
func (f *finder) below(folder string) error {
	f.again = false
	before := len(f.files)
	if err := f.walk(folder + string(filepath.Separator)); err != nil {
		return err
	}
	for len(f.links) > 0 {
		link := f.links[0]
		f.links = f.links[1:]
		if err := f.follow(link, folder); err != nil {
			return err
		}
	}
	slices.Sort(f.files[before:])
	return nil
}

// walk goes through a folder, whose name ends in a separator so that it may be a link, and notes
// the links in it.
func (f *finder) walk(folder string) error {
	return filepath.WalkDir(folder, func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.Type()&fs.ModeSymlink != 0 && name != folder:
			f.links = append(f.links, name)
		case d.IsDir() && (name != folder && leftOut(name) || !f.first(name)):
			return fs.SkipDir
		case d.Type().IsRegular() && isPlan(name):
			f.add(name)
		}
		return nil
	})
}

// follow goes where a link leads: a plan, or a folder unless the link lies in it. One that leads
// nowhere is somebody else's business, but for one that has the name of a plan.
func (f *finder) follow(link, folder string) error {
	info, err := os.Stat(link)
	switch {
	case err != nil && isPlan(link), err == nil && info.Mode().IsRegular() && isPlan(link):
		f.add(link)
	case err == nil && info.IsDir() && !leftOut(link) && !holds(link, folder):
		return f.walk(link + string(filepath.Separator))
	}
	return nil
}

// holds reports whether a link leads to a folder that the other one is in.
func holds(link, folder string) bool {
	below, err := filepath.Rel(realName(link), realName(folder))
	return err == nil && below != ".." && !strings.HasPrefix(below, ".."+string(filepath.Separator))
}

func (f *finder) add(file string) {
	if f.first(file) {
		f.files = append(f.files, filepath.Clean(file))
	}
}

// first reports whether a file or a folder has not been met, and notes that it has.
func (f *finder) first(name string) bool {
	real := realName(name)
	was := f.seen[real]
	f.seen[real], f.again = true, f.again || was
	return !was
}

// realName is the name without links, the same for all names of one file.
func realName(name string) string {
	if real, err := filepath.EvalSymlinks(name); err == nil {
		name = real
	}
	if absolute, err := filepath.Abs(name); err == nil {
		name = absolute
	}
	return name
}

// leftOut reports whether what has a name is not looked at.
func leftOut(name string) bool {
	base := filepath.Base(name)
	return base == "node_modules" || strings.HasPrefix(base, ".")
}

func isPlan(name string) bool {
	return !leftOut(name) && slices.ContainsFunc(planEnds, func(end string) bool { return strings.HasSuffix(name, end) })
}
