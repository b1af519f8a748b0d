package readback_test

import (
	"strings"
	"testing"

	"gridferry/gen/family"
	"gridferry/plan/diag"
	"gridferry/templates"
)

// TestFrameBesideBase: with points in the base, a frame in the program text is warned of
// wherever it comes from, and in a comment it is not.
func TestFrameBesideBase(t *testing.T) {
	const line = "select frame={{.Frame}} tool={{.Tool}} load={{.Load}}"
	for _, c := range []struct {
		name, coordinates, selects string
		place                      string // of the warning; "" for none
	}{
		{"by its name", "base", line, "own/program.tmpl:17:16"},
		{"in its own frame", "frame", line, ""},
		{"by its number", "base", "select tool={{.Tool}} F{{.FrameNumber}}", "own/program.tmpl:17:26"},
		{"by a helper", "base", `select {{template "which" .}}`, "own/program.tmpl:17:63"},
		{"by a variable", "base", "{{$f := .Frame}}select {{$f}}", "own/program.tmpl:17:9"},
		{"by a word of its own", "base", "select{{if .FrameChanged}} anew{{end}}", "own/program.tmpl:17:12"},
		{"by its label as a name", "base", "select {{name .FrameLabel}}", "own/program.tmpl:17:15"},
		{"in a comment", "base", "select tool={{.Tool}} {{comment .Frame .FrameNumber}}", ""},
		{"in a comment of the template's own", "base", "select tool={{.Tool}} # frame {{.Frame}}", ""},
		{"its label", "base", "select tool={{.Tool}} {{.FrameLabel}}", ""},
		{"a comment where it changes", "base", "{{if .FrameChanged}}{{comment .FrameLabel}}{{end}}\nselect tool={{.Tool}}", ""},
		{"a line of comment where it changes", "base", "{{if .FrameChanged}}{{comment .FrameLabel}}\n{{end}}select tool={{.Tool}}", ""},
		{"nothing", "base", "select tool={{.Tool}} load={{.Load}}", ""},
	} {
		wording := c.selects
		if strings.Contains(wording, `"which"`) {
			wording += "{{end}}{{define \"which\"}}frame={{.Frame}}" // ends with the block's own end
		}
		var list diag.List
		load(t, starterWith(t, "coordinates: frame", "coordinates: "+c.coordinates, line, wording), "own").WarnFrames(&list)
		found := list.Sorted()
		switch {
		case c.place == "" && len(found) > 0:
			t.Errorf("%s: %s", c.name, told(&list))
		case c.place != "" && (len(found) != 1 || found[0].Rule != family.RuleFrame || found[0].Place.String() != c.place || found[0].Severity != diag.Warning):
			t.Errorf("%s: %s, wanted it at %s", c.name, told(&list), c.place)
		}
	}
	for _, name := range templates.All() {
		var list diag.List
		if shipped(t, name).WarnFrames(&list); list.Len() > 0 {
			t.Errorf("%s: %s", name, told(&list))
		}
	}
}

// TestNotCompared lists what blocks write and "reads" does not read, and nothing that
// stands in comments, is never written or is compared.
func TestNotCompared(t *testing.T) {
	const dwell, point = "{line: 'dwell seconds={time}'", "speed={speed} fly_by={fly_by}"
	for _, c := range []struct {
		name, old, with, want string
	}{
		{"all is read", "", "", ""},
		{"a time", dwell, "{line: 'dwell seconds=.*'", "dwell: time"},
		{"what a comment says", "dwell seconds={{.Seconds}}", "dwell {{comment .Seconds}}", ""},
		{"a load", "load={load}", "load=.*", "select: load"},
		{"what the select names by number", "frame={{.Frame}} tool={{.Tool}}", "frame={{.FrameNumber}} tool={{.ToolNumber}}", ""},
		{"numbers of motions", point, "speed=[0-9.]+ fly_by=.*", "travel: speed fly_by, straight: speed fly_by"},
		{"what a motion says for no one", "speed={{.Speed}} fly_by={{.FlyBy}}", "load={{.Load}}", "travel: load, straight: load"},
		{"an input's level and what follows", "await input={signal} level={level}( seconds={time} then={go_on})?", "await input={signal}.*", "await: level time go_on"},
		{"a kind that is not read", "is: dwell", "is: text", ""},
		{"no kind of select", "load={load}', is: select", "load={load}', is: text", "select: frame tool load"},
	} {
		f := shipped(t, "starter")
		if c.old != "" {
			f = load(t, starterWith(t, c.old, c.with), "own")
		}
		var kinds []string
		for _, u := range f.NotCompared() {
			kinds = append(kinds, u.Kind.String()+":")
			for _, field := range u.Fields {
				kinds[len(kinds)-1] += " " + field.String()
			}
		}
		if got := strings.Join(kinds, ", "); got != c.want {
			t.Errorf("%s: %q, wanted %q", c.name, got, c.want)
		}
	}
}
