package family

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"gridferry/gen/family/rules"
	"gridferry/plan/diag"
	"gridferry/templates"
)

// numbered is a line for each number, in which # stands for it.
func numbered(n int, line string) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.ReplaceAll(line, "#", fmt.Sprintf("%02d", i)) + "\n")
	}
	return b.String()
}

// TestBoundsOfReadings: what just fits is read, and one step more is refused where it stands.
func TestBoundsOfReadings(t *testing.T) {
	const costly = "reading-too-costly"
	for _, c := range []struct{ name, within, over, at string }{
		{"steps of a pattern", `  - {line: 'a{1000}a{997}', is: text}`, `  - {line: 'a{1000}a{998}', is: text}`, "11:12"},
		{"repeats in repeats", `  - {line: '(?:ab{3}){200}a{797}', is: text}`, `  - {line: '(?:ab{3}){200}a{798}', is: text}`, "11:12"},
		{"letters that may be left out", `  - {line: 'a{0,99}', is: text}`, `  - {line: '(?:a?){1000}', is: text}`, "11:12"},
		{"classes with names", `  - {line: '[` + strings.Repeat(`\pL`, 98) + `]', is: text}`, `  - {line: '[` + strings.Repeat(`\pL`, 101) + `', is: text}`, "11:12"},
		{"groups", `  - {line: '` + strings.Repeat("(a)", 50) + `', is: text}`, `  - {line: '` + strings.Repeat("(a)", 51) + `', is: text}`, "11:12"},
		{"a range without case", `  - {line: '(?i)[a-z]', is: text}`, `  - {line: '(?i)[a-ž]', is: text}`, "11:12"},
		{"a range by its number", `  - {line: '[a-\x{1e942}]', is: text}`, `  - {line: '(?si:[a-\x{1e942}])', is: text}`, "11:12"},
		{"steps in all", numbered(19, `  - {line: 'a{999}', is: text}`) + `  - {line: 'a{799}', is: text}`, numbered(19, `  - {line: 'a{999}', is: text}`) + `  - {line: 'a{800}', is: text}`, "30:12"},
		{"columns in all", `  - {row: [` + strings.Repeat("-,\n", 19_990) + `], is: text}`, `  - {row: [` + strings.Repeat("-,\n", 19_991) + `], is: text}`, "11:5"},
		{"searches", numbered(50, `  - {line: 'x#.*', is: text}`), numbered(51, `  - {line: 'x#.*', is: text}`), "61:5"},
		{"ways of writing", numbered(31, `  - {line: '[ab][cd][ef][gh]#', is: text}`), numbered(32, `  - {line: '[ab][cd][ef][gh]#', is: text}`), "42:5"},
		{"rows", numbered(50, `  - {row: [x, y], is: mode}`), numbered(51, `  - {row: [x, y], is: mode}`), "61:5"},
		// Seven beside the dots: two of ".*", the x, the ends of the line, that it fits and that it does not.
		{"places", `  - {line: '.*x.{293}', is: text}`, `  - {line: '.*x.{294}', is: text}`, "11:5"},
		{"places in all", `  - {line: '.*x.{97}', is: text}` + "\n" + `  - {line: '.*y.{97}', is: text}` + "\n" + `  - {line: '[xy]*', is: text}`,
			`  - {line: '.*x.{147}', is: text}` + "\n" + `  - {line: '.*.{148}', is: text}` + "\n" + `  - {line: '.*y.{97}', is: text}`, "12:5"},
	} {
		if _, found := withReads(c.within); len(found) > 0 {
			t.Errorf("%s, within: got %q", c.name, found)
		}
		if _, found := withReads(c.over); !slices.Equal(found, []string{"fam/family.yaml:" + c.at + " " + costly}) {
			t.Errorf("%s, over: got %q, wanted %s", c.name, found, c.at)
		}
	}
}

// TestCostlyReadingsAreNotCompiled: an alias repeats a pattern for three bytes. What is
// refused counts as well, and is reported once, beside where the readings became too many.
func TestCostlyReadingsAreNotCompiled(t *testing.T) {
	const costly, bad = " reading-too-costly", " bad-reading"
	for pattern, want := range map[string][]string{
		"a{1000}":                       {costly}, // and 19 are kept
		"a{1000}b{1000}c":               {costly, costly},
		"(?i)[a-ž]":                     {costly, costly},
		strings.Repeat(`\pL`, 101):      {costly, costly},
		strings.Repeat("a", 1000) + "[": {bad, costly},
	} {
		f, found := withReads("  - &r {line: '" + pattern + "', is: text}\n" + strings.Repeat("  - *r\n", 1000))
		for i, rule := range want {
			want[i] = "fam/family.yaml:11:15" + rule
		}
		if !slices.Equal(found, want) || len(f.Reads.Entries) > 20 {
			t.Errorf("%.20s: got %q, and %d readings were kept", pattern, found, len(f.Reads.Entries))
		}
	}
}

// padded is a template with so many bytes in lines of fifty, most of them a comment.
func padded(bytes int) *fstest.MapFile {
	text := []byte("{{/*" + strings.Repeat("x", bytes-len("{{/**/}}")) + "*/}}")
	for i := 50; i < len(text)-10; i += 50 {
		text[i] = '\n'
	}
	return &fstest.MapFile{Data: text}
}

// TestBoundsOfFiles: likewise of files, their lines and the folder.
func TestBoundsOfFiles(t *testing.T) {
	line := func(bytes int) func(fstest.MapFS) {
		return func(m fstest.MapFS) {
			m["c.tmpl"] = &fstest.MapFile{Data: []byte("{{/* */}}\n{{/*" + strings.Repeat("x", bytes-len("{{/**/}}\n")) + "*/}}\n")}
		}
	}
	rest := func(m fstest.MapFS) (bytes int) { // what a family may have beside these files
		bytes = largestFamily
		for _, f := range m {
			bytes -= len(f.Data)
		}
		return bytes
	}
	folder := func(more int) func(fstest.MapFS) {
		return func(m fstest.MapFS) {
			m["c.tmpl"] = padded(largestFile)
			m["d.tmpl"] = padded(rest(m) + more)
		}
	}
	templates := func(n int) func(fstest.MapFS) {
		return func(m fstest.MapFS) {
			for i := range n - 2 {
				m[fmt.Sprintf("c%d.tmpl", i)] = &fstest.MapFile{}
			}
		}
	}
	for _, c := range []struct {
		name         string
		within, over func(fstest.MapFS)
		at           string
	}{
		{"a file", func(m fstest.MapFS) { m["c.tmpl"] = padded(largestFile) }, func(m fstest.MapFS) { m["c.tmpl"] = padded(largestFile + 1) }, "fam/c.tmpl"},
		{"a line", line(longestLine), line(longestLine + 1), "fam/c.tmpl:2:1"},
		{"a folder", folder(0), folder(1), "fam/d.tmpl"},
		{"templates", templates(mostTemplates), templates(mostTemplates + 1), "fam"},
	} {
		for _, change := range []func(fstest.MapFS){c.within, c.over} {
			fsys := small(`{{define "travel"}}x{{end}}`)
			change(fsys)
			_, found := loadFound(fsys)
			if len(found) > 0 {
				found[0] = strings.TrimSuffix(found[0], " unreadable-family")
			}
			if want := []string{c.at}[:len(found)]; !slices.Equal(found, want) || (len(found) > 0) != (fmt.Sprintf("%p", change) == fmt.Sprintf("%p", c.over)) {
				t.Errorf("%s: got %q", c.name, found)
			}
		}
	}
}

// TestTooLongSaysWhatToDo: a file beyond a bound is there, so the hint is not that it lacks.
func TestTooLongSaysWhatToDo(t *testing.T) {
	fsys := small("")
	fsys[rules.File], fsys["c.tmpl"] = padded(largestFile+1), padded(largestFile+1)
	var list diag.List
	Load(fsys, "fam", &list, nil)
	for _, f := range list.Sorted() {
		if f.Rule != "unreadable-family" || f.Hint != lessHint {
			t.Errorf("got %s: %s (%s)", f.Place.File, f.Message, f.Hint)
		}
	}
	if list.Len() != 2 {
		t.Errorf("got %d findings, wanted 2", list.Len())
	}
}

// TestUnreadHelper: a helper in a file that cannot be read is no mistake of the block
// that asks for it, and nothing is made of such a family.
func TestUnreadHelper(t *testing.T) {
	fsys := small(`{{define "travel"}}{{template "h"}}{{end}}`)
	fsys["c.tmpl"] = &fstest.MapFile{Data: []byte(`{{define "h"}}x{{end}}` + "\xff")}
	if f, found := loadFound(fsys); !slices.Equal(found, []string{"fam/c.tmpl unreadable-family"}) || f.Blocks != nil {
		t.Errorf("got %q", found)
	}
}

// TestBoundsOfReplacements: likewise of the texts to replace in comments.
func TestBoundsOfReplacements(t *testing.T) {
	with := func(replace string) []string {
		fsys := small(`{{define "travel"}}x{{end}}`)
		fsys["family.yaml"].Data = []byte(strings.Replace(smallRules, `close: ")"`, `close: ")", replace: {`+replace+`}`, 1))
		_, found := loadFound(fsys)
		return found
	}
	for _, c := range []struct{ within, over, at string }{
		{numbered(100, "'a#': b,"), numbered(103, "'a#': b,"), "106:1"},
		{"a: '" + strings.Repeat("b", 20) + "'", "a: '" + strings.Repeat("b", 21) + "'", "6:47"},
	} {
		if found := with(c.within); len(found) > 0 {
			t.Errorf("within: got %q", found)
		}
		if found := with(c.over); !slices.Equal(found, []string{"fam/family.yaml:" + c.at + " bad-comment-mark"}) {
			t.Errorf("over: got %q, wanted %s", found, c.at)
		}
	}
}

// TestShippedFamiliesAreFarWithin: three times the files and the readings of a shipped
// family would still be taken.
func TestShippedFamiliesAreFarWithin(t *testing.T) {
	const times = 3
	for _, name := range templates.Names() {
		files, err := fs.Sub(templates.FS, name)
		if err != nil {
			t.Fatal(err)
		}
		fsys, all := fstest.MapFS{}, 0
		entries, _ := fs.ReadDir(files, ".")
		for _, e := range entries {
			data, err := fs.ReadFile(files, e.Name())
			if err != nil {
				t.Fatal(err)
			}
			fsys[e.Name()] = &fstest.MapFile{Data: data}
			if all += len(data); len(data)*times > largestFile {
				t.Errorf("%s: %s has %d bytes", name, e.Name(), len(data))
			}
			for line := range strings.Lines(string(data)) {
				if len(line)*times > longestLine {
					t.Errorf("%s: a line of %s has %d bytes", name, e.Name(), len(line))
				}
			}
		}
		if all*times > largestFamily {
			t.Errorf("%s has %d bytes", name, all)
		}
		rules := fsys["family.yaml"]
		if before, readings, reads := strings.Cut(string(rules.Data), "reads:\n"); reads {
			rules.Data = []byte(before + "reads:\n" + strings.Repeat(readings+"\n", times))
		}
		var list diag.List
		if _, ok := Load(fsys, name, &list, nil); !ok {
			t.Errorf("%s: %s", name, list.Sorted()[0].Message)
		}
	}
}
