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
	file, err := os.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return true, nil
	}
	if err != nil {
		return false, err
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

// MayReplacePage tells whether a picture or a sheet may take the place of what stands
// there under its name: of nothing, or of one of its own kind, which begins with head.
// Otherwise list says what to do. What is a word for the kind.
func MayReplacePage(name, what, head string, list *diag.List) (bool, error) {
	file, err := os.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return true, nil
	}
	if err != nil {
		return false, err
	}
	defer file.Close()
	begins, err := io.ReadAll(io.LimitReader(file, int64(2*len(head)))) // line ends may have grown
	if err != nil {
		return false, err
	}
	if bytes.HasPrefix(bytes.ReplaceAll(begins, []byte("\r\n"), []byte("\n")), []byte(head)) {
		return true, nil
	}
	list.Errorf("not-ours", diag.Place{File: name}, "a file of that name is there that is no %s by Gridferry, and is not replaced", what).
		WithHint("name another file, or say \"--replace\", which keeps this one beside the new %s", what)
	return false, nil
}
