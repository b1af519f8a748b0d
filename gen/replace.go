package gen

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"gridferry/gen/family"
	"gridferry/gen/family/rules"
	"gridferry/gen/seal"
	"gridferry/plan/diag"
)

// mayReplace reports whether a new file may replace what has its name now. If not, list
// says what to do.
type mayReplace func(name string, list *diag.List) (bool, error)

// fileAt is the place of a file as a whole, by a name that the system gave.
func fileAt(name string) diag.Place { return diag.Place{File: filepath.ToSlash(name)} }

// mayReplaceProgram is true for a program that Gridferry sealed and nobody changed since,
// and where there is no file.
func mayReplaceProgram(f *family.Family, name string, list *diag.List) (bool, error) {
	file, err := existing(name)
	if file == nil {
		return err == nil, err
	}
	defer file.Close()
	in, err := inspectNamed(name, file, &f.Rules)
	if err != nil || in.State == seal.Whole {
		return err == nil, err
	}
	at := fileAt(name)
	hint := "\"gridferry verify\" shows the differences; \"--replace\" writes the new program and keeps this file beside it"
	switch {
	case in.State == seal.Changed:
		list.Errorf("changed-by-hand", at, "the program was changed by hand since Gridferry %s wrote it, and is not replaced", in.Seal.Version).WithHint("%s", hint)
	case !seal.Fits(&f.Rules):
		list.Errorf("not-sealed", at, "a file of that name exists; programs of this family carry no seal, so nothing shows whether it was changed by hand").WithHint("%s", hint)
	default:
		list.Errorf("not-sealed", at, "a file of that name exists without a seal of Gridferry, and is not replaced").WithHint("%s", hint)
	}
	return false, nil
}

// inspectNamed looks at the seal of a file; an error about its lines names it.
func inspectNamed(name string, text io.ReadSeeker, rules *rules.Rules) (seal.Inspection, error) {
	in, err := seal.Inspect(text, rules)
	if errors.Is(err, seal.ErrLongLine) {
		err = fmt.Errorf("%s: %w", name, err)
	}
	return in, err
}

// existing opens the file of a name; nil for none.
func existing(name string) (*os.File, error) {
	file, err := os.Open(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, err
	}
	return file, nil
}

// headSize is as many bytes as show the kind of a file.
const headSize = 4 << 10

// mayReplacePage is true for a page of the same kind, and where there is no file.
func (p *Page) mayReplacePage(name string, list *diag.List) (bool, error) {
	file, err := existing(name)
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
	list.Errorf("not-ours", fileAt(name), "a file of that name exists that is not a %s by Gridferry, and is not replaced", p.what).
		WithHint("choose another name, or use \"--replace\", which keeps this file beside the new one")
	return false, nil
}
