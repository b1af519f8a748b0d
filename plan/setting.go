package plan

import (
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"unicode/utf8"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// Setting is a value changed before the plan is read: "--set PATH=VALUE", or a short form
// of it for what a person finds at the bench.
type Setting struct {
	Path  string // of a short form: the grid's name
	Value string
	Place diag.Place // of the variant that says so; none for a flag

	short *ShortForm // nil for "--set"
}

// SetForm is how "--set" is written.
const SetForm = "PATH=VALUE"

// NewSetting reads PATH=VALUE.
func NewSetting(text string) (s Setting, ok bool) {
	s.Path, s.Value, ok = strings.Cut(text, "=")
	return s, ok
}

// ShortForm is a flag for one key of a grid, which is also the flag's name. What it says is
// of that grid alone, even where the plan shares the value with another one.
type ShortForm struct {
	Name     string
	Usage    string // what it does, for the help
	Example  string
	Of       string   // what stands behind the grid's name
	adds     bool     // to what the plan says; otherwise the first takes its place
	once     bool     // a grid has one
	replaces []string // further keys of the grid, of which the plan's values go
}

// ShortForms are all there are, in the order in which they are applied.
var ShortForms = []ShortForm{
	{Name: "contents", Usage: "CSV file that says which part is which, in place of what the plan says", Example: "tray samples.csv", Of: "file", once: true, replaces: []string{"filled"}},
	{Name: "missing", Usage: "slots that are not there, beside those of the plan", Example: "tray B3", Of: "slots", adds: true},
	{Name: "filled", Usage: "slots that hold a part when the job begins, in place of those of the plan", Example: "tray A1:B6", Of: "slots"},
}

// OfSlots are the short forms that name no file.
func OfSlots() []*ShortForm {
	var forms []*ShortForm
	for i := range ShortForms {
		if f := &ShortForms[i]; f.Of == "slots" {
			forms = append(forms, f)
		}
	}
	return forms
}

// Setting reads "GRID SLOTS", or "GRID FILE".
func (f *ShortForm) Setting(text string) (s Setting, ok bool) {
	grid, value, ok := strings.Cut(strings.TrimSpace(text), " ")
	return Setting{Path: grid, Value: strings.TrimSpace(value), short: f}, ok
}

// Wanted is how a short form is written.
func (f *ShortForm) Wanted() string {
	return fmt.Sprintf("a grid and its %s, such as %q", f.Of, f.Example)
}

// text is a setting as a command line has it.
func (s Setting) text() string {
	if s.short != nil {
		return s.Path + " " + s.Value
	}
	return s.Path + "=" + s.Value
}

// SettingFiles is what findings call the texts of settings, such as "--set[1]".
func SettingFiles(settings []Setting) []string {
	files, seen := make([]string, len(settings)), map[string]int{}
	for i, s := range settings {
		flag := "set"
		if s.short != nil {
			flag = s.short.Name
		}
		seen[flag]++
		files[i] = fmt.Sprintf("--%s[%d]", flag, seen[flag])
	}
	return files
}

// IsSetting reports whether a file is what stands behind a flag.
func IsSetting(file string) bool {
	flag, _, _ := strings.Cut(file, "[")
	return flag == "--set" || isShortForm(file)
}

// SettingText is what a setting changes, in a form in which nothing else shows: the order
// of flags matters for "--set" alone, so there its number is part of it.
func SettingText(file, text string) string {
	flag, _, _ := strings.Cut(file, "[")
	if flag == "--set" {
		return file + text
	}
	if flag == "--contents" {
		text, _, _ = strings.Cut(text, " ") // what the file holds is among the sources, wherever it lies
	}
	return flag + text
}

// Typed reports whether something was said by a short form.
func Typed(at diag.Place) bool { return isShortForm(at.File) }

// isShortForm reports whether a file is the text of a short form.
func isShortForm(file string) bool {
	flag, _, ok := strings.Cut(file, "[")
	return ok && slices.ContainsFunc(ShortForms, func(f ShortForm) bool { return "--"+f.Name == flag })
}

// changeShort applies the short forms, after all other settings: what is broken on the
// bench is so in every variant.
func (r *reader) changeShort(root decode.Node, settings []Setting, files []string) {
	said := map[Setting]string{} // by grid and form, the first that changed it
	for i := range ShortForms {
		for k, s := range settings {
			if s.short != &ShortForms[i] || r.List.Full() {
				continue
			}
			about := Setting{Path: s.Path, short: s.short}
			if first := said[about]; first != "" && s.short.once {
				r.sources.Add(files[k], []byte(s.text()))
				r.List.Errorf("said-twice", placeIn(files[k], 1, s.Path), "the %s of %q are given already", s.short.Name, s.Path).
					WithNote(placeIn(first, 1, s.Path), "they are given here").WithHint("keep one of the two")
			} else if r.changeGrid(root, s, files[k], s.short.adds || first != "") && first == "" {
				said[about] = files[k]
			}
		}
	}
}

// placeIn is where a word stands in the text of a flag.
func placeIn(file string, col int, word string) diag.Place {
	return diag.Place{File: file, Line: 1, Col: col, Width: utf8.RuneCountInString(word)}
}

// changeGrid writes a short form into its grid; false where that cannot be done.
func (r *reader) changeGrid(root decode.Node, s Setting, file string, more bool) bool {
	r.given[file] = true
	r.sources.Add(file, []byte(s.text()))
	grids := root.Child("grids")
	if !decode.IsMap(grids) {
		return false // which is said elsewhere
	}
	if grids.Child(s.Path).IsZero() {
		var known []string
		for _, e := range grids.Entries() {
			known = append(known, e.Key.Text())
		}
		decode.Unknown(r.List, "grid", Text{V: s.Path, Place: placeIn(file, 1, s.Path)}, known)
		return false
	}
	for _, key := range s.short.replaces {
		root.Drop("grids", s.Path, key)
	}
	return root.Put([]string{"grids", s.Path, s.short.Name}, s.Value, file, utf8.RuneCountInString(s.Path)+2, more, r.List)
}

// readTyped reads a file that a flag names, as the person who typed it sees it: from the present
// folder, and wherever it lies.
func readTyped(name string) ([]byte, error) {
	if name == "-" {
		return nil, errors.New("a table is not read from standard input")
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, reason(err)
	}
	defer f.Close()
	if err := regular(f); err != nil {
		return nil, err
	}
	return readAtMost(f)
}
