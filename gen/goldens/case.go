package goldens

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// CaseFile is the name of the file that makes a folder a case.
const CaseFile = "case.yaml"

// expected is the folder beside it that holds the expected result.
const expected = "expected"

// Case is one plan through one family, and the result that is expected.
type Case struct {
	Folder string // with the case's files
	Plan   string // the plan's file
	Family string // a shipped family's name, or a folder
	Set    []string
	Place  diag.Place
}

// Expected is the folder of the recorded programs.
func (c *Case) Expected() string { return filepath.Join(c.Folder, expected) }

// Find reads every case in a folder and below, in the order of their names. A case
// with an error is reported to list and left out. The error is that of reading the
// folder itself.
func Find(folder string, list *diag.List, src *diag.Sources) ([]Case, error) {
	var cases []Case
	err := filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || d.Name() != CaseFile {
			return err
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		name := filepath.ToSlash(path)
		src.Add(name, data)
		if c, ok := readCase(name, data, list); ok {
			cases = append(cases, c)
		}
		return nil
	})
	if err == nil && len(cases) == 0 && !list.HasErrors() {
		err = fmt.Errorf("%s holds no case: a case is a folder with a file %q", folder, CaseFile)
	}
	return cases, err
}

const caseFormat = "gridferry case 1"

func readCase(file string, data []byte, list *diag.List) (Case, bool) {
	before := list.Len()
	root, ok := decode.File(file, data, list)
	if !ok {
		return Case{}, false
	}
	var plan, family decode.Value[string]
	folder := filepath.Dir(filepath.FromSlash(file))
	c := Case{Folder: folder, Place: diag.Place{File: file}}
	caseForm(&plan, &family, &c.Set).Read(&decode.Reader{List: list}, root)
	c.Plan, c.Family = filepath.Join(folder, filepath.FromSlash(plan.V)), family.V
	if filepath.Base(family.V) != family.V || family.V == "." || family.V == ".." {
		c.Family = "." + string(filepath.Separator) + filepath.Join(folder, filepath.FromSlash(family.V))
		if filepath.IsAbs(folder) {
			c.Family = filepath.Join(folder, filepath.FromSlash(family.V))
		}
	}
	return c, list.Len() == before
}

// CaseForm is a case's file by its table of keys. What it reads is kept nowhere.
func CaseForm() decode.Form { return caseForm(nil, nil, new([]string)) }

func caseForm(plan, family *decode.Value[string], set *[]string) decode.Form {
	return decode.Object{What: "a case", Keys: []decode.Key{
		decode.FirstLine(caseFormat, "case"),
		decode.Must("plan", "The plan's file, beside this one.", decode.Text(plan)),
		decode.Must("family", "A family's folder, or a shipped family's name.", decode.Text(family)),
		decode.May("set", "Values by path, such as `grids.tray.rows=5`.", decode.List{What: "settings", Each: func() decode.Form {
			var setting decode.Value[string]
			return decode.Then(decode.Text(&setting), func(*decode.Reader, decode.Node) { *set = append(*set, setting.V) })
		}}),
	}}
}
