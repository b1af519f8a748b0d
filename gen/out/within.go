package out

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Within has the batch follow no link below a folder: whoever named it did not name where
// a link in it leads.
func (b *Batch) Within(folder string) { b.within = folder }

// followsNoLink is an error if a folder between that of Within and a file is a link, or
// something else that is no folder.
func (b *Batch) followsNoLink(name string) error {
	if b.within == "" {
		return nil
	}
	top := filepath.Clean(b.within)
	for folder := filepath.Dir(name); folder != top; {
		info, err := os.Lstat(folder)
		switch {
		case err == nil && !info.IsDir():
			return fmt.Errorf("%s is a link or a file, wanted a folder, and nothing is written there: move it away", folder)
		case err != nil && !errors.Is(err, fs.ErrNotExist):
			return err
		}
		up := filepath.Dir(folder)
		if up == folder {
			return fmt.Errorf("%s is not in the folder %q", name, top)
		}
		folder = up
	}
	return nil
}
