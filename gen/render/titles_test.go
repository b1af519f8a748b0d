package render_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"gridferry/gen/family/blocks"
	"gridferry/gen/move"
)

// oddForms are comment forms that controllers have or might have, each with the
// marks as a reader of that language looks for them.
var oddForms = []struct{ yaml, open, end string }{
	{`{open: ";"}`, ";", ""},
	{`{open: "; "}`, ";", ""},
	{`{open: "'"}`, "'", ""},
	{`{open: "!"}`, "!", ""},
	{`{open: "//"}`, "//", ""},
	{`{open: "--"}`, "--", ""},
	{`{open: "REM "}`, "REM ", ""},
	{`{open: "#", replace: {"\\": "/"}}`, "#", ""},
	{`{open: "/*", close: "*/"}`, "/*", "*/"},
	{`{open: "{", close: "}"}`, "{", "}"},
	{`{open: "<!--", close: "-->"}`, "<!--", "-->"},
	{`{open: "#|", close: "|#"}`, "#|", "|#"},
	{`{open: "%", close: "%"}`, "%", "%"},
	{`{open: "((", close: "))"}`, "((", "))"},
	{`{open: "[[[", close: "]]]"}`, "[[[", "]]]"},
}

// odd is a small family with one of the forms; every text that it may print, it
// prints, beside commands.
func odd(t testing.TB, comment string) *blocks.Blocks {
	t.Helper()
	return load(t, fstest.MapFS{
		"family.yaml": {Data: []byte("format: gridferry family 1\ntitle: t\nextension: .t\ndecimals: {length: 3, angle: 3, time: 3, speed: 3, mass: 3}\n" +
			"speed_unit: mm/s\nlongest_line: 90\ncoordinates: base\nrotation: fixed-xyz\ncomment: " + comment + "\n")},
		"a.tmpl": {Data: []byte(`{{define "begin"}}
{{comment .Title}}
{{comment .Plan "in" .Cell}}
{{range .Frames}}{{comment .Label}}
{{end}}{{end}}
{{define "select"}}
SEL {{.FrameNumber}} {{comment .ToolLabel "in" .FrameLabel}}
{{end}}
{{define "travel"}}
GO {{.X}} {{.Target}}
{{end}}
{{define "straight"}}
RUN {{.X}} {{comment .N .Place}}
{{end}}
{{define "grip"}}
GRIP {{.Target}}
{{end}}
{{define "release"}}
FREE {{.Target}}
{{end}}
{{define "set"}}
SET {{.Signal}}
{{end}}
{{define "await"}}
AWAIT {{.Signal}}
{{end}}
{{define "dwell"}}
DWELL {{.Time}}
{{end}}
{{define "note"}}
{{.Text}}
NOTE
{{end}}
{{define "end"}}
END
{{end}}`)},
	}, "odd")
}

// commands is what a controller obeys: the text with its comments taken out,
// one character after another, by a reader that knows only the marks.
func commands(text, open, end string) string {
	var out strings.Builder
	for text != "" {
		switch {
		case open != "" && strings.HasPrefix(text, open):
			stop := strings.IndexByte(text, '\n')
			if end != "" {
				i := strings.Index(text[len(open):], end)
				if i < 0 {
					return out.String() + "COMMENT WITHOUT END"
				}
				stop = len(open) + i + len(end)
			}
			if strings.Contains(text[:stop], "\n") {
				out.WriteString("COMMENT OF SEVERAL LINES")
			}
			text = text[stop:]
		default:
			out.WriteByte(text[0])
			text = text[1:]
		}
	}
	var lines []string
	for _, line := range strings.Split(out.String(), "\n") {
		if line = strings.TrimSpace(line); line != "" {
			lines = append(lines, line)
		}
	}
	return strings.Join(lines, "\n")
}

// Whatever people write into a plan, the controller obeys the same commands:
// through every shipped family and through odd forms of comments.
//
//fuzz:2s
func FuzzTitles(f *testing.F) {
	for _, text := range hostile {
		f.Add(text)
	}
	for _, form := range oddForms {
		f.Add("a" + form.end + "\n" + form.open + " STOP " + form.end + form.end + " GO 1")
		f.Add(form.open + form.open)
	}
	type written struct {
		family    *blocks.Blocks
		open, end string
		moves     []move.Move
		want      string // the commands of a program without such a text
	}
	var cases []written
	add := func(fam *blocks.Blocks, open, end string, moves []move.Move) {
		harmless, _ := withText(f, fam, moves, "harmless")
		cases = append(cases, written{fam, open, end, moves, unnamed(commands(harmless, open, end))})
	}
	for _, form := range oddForms {
		add(odd(f, form.yaml), form.open, form.end, benchMoves())
	}
	for name, marks := range map[string][2]string{"iso6983": {"(", ")"}, "st": {"(*", "*)"}, "starter": {"#", ""}} {
		fam := shipped(f, name)
		add(fam, marks[0], marks[1], without(fam, benchMoves()))
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, c := range cases {
			got, list := withText(t, c.family, c.moves, text)
			if list.Len() > 0 {
				t.Fatalf("%q %q: %s", c.open, text, found(list))
			}
			if obeyed := unnamed(commands(got, c.open, c.end)); obeyed != c.want {
				t.Fatalf("%q, title %q: the controller obeys\n%s\nwanted\n%s", c.open, text, obeyed, c.want)
			}
		}
	})
}

// unnamed takes out what is an identifier made from the title, and block numbers:
// a remark that is broken into more lines moves nothing.
func unnamed(text string) string {
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		if strings.HasPrefix(line, "PROGRAM ") || strings.HasPrefix(line, "begin ") {
			lines[i] = "NAME"
		}
	}
	return strings.Join(lines, "\n")
}

// The reader of commands sees what leaves a comment: else FuzzTitles would prove
// nothing.
func TestCommandsAreSeen(t *testing.T) {
	for _, c := range []struct{ text, open, end, want string }{
		{"GO (a) STOP (b)\n", "(", ")", "GO  STOP"},
		{"(a\nSTOP)\n", "(", ")", "COMMENT OF SEVERAL LINES"},
		{"(a\n", "(", ")", "COMMENT WITHOUT END"},
		{"; a\nSTOP\n", ";", "", "STOP"},
		{"GO ; STOP\n", ";", "", "GO"},
		{"(* a *) STOP; (* b *)\n", "(*", "*)", "STOP;"},
	} {
		if got := commands(c.text, c.open, c.end); got != c.want {
			t.Errorf("%q: %q, want %q", c.text, got, c.want)
		}
	}
}
