package gen

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"

	"gridferry/gen/family"
	"gridferry/gen/seal"
	"gridferry/plan/diag"
)

// MayReplace tells whether a program may take the place of what stands there
// under its name: of nothing, or of a program that Gridferry sealed and nobody
// changed since. Otherwise list says what to do.
func MayReplace(f *family.Family, name string, list *diag.List) (bool, error) {
	file, err := standing(name)
	if file == nil {
		return err == nil, err
	}
	defer file.Close()
	in, err := seal.Inspect(file, &f.Rules)
	if err != nil || in.State == seal.Whole {
		return err == nil, err
	}
	at := diag.Place{File: name}
	hint := "\"gridferry verify\" tells what differs; \"--replace\" writes the new program and keeps this file beside it"
	switch {
	case in.State == seal.Changed:
		list.Errorf("changed-by-hand", at, "the program was changed by hand since Gridferry %s wrote it, and is not replaced", in.Seal.Version).WithHint("%s", hint)
	case !seal.Fits(&f.Rules):
		list.Errorf("not-sealed", at, "a file of that name is there, and since this family has no comments for a seal, nothing tells whether somebody changed it").WithHint("%s", hint)
	default:
		list.Errorf("not-sealed", at, "a file of that name is there that holds no seal of Gridferry, and is not replaced").WithHint("%s", hint)
	}
	return false, nil
}

// standing opens the file that stands under a name; nil for none.
func standing(name string) (*os.File, error) {
	file, err := os.Open(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, err
	}
	return file, nil
}

// Page is a kind of file that is written under a name of somebody's choice.
type Page struct {
	What string                 // for people
	Ours func(head []byte) bool // tells from a file's first bytes, with line feeds, whether it is of the kind
}

// headSize is enough of a file to know its kind by.
const headSize = 4 << 10

// MayReplacePage tells whether a page may take the place of what stands there under its
// name: of nothing, or of one of its own kind. Otherwise list says what to do.
func MayReplacePage(name string, page Page, list *diag.List) (bool, error) {
	file, err := standing(name)
	if file == nil {
		return err == nil, err
	}
	defer file.Close()
	head, err := io.ReadAll(io.LimitReader(file, headSize))
	if err != nil {
		return false, err
	}
	if page.Ours(bytes.ReplaceAll(head, []byte("\r\n"), []byte("\n"))) {
		return true, nil
	}
	list.Errorf("not-ours", diag.Place{File: name}, "a file of that name is there that is no %s by Gridferry, and is not replaced", page.What).
		WithHint("name another place, or say \"--replace\", which keeps this file beside the new one")
	return false, nil
}
