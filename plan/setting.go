package plan

import (
	"fmt"
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
	Name    string
	Usage   string // what it does, for the help
	Example string
	adds    bool // to what the plan says; otherwise the first takes its place
}

// ShortForms are all there are.
var ShortForms = []ShortForm{
	{"missing", "slots that are not there, beside those of the plan", "tray B3", true},
	{"filled", "slots that hold a part when the job begins, in place of those of the plan", "tray A1:B6", false},
}

// Setting reads "GRID SLOTS".
func (f *ShortForm) Setting(text string) (s Setting, ok bool) {
	grid, value, ok := strings.Cut(strings.TrimSpace(text), " ")
	return Setting{Path: grid, Value: strings.TrimSpace(value), short: f}, ok
}

// Wanted is how a short form is written.
func (f *ShortForm) Wanted() string {
	return fmt.Sprintf("a grid and its slots, such as %q", f.Example)
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

// SettingText is what stands behind a flag, in the order of which nothing matters but for
// "--set": there its number is part of it. Other files have none.
func SettingText(file, text string) (_ string, ok bool) {
	flag, _, ok := strings.Cut(file, "[")
	switch {
	case ok && flag == "--set":
		return file + text, true
	case ok && isShortForm(strings.TrimPrefix(flag, "--")) && strings.HasPrefix(flag, "--"):
		return flag + text, true
	}
	return "", false
}

func isShortForm(name string) bool {
	return slices.ContainsFunc(ShortForms, func(f ShortForm) bool { return f.Name == name })
}

// changeShort applies the short forms, after all other settings: what is broken on the
// bench is so in every variant.
func (r *reader) changeShort(root decode.Node, settings []Setting, files []string) {
	said := map[Setting]bool{} // of which grid a form has said something
	for i, s := range settings {
		if s.short != nil && !r.List.Full() {
			before := Setting{Path: s.Path, short: s.short}
			said[before] = r.changeGrid(root, s, files[i], s.short.adds || said[before]) || said[before]
		}
	}
}

// changeGrid writes a short form into its grid.
func (r *reader) changeGrid(root decode.Node, s Setting, file string, more bool) bool {
	r.given[file] = true
	r.sources.Add(file, []byte(s.text()))
	grids := root.Child("grids")
	if !decode.IsMap(grids) {
		return false // which is said elsewhere
	}
	if grids.Child(s.Path).IsZero() {
		at := diag.Place{File: file, Line: 1, Col: 1, Width: utf8.RuneCountInString(s.Path)}
		var known []string
		for _, e := range grids.Entries() {
			known = append(known, e.Key.Text())
		}
		decode.Unknown(r.List, "grid", Text{V: s.Path, Place: at}, known)
		return false
	}
	return root.Put([]string{"grids", s.Path, s.short.Name}, s.Value, file, utf8.RuneCountInString(s.Path)+2, more, r.List)
}
