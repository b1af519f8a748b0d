package diag

import (
	"bytes"
	"encoding/json"
	"errors"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

func printed(t *testing.T, l *List, src *Sources, color bool) string {
	t.Helper()
	var b bytes.Buffer
	if err := Print(&b, l.Sorted(), src, color); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestPrint(t *testing.T) {
	var src Sources
	src.Add("plan.yaml", []byte("\ufefftitle: x\r\ngrids:\r\n\ttray: {rows: fast}\r\n"))
	var l List
	l.Warnf("unused-grid", Place{"plan.yaml", 3, 2, 4}, "nothing is moved from or to %q", "tray")
	l.Errorf("not-a-number", Place{"plan.yaml", 3, 15, 4}, "%q is not a whole number", "fast").
		WithHint("write decimal digits only").
		WithNote(Place{"plan.yaml", 1, 1, 5}, "the plan begins here").
		WithNote(Place{}, "and nowhere else")
	l.Errorf("no-file", Place{}, "there is nothing to read")
	l.Errorf("empty-document", Place{File: "b.yaml"}, "there is nothing in the file")
	want := `b.yaml: error: there is nothing in the file [empty-document]
plan.yaml:3:2: warning: nothing is moved from or to "tray" [unused-grid]
        tray: {rows: fast}
        ^~~~
plan.yaml:3:15: error: "fast" is not a whole number [not-a-number]
        tray: {rows: fast}
                     ^~~~
    hint: write decimal digits only
plan.yaml:1:1: note: the plan begins here
note: and nowhere else
error: there is nothing to read [no-file]
`
	if got := printed(t, &l, &src, false); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestPrintColor(t *testing.T) {
	var src Sources
	src.Add("a", []byte("bad"))
	var l List
	l.Errorf("r", Place{"a", 1, 2, 2}, "m").WithHint("h")
	want := "\x1b[1ma:1:2:\x1b[0m \x1b[31merror:\x1b[0m m [r]\n    bad\n     \x1b[31m^~\x1b[0m\n    \x1b[36mhint:\x1b[0m h\n"
	if got := printed(t, &l, &src, true); got != want {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}

// The caret must stand under the character at the column, whatever comes before it on the line.
func TestCaretUnderColumn(t *testing.T) {
	tests := []struct {
		name, line   string
		col, width   int
		shown, caret string
	}{
		{"plain", "rows: 5", 7, 1, "rows: 5", "      ^"},
		{"unknown width", "rows: 5", 1, 0, "rows: 5", "^"},
		{"past the end", "rows:", 9, 3, "rows:", "     ^"},
		{"width past the end", "rows: 5", 7, 30, "rows: 5", "      ^"},
		{"tab", "a\tb", 3, 1, "a   b", "    ^"},
		{"under a tab", "\tb", 1, 1, "    b", "^~~~"},
		// Widths by Unicode Standard Annex 11: East Asian Wide characters take two columns; a combining mark takes none.
		{"wide", "日本: 5", 5, 1, "日本: 5", "      ^"},
		{"combining", "e\u0301: 5", 5, 1, "e\u0301: 5", "   ^"},
		{"control", "a\x1bb", 3, 1, `a\x1bb`, "     ^"},
		{"reordering", "\u202eab", 2, 2, `\u202eab`, "      ^~"},
		{"not UTF-8", "\xffb", 2, 1, "\ufffdb", " ^"},
		{"empty", "", 1, 1, "", "^"},
	}
	for _, tt := range tests {
		shown, caret := excerpt(tt.line, Place{"f", 1, tt.col, tt.width})
		if shown != tt.shown || caret != tt.caret {
			t.Errorf("%s: got %q / %q, want %q / %q", tt.name, shown, caret, tt.shown, tt.caret)
		}
	}
}

func TestLongLineIsCut(t *testing.T) {
	line := strings.Repeat("a", 500) + "XYZ" + strings.Repeat("b", 500)
	shown, caret := excerpt(line, Place{"f", 1, 501, 3})
	if n := utf8.RuneCountInString(shown); n > excerptWidth+2 {
		t.Errorf("%d characters shown", n)
	}
	if !strings.HasPrefix(shown, cutMark) || !strings.HasSuffix(shown, cutMark) {
		t.Errorf("the cuts are not marked: %q", shown)
	}
	at := strings.IndexByte(caret, '^')
	if got := string([]rune(shown)[at : at+3]); got != "XYZ" || caret[at:] != "^~~" {
		t.Errorf("the caret %q stands under %q", caret[at:], got)
	}
	if shown, _ := excerpt(line, Place{"f", 1, 1, 1}); strings.HasPrefix(shown, cutMark) {
		t.Errorf("nothing is cut before column 1: %q", shown)
	}
	if shown, _ := excerpt(line, Place{"f", 1, 1003, 1}); strings.HasSuffix(shown, cutMark) {
		t.Errorf("nothing is cut after the last column: %q", shown)
	}
}

func TestPrintJSON(t *testing.T) {
	var b bytes.Buffer
	if err := PrintJSON(&b, nil); err != nil || b.String() != "[]\n" {
		t.Errorf("no findings: %q, %v", b.String(), err)
	}
	var l List
	l.Warnf("w", Place{}, "no place")
	l.Errorf("r", Place{"f", 2, 3, 1}, "a < b\x1b").WithHint("h").WithNote(Place{"g", 4, 5, 1}, "n")
	b.Reset()
	if err := PrintJSON(&b, l.Sorted()); err != nil {
		t.Fatal(err)
	}
	var got []map[string]any
	if err := json.Unmarshal(b.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	if len(got) != 2 || len(got[1]) != 4 || got[1]["severity"] != "warning" || got[1]["help"] != "gridferry help rule w" {
		t.Fatalf("got %v", got)
	}
	note := got[0]["notes"].([]any)[0].(map[string]any)
	if got[0]["file"] != "f" || got[0]["line"] != 2.0 || got[0]["column"] != 3.0 || got[0]["severity"] != "error" ||
		got[0]["rule"] != "r" || got[0]["message"] != "a < b\x1b" || got[0]["hint"] != "h" ||
		note["file"] != "g" || note["line"] != 4.0 || note["column"] != 5.0 || note["message"] != "n" {
		t.Errorf("got %v", got)
	}
}

type brokenWriter struct{}

var errBroken = errors.New("broken pipe")

func (brokenWriter) Write([]byte) (int, error) { return 0, errBroken }

func TestPrintReportsFailedWrite(t *testing.T) {
	var l List
	l.Errorf("r", Place{}, "m")
	if err := Print(brokenWriter{}, l.Sorted(), nil, false); !errors.Is(err, errBroken) {
		t.Errorf("got %v", err)
	}
}

// Whatever stands in a file, its name or a message: only printing characters and line breaks of our own reach the terminal.
func FuzzPrint(f *testing.F) {
	f.Add("f.yaml", "a: \x1b[2J\tb", "message \u202e", 1, 4, 2)
	f.Add("\x07", "\u2028", "\n[error]", 1, 1, 0)
	f.Add("f", strings.Repeat("日", 300), "", 1, 200, 300)
	f.Add("f", "a\nb\rc\r\n", "", 3, -1, -5)
	f.Fuzz(func(t *testing.T, file, text, message string, line, col, width int) {
		var src Sources
		src.Add(file, []byte(text))
		var l List
		at := Place{file, line, col, width}
		l.Errorf("r", at, "%s", message).WithHint("%s", message).WithNote(at, "%s", message)
		out := printed(t, &l, &src, false)
		for _, r := range out {
			if r != '\n' && !unicode.IsPrint(r) {
				t.Fatalf("%U reaches the terminal: %q", r, out)
			}
		}
		want := 2 // the finding and its note
		if message != "" {
			want++
		}
		if _, ok := src.Line(file, line); ok && col > 0 {
			want += 2
		}
		if n := strings.Count(out, "\n"); n != want {
			t.Fatalf("%d lines, want %d: %q", n, want, out)
		}
	})
}

func TestDiff(t *testing.T) {
	const text = "--- a\n+++ b\n@@ -1 +1 @@\n-one\n+two\n same\n"
	want := "\x1b[31m--- a\x1b[0m\n\x1b[32m+++ b\x1b[0m\n\x1b[36m@@ -1 +1 @@\x1b[0m\n\x1b[31m-one\x1b[0m\n\x1b[32m+two\x1b[0m\n same\n"
	if got := Diff(text, true); got != want {
		t.Errorf("%q, wanted %q", got, want)
	}
	if got := Diff(text, false); got != text {
		t.Errorf("without colours it is %q", got)
	}
}

// A caret at a list or a mapping points at all of it.
func TestCaretUnderBrackets(t *testing.T) {
	for line, want := range map[string]string{
		"at: [0, [1, 2]], x": "    ^~~~~~~~~~~", `at: {a: "}", b: 1} y`: "    ^~~~~~~~~~~~~~", "at: [0, 1": "    ^", "at: 5": "    ^",
	} {
		if _, caret := excerpt(line, Place{"f", 1, 5, 1}); caret != want {
			t.Errorf("%q: %q, wanted %q", line, caret, want)
		}
	}
}
