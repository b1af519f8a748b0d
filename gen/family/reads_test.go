package family

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gridferry/gen/family/reads"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// withReads is a family that loads, with entries of its own under "reads".
func withReads(entries string) (*Family, []string) {
	f := small(`{{define "travel"}}X{{.X}}{{end}}`)
	f["family.yaml"].Data = []byte(smallRules + "reads:\n" + entries)
	return loadFound(f)
}

func TestReadsAreRefused(t *testing.T) {
	for _, c := range []struct{ name, entries, want string }{
		{"fine", "  - {line: 'X{x}', is: travel}", ""},
		{"groups by name", "  - {line: 'X(?P<x>[0-9.]+)', is: travel}", ""},
		{"no pattern", "  - {line: 'X({x}', is: travel}", "fam/family.yaml:11:12 bad-reading"},
		{"brackets that close before they open", "  - {line: 'a)|(b', is: text}", "fam/family.yaml:11:12 bad-reading"},
		{"no field", "  - {line: 'X(?P<ex>.)', is: travel}", "fam/family.yaml:11:14 bad-reading"},
		{"no column", "  - {row: [x, why], is: travel}", "fam/family.yaml:11:15 bad-reading"},
		{"no meaning", "  - {line: 'X', is: travell}", "fam/family.yaml:11:21 unknown-word"},
		{"nothing", "  - {is: travel}", "fam/family.yaml:11:5 bad-reading"},
		{"both", "  - {line: 'X', row: [x], is: travel}", "fam/family.yaml:11:5 bad-reading"},
		{"when of a travel", "  - {line: 'X', is: travel, when: tool-changed}", "fam/family.yaml:11:5 bad-reading"},
		{"kinds without a column", "  - {row: [x], is: {1: travel}}", "fam/family.yaml:11:5 bad-reading"},
		{"a column without kinds", "  - {row: [kind, x], is: travel}", "fam/family.yaml:11:5 bad-reading"},
		{"a kind that is no number", "  - {row: [kind, x], is: {one: travel}}", "fam/family.yaml:11:27 bad-reading"},
		{"a section that nothing begins", "  - {line: 'X', is: travel, within: table}", "fam/family.yaml:11:5 bad-reading"},
		{"a section", "  - {line: 'T', is: text, then: table}\n  - {line: 'X', is: travel, within: table, then: outside}", ""},
		{"gives no field", "  - {line: 'X', is: grip, gives: {levle: on}}", "fam/family.yaml:11:35 bad-reading"},
		{"gives no level", "  - {line: 'X', is: grip, gives: {level: onn}}", "fam/family.yaml:11:42 bad-reading"},
		{"gives no answer", "  - {line: 'X', is: await, gives: {go_on: maybe}}", "fam/family.yaml:11:43 bad-reading"},
		{"gives no number", "  - {line: 'X', is: dwell, gives: {time: 2 s}}", "fam/family.yaml:11:42 bad-reading"},
		{"gives no whole number", "  - {line: 'X', is: grip, gives: {signal: 1.5}}", "fam/family.yaml:11:43 bad-reading"},
		{"gives what it can", "  - {line: 'X', is: await, gives: {signal: 1, level: HIGH, time: 0.5, go_on: go-on}}", ""},
		{"gives no table", "  - {line: 'X', is: grip, gives: on}", "fam/family.yaml:11:34 wrong-type"},
		{"a field of no kind", "  - {line: 'nap {banana}', is: dwell}", "fam/family.yaml:11:17 bad-reading"},
		{"a field in capitals", "  - {line: 'X{X}', is: travel}", "fam/family.yaml:11:14 bad-reading"},
		{"braces that stand for themselves", `  - {line: '\{x\} \{nap\} \p{Greek}{x} x{2}', is: travel}`, ""},
		{"another kind's field", "  - {line: 'nap {fly_by}', is: dwell}", "fam/family.yaml:11:17 bad-reading"},
		{"a position of a grip", "  - {line: 'pinch {x}={level}', is: grip}", "fam/family.yaml:11:19 bad-reading"},
		{"a mass of a select", "  - {line: 'heft {mass}', is: select}", "fam/family.yaml:11:18 bad-reading"},
		{"a mass of a tool", "  - {line: 'heft {mass}', is: tool}", ""},
		{"a mass of a frame", "  - {line: 'heft {mass}', is: frame}", "fam/family.yaml:11:18 bad-reading"},
		{"numbers of a select", "  - {line: '{frame_number} {tool_number} {load}', is: select}", ""},
		{"a field of a mode", "  - {line: 'wait {time} {mass}', is: mode}", "fam/family.yaml:11:25 bad-reading"},
		{"an output of a mode", "  - {line: 'port {signal}', is: mode}", "fam/family.yaml:11:18 bad-reading"},
		{"a target of a mode", "  - {line: 'bound for {target}', is: mode}", "fam/family.yaml:11:23 bad-reading"},
		{"a turn of another form", "  - {line: '{x} {roll} {qw}', is: travel}", "fam/family.yaml:11:24 bad-reading"},
		{"turns of another form, everywhere", "  - {line: '{qw} {qx}', is: travel}\n  - {line: '{qw} {qx}', is: straight}", "fam/family.yaml:11:13 bad-reading"},
		{"two fields of another kind", "  - {line: 'nap {fly_by} {x}', is: dwell}", "fam/family.yaml:11:26 bad-reading"},
		{"a turn in a table of another form", "  - {row: [x, qw], is: frame}", "fam/family.yaml:11:15 bad-reading"},
		{"given and meaningless", "  - {line: 'X', is: dwell, gives: {fly_by: 0}}", "fam/family.yaml:11:36 bad-reading"},
		{"a column of none of the kinds", "  - {row: [kind, x, number], is: {1: travel}}", "fam/family.yaml:11:21 bad-reading"},
		{"a column of one of the kinds", "  - {row: [kind, x, signal], is: {1: travel, 2: grip, 3: note}}", ""},
		{"in quotes that hide it", "  - {line: 'it''s {fly_by}', is: dwell}", "fam/family.yaml:11:12 bad-reading"},
		{"whatever, of a text", "  - {line: '{x} {mass} {name}', is: text}\n  - {line: 'n {x}', is: note}", ""},
		{"no list", "  line: x", "fam/family.yaml:11:3 wrong-type"},
	} {
		if _, found := withReads(c.entries + "\n"); strings.Join(found, ", ") != c.want {
			t.Errorf("%s: found %q, wanted %q", c.name, strings.Join(found, ", "), c.want)
		}
	}
}

// What a reading gives cannot be a level, or a number, that is none: no line would ever fit.
func TestGivenSaysWhatToWrite(t *testing.T) {
	for entry, want := range map[string]string{
		"{line: 'X', is: grip, gives: {level: onn}}":    `the field "level" cannot be "onn": write on for a signal that is high, off for one that is low`,
		"{line: 'X', is: await, gives: {go_on: maybe}}": `the field "go_on" cannot be "maybe": write go-on or stop`,
		"{line: 'X', is: dwell, gives: {time: '0,5'}}":  `the field "time" cannot be "0,5": write a number alone, such as 1.5`,
		"{row: [kind, x], is: {one: travel}}":           `"one" is no number of the column "kind": write the number that stands in that column, as in {1: travel, 2: straight}`,
	} {
		f := small(`{{define "travel"}}X{{.X}}{{end}}`)
		f["family.yaml"].Data = []byte(smallRules + "reads:\n  - " + entry + "\n")
		var list diag.List
		Load(f, "fam", &list, nil)
		var found []string
		for _, finding := range list.Sorted() {
			found = append(found, finding.Message+": "+finding.Hint)
		}
		if !slices.Equal(found, []string{want}) {
			t.Errorf("%s: found %q, want %q", entry, found, want)
		}
	}
}

func TestReadsKnowWhatLinesCarry(t *testing.T) {
	f, found := withReads(`  - {line: 'F{speed}', is: mode}
  - {line: 'X{x} Y{y}', is: travel}
  - {line: 'ON{signal}', is: grip, gives: {level: on}}
  - {line: 'T{tool}', is: select, when: tool-changed}
  - {line: 'W{frame}', is: select, when: frame-changed}
  - {row: [number, x, -, z], is: frame}
  - {row: [kind, time, signal], is: {1: dwell, 2: await, 0: text}}
`)
	if found != nil {
		t.Fatal(found)
	}
	for _, c := range []struct {
		name string
		got  reads.FieldSet
		want []reads.Field
	}{
		{"travel", f.Reads.Carries(move.Travel), []reads.Field{reads.Speed, reads.X, reads.Y}},
		{"grip", f.Reads.Carries(move.Grip), []reads.Field{reads.Signal, reads.Level}},
		{"dwell", f.Reads.Carries(move.Dwell), []reads.Field{reads.Kind, reads.Time, reads.Signal}},
		{"frames", f.Reads.CarriesEntry(reads.MeansFrame), []reads.Field{reads.Number, reads.X, reads.Z}},
		{"another frame", f.Reads.CarriesWhen(reads.WhenFrame), []reads.Field{reads.Frame}},
	} {
		var want reads.FieldSet
		for _, field := range c.want {
			want = want.With(field)
		}
		if c.got != want {
			t.Errorf("%s: %b, wanted %b", c.name, c.got, want)
		}
	}
	if whens := f.Reads.Whens(); !slices.Equal(whens, []string{reads.WhenTool, reads.WhenFrame}) {
		t.Errorf("selects are told when %q", whens)
	}
	if f.Reads.Knows(move.Set) || !f.Reads.Knows(move.Await) || !f.Reads.Has() {
		t.Error("what is known is wrong")
	}
}

// TestDigest: two families are told apart by what is in their files, and by
// nothing else.
func TestDigest(t *testing.T) {
	load := func(change func(text string) string, label string) string {
		fsys := small(`{{define "travel"}}X{{.X}}{{end}}`)
		fsys["b.tmpl"].Data = []byte(change(string(fsys["b.tmpl"].Data)))
		var list diag.List
		f, ok := Load(fsys, label, &list, nil)
		if !ok {
			t.Fatal(list.Sorted())
		}
		return f.Digest
	}
	same := func(text string) string { return text }
	first := load(same, "one")
	if len(first) != 32 || first != load(same, "two") {
		t.Errorf("the digest %q depends on the label", first)
	}
	if first != load(func(text string) string { return strings.ReplaceAll(text, "\n", "\r\n") }, "one") {
		t.Error("it depends on line ends")
	}
	if first == load(func(text string) string { return strings.Replace(text, "X{", "x{", 1) }, "one") {
		t.Error("it does not depend on the text")
	}
}

// TestAuthoringTellsHowLinesRead: the page names every field, and its example
// is one.
func TestAuthoringTellsHowLinesRead(t *testing.T) {
	data, err := os.ReadFile("../../templates/AUTHORING.md")
	if err != nil {
		t.Fatal(err)
	}
	_, section, _ := strings.Cut(string(data), "<!-- reads -->")
	section, _, _ = strings.Cut(section, "<!-- end -->")
	told := regexp.MustCompile("`([a-z0-9_]+)`").FindAllStringSubmatch(section, -1)
	var names []string
	for _, m := range told {
		names = append(names, m[1])
	}
	for f := reads.NoField + 1; f < reads.Fields; f++ {
		if name := f.String(); !slices.Contains(names, name) {
			t.Errorf("the page does not tell of %q", name)
		}
	}
	_, example, _ := strings.Cut(string(data), "```\nreads:\n")
	example, _, _ = strings.Cut(example, "```")
	fsys := small(`{{define "travel"}}X{{.X}}{{end}}`)
	fsys["family.yaml"].Data = []byte(strings.Replace(smallRules, "fixed-xyz", "vertical", 1) + "reads:\n" + example)
	f, found := loadFound(fsys)
	if found != nil || len(f.Reads.Entries) != 7 || !f.Reads.Carries(move.Straight).Has(reads.Speed) {
		t.Errorf("the example gives %v", found)
	}
}
