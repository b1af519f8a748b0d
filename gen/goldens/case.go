package goldens

import (
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"gridferry/plan"
	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// CaseFile is the name of the file that makes a folder a case.
const CaseFile = "case.yaml"

// expected is the folder beside it that holds the expected result.
const expected = "expected"

// Case is one plan through one family, and the result that is expected.
type Case struct {
	Folder   string // with the case's files
	Settings []plan.Setting
	Place    diag.Place

	text         []byte
	plan, family decode.Value[string]
	within, at   string // nothing outside the first folder is read; at is the case's, below it
}

// Expected is the folder of the recorded programs.
func (c *Case) Expected() string { return filepath.Join(c.Folder, expected) }

// Find reads every case in a folder and below, in the order of their names. A case
// with an error is reported to list and left out. The error is that of reading the
// folder itself.
func Find(folder string, list *diag.List, src *diag.Sources) ([]Case, error) {
	root, err := os.OpenRoot(folder)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	var cases []Case
	err = fs.WalkDir(root.FS(), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || d.Name() != CaseFile {
			return err
		}
		if c, ok := readCase(folder, path.Dir(name), list, src); ok {
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

func readCase(within, at string, list *diag.List, src *diag.Sources) (Case, bool) {
	before := list.Len()
	c := Case{Folder: filepath.Join(within, filepath.FromSlash(at)), within: within, at: at}
	c.Place.File = filepath.ToSlash(filepath.Join(c.Folder, CaseFile))
	var err error
	if c.text, err = plan.ReadWithin(within, path.Join(at, CaseFile)); err != nil {
		list.Errorf("case-unreadable", c.Place, "the case cannot be read: %v", err)
		return c, false
	}
	src.Add(c.Place.File, c.text)
	if root, ok := decode.File(c.Place.File, string(c.text), list); ok {
		caseForm(&c.plan, &c.family, &c.Settings).Read(&decode.Reader{List: list}, root)
	}
	return c, list.Len() == before
}

// Open reads the plan, and gives the family's name or folder. What lies outside the
// folder that was searched, or is no plain file, is reported to list and not read.
func (c *Case) Open(list *diag.List, src *diag.Sources) (source plan.Source, family string, ok bool) {
	source.Data, ok = c.read("plan", c.plan, "", list, src)
	file := filepath.Join(c.Folder, filepath.FromSlash(c.plan.V))
	source.File, source.Dir = filepath.ToSlash(file), filepath.Dir(file)
	if !strings.ContainsAny(c.family.V, `/\.`) {
		return source, c.family.V, ok // a shipped one
	}
	_, found := c.read("family", c.family, "family.yaml", list, src)
	family = filepath.Join(c.Folder, filepath.FromSlash(c.family.V))
	if !filepath.IsAbs(family) {
		family = "." + string(filepath.Separator) + family
	}
	return source, family, ok && found
}

// read reads a file that the case names, or that lies in a folder which it names.
func (c *Case) read(what string, name decode.Value[string], file string, list *diag.List, src *diag.Sources) ([]byte, bool) {
	below := path.Join(c.at, name.V, file)
	if filepath.IsAbs(name.V) {
		below = name.V
	}
	data, err := plan.ReadWithin(c.within, below)
	if err != nil {
		src.Add(c.Place.File, c.text) // only now: a program is sealed with all sources, and this is none of its
		list.Errorf(what+"-unreadable", name.Place, "the %s %q cannot be read: %v", what, name.V, err).
			WithHint("golden reads nothing outside the folder that it is given, %q, and follows no link out of it: name a folder that holds the case, its plan and its family", filepath.ToSlash(c.within))
	}
	return data, err == nil
}

// CaseForm is a case's file by its table of keys. What it reads is kept nowhere.
func CaseForm() decode.Form { return caseForm(nil, nil, new([]plan.Setting)) }

func caseForm(name, family *decode.Value[string], settings *[]plan.Setting) decode.Form {
	// given reads texts that a flag of other commands takes.
	given := func(read func(string) (plan.Setting, bool), wanted string) decode.Form {
		return decode.List{What: "settings", Each: func() decode.Form {
			var text decode.Value[string]
			return decode.Then(decode.Text(&text), func(r *decode.Reader, _ decode.Node) {
				setting, ok := read(text.V)
				if text.IsSet() && !ok {
					r.List.Errorf("bad-setting", text.Place, "found %q, wanted %s", text.V, wanted)
				}
				*settings = append(*settings, setting)
			})
		}}
	}
	keys := []decode.Key{
		decode.FirstLine(caseFormat, "case"),
		decode.Must("plan", "The plan's file, beside this one.", decode.Text(name)),
		decode.Must("family", "A family's folder, or a shipped family's name.", decode.Text(family)),
		decode.May("set", "Values by path, such as `grids.tray.rows=5`.", given(plan.NewSetting, plan.SetForm)),
	}
	for _, short := range plan.OfSlots() { // a file would lie anywhere
		keys = append(keys, decode.May(short.Name, fmt.Sprintf("As the flag of that name: `%s`.", short.Example), given(short.Setting, short.Wanted())))
	}
	return decode.Object{What: "a case", Keys: keys}
}
