package out

import (
	"errors"
	"io/fs"
	"os"
	"strings"
	"syscall"
	"testing"
)

// TestUnwritable: a folder is named as a folder, a full disk by the file that has no
// room, and a file in the way of a folder as that.
func TestUnwritable(t *testing.T) {
	failed := func(err error) error {
		return &fs.PathError{Op: "open", Path: "ro/.gridferry-3546694134.tmp", Err: err}
	}
	for want, err := range map[string]error{
		`the folder "ro" cannot be written: ` + syscall.EACCES.Error() + `: name another folder, or have somebody open this one to you`: unwritable("ro", "ro/a.nc", failed(syscall.EACCES)),
		`the folder "ro" cannot be written: ` + syscall.EROFS.Error() + ": ":                                                            unwritable("ro", "ro/a.nc", failed(syscall.EROFS)),
		`open ro/a.nc: ` + full[0].Error() + `: there is no room for the new file`:                                                      unwritable("ro", "ro/a.nc", failed(full[0])),
	} {
		if !strings.HasPrefix(err.Error(), want) || strings.Contains(err.Error(), ".tmp") {
			t.Errorf("wanted %q, got %v", want, err)
		}
	}
	if err := unwritable("ro", "ro/a.nc", failed(syscall.EACCES)); !errors.Is(err, fs.ErrPermission) {
		t.Errorf("the reason is lost: %v", err)
	}
	t.Chdir(t.TempDir())
	if err := os.WriteFile("taken", nil, 0o666); err != nil {
		t.Fatal(err)
	}
	b := NewBatch()
	defer b.Discard()
	for _, name := range []string{"taken/a.nc", "taken/deep/er/a.nc"} {
		if err := b.AddText(name, "x"); err == nil || err.Error() != `"taken" is a file, wanted a folder to write to: name another one` {
			t.Errorf("%s: %v", name, err)
		}
	}
}
