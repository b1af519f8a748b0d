package live

import (
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/fsnotify/fsnotify"
)

// watch says when one of some files may have changed. It watches their folders, since editors put a new file in the old
// one's place; and it looks at the files themselves now and then, since some disks of other computers report nothing.
type watch struct {
	*fsnotify.Watcher
	files map[string]stamp // by their full names, and those of what their links lead to
}

// stamp is by what a file is known to be the same.
type stamp struct {
	size int64 // -1 where there is none
	at   time.Time
}

func newWatch() (*watch, error) {
	w, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, err
	}
	return &watch{Watcher: w}, nil
}

// follow has the watch follow these files, and no others, whether they are there or not. It reports whether that is more
// than before: what happened to them until now went unseen.
func (w *watch) follow(names []string) (more bool) {
	before, folders := w.files, map[string]bool{}
	w.files = map[string]stamp{}
	for _, name := range names {
		for _, full := range placesOf(name) {
			w.files[full] = stampOf(full)
			folders[standing(filepath.Dir(full))] = true
			if _, had := before[full]; !had {
				more = true
			}
		}
	}
	for _, folder := range w.WatchList() {
		if !folders[folder] {
			_ = w.Remove(folder) // it may be gone
		}
	}
	for folder := range folders {
		_ = w.Add(folder) // where that fails, changed finds what happens
	}
	return more
}

// concerns reports whether an event may have to do with one of the files: with itself, or with a folder above.
func (w *watch) concerns(e fsnotify.Event) bool {
	if e.Op == fsnotify.Chmod {
		return false
	}
	for file := range w.files {
		if file == e.Name || strings.HasPrefix(file, e.Name+string(filepath.Separator)) {
			return true
		}
	}
	return false
}

// changed reports whether a file is another one than it was.
func (w *watch) changed() bool {
	for file, was := range w.files {
		if now := stampOf(file); now.size != was.size || !now.at.Equal(was.at) {
			return true
		}
	}
	return false
}

func stampOf(file string) stamp {
	info, err := os.Stat(file)
	if err != nil {
		return stamp{size: -1}
	}
	return stamp{info.Size(), info.ModTime()}
}

// placesOf is the full name of a file and, where links lead elsewhere, that of what they lead to.
func placesOf(name string) []string {
	full, err := filepath.Abs(filepath.FromSlash(name))
	if err != nil {
		return nil
	}
	if real, err := filepath.EvalSymlinks(full); err == nil && real != full {
		return []string{full, real}
	}
	return []string{full}
}

// standing is the nearest folder above that is there.
func standing(folder string) string {
	for {
		if info, err := os.Stat(folder); err == nil && info.IsDir() {
			return folder
		}
		up := filepath.Dir(folder)
		if up == folder {
			return folder
		}
		folder = up
	}
}
