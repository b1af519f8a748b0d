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

// objection tells whether a new file may take the place of what stands under its name.
// Otherwise list says what to do.
type objection func(name string, list *diag.List) (bool, error)

// mayReplaceProgram: a program takes the place of nothing, or of a program that
// Gridferry sealed and nobody changed since.
func mayReplaceProgram(f *family.Family, name string, list *diag.List) (bool, error) {
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

// headSize is enough of a file to know its kind by.
const headSize = 4 << 10

// mayReplace: a page takes the place of nothing, or of one of its own kind.
func (p *Page) mayReplace(name string, list *diag.List) (bool, error) {
	file, err := standing(name)
	if file == nil {
		return err == nil, err
	}
	defer file.Close()
	head, err := io.ReadAll(io.LimitReader(file, headSize))
	if err != nil {
		return false, err
	}
	if p.ours(bytes.ReplaceAll(head, []byte("\r\n"), []byte("\n"))) {
		return true, nil
	}
	list.Errorf("not-ours", diag.Place{File: name}, "a file of that name is there that is no %s by Gridferry, and is not replaced", p.what).
		WithHint("name another place, or say \"--replace\", which keeps this file beside the new one")
	return false, nil
}
