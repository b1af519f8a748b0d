package family

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"gridferry/plan/diag"
)

const smallRules = `format: gridferry family 1
title: small
extension: .txt
decimals: {length: 3, angle: 3, time: 2, speed: 1, mass: 2}
speed_unit: mm/s
comment: {open: "(", close: ")"}
coordinates: base
rotation: fixed-xyz
cannot: {select: no, straight: no, grip: no, release: no, set: no, await: no, dwell: no, note: no}
`

const smallBlocks = `{{define "begin"}}
{{comment .Title}}
{{end}}
{{define "end"}}
end
{{end}}
`

// small is a family that loads, with one block of the test's own.
func small(travel string) fstest.MapFS {
	return fstest.MapFS{
		"family.yaml": {Data: []byte(smallRules)},
		"a.tmpl":      {Data: []byte(smallBlocks)},
		"b.tmpl":      {Data: []byte(travel)},
	}
}

// loadFound loads a family and gives what was found, a line each.
func loadFound(fsys fs.FS) (*Family, []string) {
	var list diag.List
	f, ok := Load(fsys, "fam", &list, new(diag.Sources))
	var found []string
	for _, finding := range list.Sorted() {
		found = append(found, fmt.Sprintf("%s %s", finding.Place, finding.Rule))
	}
	if ok != (len(found) == 0) {
		found = append(found, "Load's answer does not agree with its findings")
	}
	return f, found
}

func TestLint(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"fine", `{{define "travel"}}X{{.X}} {{comment .Target}}{{end}}`, ""},
		{"missing block", `{{/* nothing */}}`, `fam/family.yaml missing-block`},
		{"syntax", "{{define \"travel\"}}\nX{{.X}\n{{end}}", `fam/b.tmpl:2:2 template-syntax`},
		{"not closed", "{{define \"travel\"}}\nX{{.X}}\n", `fam/b.tmpl:1:1 template-syntax`},
		{"misspelt block", `{{define "travle"}}{{end}}`, `fam/b.tmpl:1:1 unknown-block`},
		{"another block", `{{define "something"}}{{end}}`, `fam/b.tmpl:1:1 unknown-block, fam/family.yaml missing-block`},
		{"a helper of a misspelt block", `{{define "travle"}}{{template "h" .}}{{end}}{{define "h"}}x{{end}}`, `fam/b.tmpl:1:1 unknown-block`},
		{"defined twice", `{{define "travel"}}x{{end}} {{define "end"}}x{{end}}`, `fam/b.tmpl:1:29 block-twice`},
		{"outside", "\n  G0\n{{define \"travel\"}}x{{end}}", `fam/b.tmpl:2:3 text-outside-block`},
		{"field", "{{define \"travel\"}}\né{{.Zed}}{{end}}", `fam/b.tmpl:2:4 unknown-field`},
		{"field in if", `{{define "travel"}}{{if .Stop}}x{{end}}{{end}}`, `fam/b.tmpl:1:25 unknown-field`},
		{"field of another block", `{{define "travel"}}{{.Seconds}}{{end}}`, `fam/b.tmpl:1:22 unknown-field`},
		{"field in helper", `{{define "travel"}}{{template "h" .}}{{end}}{{define "h"}}{{.Nope}}{{end}}`, `fam/b.tmpl:1:61 unknown-field`},
		{"field of word", `{{define "travel"}}{{.X.Y}}{{end}}`, `fam/b.tmpl:1:24 unknown-field`},
		{"embedded step", `{{define "travel"}}{{.Step.N}}{{end}}`, `fam/b.tmpl:1:27 unknown-field`},
		{"inside of a text", `{{define "travel"}}{{.Target.s}}{{end}}`, `fam/b.tmpl:1:29 unknown-field`},
		{"variable", `{{define "travel"}}{{with $m := .}}{{$m.Zed}}{{end}}{{end}}`, `fam/b.tmpl:1:27 always-true, fam/b.tmpl:1:40 unknown-field`},
		{"dollar", `{{define "travel"}}{{range 2}}{{$.Zed}}{{end}}{{end}}`, `fam/b.tmpl:1:34 unknown-field`},
		{"in brackets", `{{define "travel"}}{{pad 9 (upper .Zed)}}{{end}}`, `fam/b.tmpl:1:35 unknown-field`},
		{"function", `{{define "travel"}}{{uper .X}}{{end}}`, `fam/b.tmpl:1:22 unknown-function`},
		{"format strings", `{{define "travel"}}{{printf "%v" .Target}}{{end}}`, `fam/b.tmpl:1:22 unknown-function`},
		{"calls", `{{define "travel"}}{{call .X}}{{end}}`, `fam/b.tmpl:1:22 unknown-function`},
		{"environment", `{{define "travel"}}{{env "HOME"}}{{end}}`, `fam/b.tmpl:1:22 unknown-function`},
		{"clock", `{{define "travel"}}{{now}}{{end}}`, `fam/b.tmpl:1:22 unknown-function`},
		{"containment's own", `{{define "travel"}}{{emit .X}}{{end}}`, `fam/b.tmpl:1:22 unknown-function`},
		{"condition printed", `{{define "travel"}}{{.Stops}}{{end}}`, `fam/b.tmpl:1:22 not-printable`},
		{"dot printed", `{{define "travel"}}{{.}}{{end}}`, `fam/b.tmpl:1:22 not-printable`},
		{"fraction printed", `{{define "travel"}}{{1.5}}{{end}}`, `fam/b.tmpl:1:22 not-printable`},
		{"text as condition", `{{define "travel"}}{{if .Target}}x{{end}}{{end}}`, `fam/b.tmpl:1:25 always-true`},
		{"template", `{{define "travel"}}{{template "pont" .}}{{end}}`, `fam/b.tmpl:1:31 unknown-template`},
		{"recursion", `{{define "travel"}}{{template "h" .}}{{end}}{{define "h"}}{{template "h" .}}{{end}}`, `fam/b.tmpl:1:70 template-recursion`},
		{"recursion of blocks", `{{define "travel"}}{{template "travel" .}}{{end}}`, `fam/b.tmpl:1:31 template-recursion`},
		{"unused helper", `{{define "travel"}}x{{end}}{{define "h"}}y{{end}}`, `fam/b.tmpl:1:28 unknown-block`},
		{"cannot and does", `{{define "travel"}}x{{end}}{{define "note"}}y{{end}}`, `fam/family.yaml:9:96 cannot-but-defined`},
		{"control character", "{{define \"travel\"}}a\x1bb{{end}}", `fam/b.tmpl:1:21 control-character`},
		{"control character in a word", `{{define "travel"}}{{"\x1b"}}{{end}}`, `fam/b.tmpl:1:22 control-character`},
		{"field of another rotation", `{{define "travel"}}{{.Turn}}{{.QW}}{{.Roll}}{{end}}`, `fam/b.tmpl:1:22 field-not-filled, fam/b.tmpl:1:31 field-not-filled`},
		{"block for parts", `{{define "travel"}}x{{end}}{{define "call"}}y{{end}}`, `fam/b.tmpl:1:28 unused-block`},
		{"reading direction", "{{define \"travel\"}}a\u202eb{{end}}", `fam/b.tmpl:1:21 control-character`},
		{"two mistakes", `{{define "travel"}}{{.A}}{{.B}}{{end}}`, `fam/b.tmpl:1:22 unknown-field, fam/b.tmpl:1:28 unknown-field`},
	} {
		if _, found := loadFound(small(c.text)); strings.Join(found, ", ") != c.want {
			t.Errorf("%s: got %q, want %q", c.name, strings.Join(found, ", "), c.want)
		}
	}
}

func TestRules(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{"title: small\n", "", "fam/family.yaml:1:1 missing-key"},
		{"extension: .txt", "extension: /../x", "fam/family.yaml:3:12 bad-extension"},
		{"family 1", "family 2", "fam/family.yaml:1:9 bad-format"},
		{"speed_unit: mm/s", "speed_unit: knots", "fam/family.yaml:5:13 unknown-word"},
		{"speed_unit", "sped_unit", "fam/family.yaml:5:1 unknown-key"},
		{"rotation: fixed-xyz\n", "rotation: fixd-xyz\nreads: [{line: 'X{qw}', is: travel}]\n", "fam/family.yaml:8:11 unknown-word"},
		{"length: 3", "length: 12", "fam/family.yaml:4:20 out-of-range"},
		{`open: "("`, `open: " "`, "fam/family.yaml:6:17 bad-comment-mark"},
		{`close: ")"`, `close: "end"`, "fam/family.yaml:6:1 bad-comment-mark"},
		{"coordinates: base", "coordinates: base\nnames: {letters: Z-A}", "fam/family.yaml:8:18 bad-name-rule"},
		{"coordinates: base", "coordinates: base\nnames: {replace: '?'}", "fam/family.yaml:8:18 bad-name-rule"},
		{"coordinates: base", "coordinates: base\nblock_numbers: {prefix: N, start: 9, step: 1, highest: 5}", "fam/family.yaml:8:35 bad-block-numbers"},
		{"base\nrotation: fixed-xyz", "frame\nrotation: vertical", "fam/family.yaml:8:11 bad-rotation"},
		{"coordinates: base", "coordinates: base\nmost_lines: 60", "fam/family.yaml missing-block, fam/family.yaml missing-block, fam/family.yaml missing-block"},
		{"coordinates: base", "coordinates: base\nmost_lines: 10", "fam/family.yaml:8:13 out-of-range"},
		{"coordinates: base", "coordinates: base\nlongest_line: 39", "fam/family.yaml:8:15 out-of-range"},
		{"coordinates: base", "coordinates: base\nlength_unit: ell", "fam/family.yaml:8:14 unknown-word"},
		{"coordinates: base", "coordinates: base\nnumbers: {width: {length: 0}}", "fam/family.yaml:8:27 out-of-range"},
		{"coordinates: base", "coordinates: base\nencoding: latin-2", "fam/family.yaml:8:11 unknown-word"},
		{"coordinates: base", "coordinates: base\nfile_names: {longest: 3}", "fam/family.yaml:8:23 out-of-range"},
		{"coordinates: base", "coordinates: base\nletters: é", "fam/family.yaml:8:10 bad-name-rule"},
		{`close: ")"`, `close: ")", otherwise: "??"`, "fam/family.yaml:6:45 bad-comment-mark"},
		{"note: no", "notes: no", "fam/family.yaml:9:90 unknown-key"},
	} {
		fsys := small(`{{define "travel"}}x{{end}}`)
		fsys["family.yaml"].Data = []byte(strings.Replace(smallRules, c.old, c.new, 1))
		if _, found := loadFound(fsys); strings.Join(found, ", ") != c.want {
			t.Errorf("%q: got %q, want %q", c.new, found, c.want)
		}
	}
}

func TestFiles(t *testing.T) {
	for name, c := range map[string]struct {
		change func(fstest.MapFS)
		want   []string
	}{
		"no rules":   {func(m fstest.MapFS) { delete(m, "family.yaml") }, []string{"fam/family.yaml unreadable-family"}},
		"link":       {func(m fstest.MapFS) { m["c.tmpl"] = &fstest.MapFile{Mode: fs.ModeSymlink, Data: []byte("a.tmpl")} }, []string{"fam/c.tmpl unreadable-family"}},
		"pipe":       {func(m fstest.MapFS) { m["c.tmpl"] = &fstest.MapFile{Mode: fs.ModeNamedPipe} }, []string{"fam/c.tmpl unreadable-family"}},
		"folder":     {func(m fstest.MapFS) { m["c.tmpl/x"] = &fstest.MapFile{} }, []string{"fam/c.tmpl unreadable-family"}},
		"too long":   {func(m fstest.MapFS) { m["c.tmpl"] = &fstest.MapFile{Data: make([]byte, largestFile+1)} }, []string{"fam/c.tmpl unreadable-family"}},
		"not UTF-8":  {func(m fstest.MapFS) { m["c.tmpl"] = &fstest.MapFile{Data: []byte("\xff")} }, []string{"fam/c.tmpl unreadable-family"}},
		"file name":  {func(m fstest.MapFS) { m["c:1.tmpl"] = &fstest.MapFile{} }, []string{"fam/c:1.tmpl bad-file-name"}},
		"other file": {func(m fstest.MapFS) { m["README.md"] = &fstest.MapFile{Data: []byte("{{")} }, nil},
	} {
		fsys := small(`{{define "travel"}}x{{end}}`)
		c.change(fsys)
		if _, found := loadFound(fsys); !slices.Equal(found, c.want) {
			t.Errorf("%s: got %q, want %q", name, found, c.want)
		}
	}
}

func TestNotASCII(t *testing.T) {
	fsys := small("{{define \"travel\"}}{{/* ä is fine here */}}\n20 °C{{end}}")
	fsys["family.yaml"].Data = []byte(smallRules + "encoding: ascii\n")
	if _, found := loadFound(fsys); !slices.Equal(found, []string{"fam/b.tmpl:2:4 not-in-encoding"}) {
		t.Errorf("got %q", found)
	}
}

func TestHintsNameTheNearest(t *testing.T) {
	for text, want := range map[string]string{
		`{{define "travel"}}{{.Sped}}{{end}}`:     `did you mean "Speed"?`,
		`{{define "travel"}}{{coment .X}}{{end}}`: `did you mean "comment"?`,
		`{{define "travle"}}{{end}}`:              `did you mean "travel"?`,
	} {
		var list diag.List
		Load(small(text), "fam", &list, nil)
		hints := ""
		for _, f := range list.Sorted() {
			hints += f.Hint + "\n"
		}
		if !strings.Contains(hints, want) {
			t.Errorf("%s: hints %q, want %s", text, hints, want)
		}
	}
}
