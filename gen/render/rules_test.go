package render_test

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"gridferry/gen/family/blocks"
	"gridferry/gen/family/rules"
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/gen/render"
	"gridferry/plan/diag"
)

// ruled is a family for one rule: family.yaml with a line replaced or added, one
// travel block, and every other kind of move written as its own name.
func ruled(t testing.TB, travel string, rules ...string) *blocks.Blocks {
	t.Helper()
	text := `format: gridferry family 1
title: for one rule
extension: .txt
decimals: {length: 3, angle: 3, time: 2, speed: 1, mass: 2}
speed_unit: mm/s
comment: {open: "; "}
coordinates: base
rotation: fixed-xyz
`
	for _, rule := range rules {
		key, _, _ := strings.Cut(rule, ":")
		lines := strings.SplitAfter(text, "\n")
		lines = slices.DeleteFunc(lines, func(line string) bool { return strings.HasPrefix(line, key+":") })
		text = strings.Join(lines, "") + rule + "\n"
	}
	var blocks strings.Builder
	fmt.Fprintf(&blocks, "{{define \"travel\"}}\n%s\n{{end}}\n", travel)
	for _, name := range []string{"begin", "select", "straight", "grip", "release", "set", "await", "dwell", "note", "end"} {
		if define := fmt.Sprintf("{{define %q}}", name); !strings.Contains(travel, define) {
			fmt.Fprintf(&blocks, "%s\n%s\n{{end}}\n", define, strings.ToUpper(name))
		}
	}
	blocks.WriteString("{{define \"call\"}}\nCALL {{.Name}} {{.File}}\n{{end}}{{define \"part\"}}\nPART {{.Name}} {{.Number}} {{.First}}\n{{end}}{{define \"part-end\"}}\nTILL {{.Last}}\n{{end}}")
	all := blocks.String()
	if !strings.Contains(text, "most_lines") {
		all = all[:strings.Index(all, "{{define \"call\"}}")]
	}
	return load(t, fstest.MapFS{"family.yaml": {Data: []byte(text)}, "a.tmpl": {Data: []byte(all)}}, "ruled")
}

// travelled is the line that one travel gives, and the findings.
func travelled(t *testing.T, f *blocks.Blocks, job move.Job, m move.Move) (string, string) {
	t.Helper()
	text, list := program(t, f, job, m)
	text = strings.TrimPrefix(text, "BEGIN"+f.LineEnd)
	return strings.TrimSuffix(text, "END"+f.LineEnd), found(list)
}

func travelTo(x, y, z float64, turn geom.RPY) move.Move {
	m := motion(move.Travel, move.Target{Pose: "clear"}, geom.Vec{X: x, Y: y, Z: z}, geom.Vec{}, 500, 25.4)
	m.At.RPY, m.Base.RPY, m.N = turn, turn, 1
	m.Place = diag.Place{File: "p.yaml", Line: 3, Col: 1}
	return m
}

// The inch is 25.4 mm and the pound 0.45359237 kg exactly (NIST SP 811, appendix
// B); the speeds follow by hand: 500 mm/s is 30000 mm/min, 0.5 m/s, 30 m/min,
// 19.685… inch/s, 1181.10… inch/min, and half of a machine's 1000 mm/s. Speeds and
// fly-bys are cut behind their last decimal, the rest is rounded.
func TestUnits(t *testing.T) {
	m := travelTo(254, -12.7, 0.127, geom.RPY{Roll: 180, Yaw: -90})
	m.Load = 0.45359237 * 2
	for _, c := range []struct {
		travel, want string
		rules        []string
	}{
		{"{{.X}} {{.Y}} {{.Z}} {{.FlyBy}}", "254.000 -12.700 0.127 25.400", nil},
		{"{{.X}} {{.Y}} {{.Z}} {{.FlyBy}}", "10.000 -0.500 0.005 1.000", []string{"length_unit: inch"}},
		{"{{.X}} {{.FlyBy}}", "254 25", []string{"decimals: {length: 0, angle: 3, time: 2, speed: 1, mass: 2}"}},
		{"{{.Roll}} {{.Pitch}} {{.Yaw}}", "3.142 0.000 -1.571", []string{"angle_unit: rad"}},
		{"{{.Speed}}", "500.0", []string{"speed_unit: mm/s"}},
		{"{{.Speed}}", "30000.0", []string{"speed_unit: mm/min"}},
		{"{{.Speed}}", "0.5", []string{"speed_unit: m/s"}},
		{"{{.Speed}}", "30.0", []string{"speed_unit: m/min"}},
		{"{{.Speed}}", "19.6", []string{"speed_unit: inch/s"}},
		{"{{.Speed}}", "1181.1", []string{"speed_unit: inch/min"}},
		{"{{.Speed}}", "50.0", []string{"speed_unit: percent"}},
		{"{{.Load}}", "2.00", []string{"mass_unit: lb"}},
		{"{{.Load}}", "907.18", []string{"mass_unit: g"}},
	} {
		got, found := travelled(t, ruled(t, c.travel, c.rules...), benchJob(), m)
		if strings.TrimSpace(got) != c.want || found != "" {
			t.Errorf("%v: %q, want %q; %s", c.rules, got, c.want, found)
		}
	}
	for wanted, rule := range map[string]string{"0.40": "time_unit: s", "400.00": "time_unit: ms"} {
		f := load(t, fstest.MapFS{
			"family.yaml": {Data: []byte("format: gridferry family 1\ntitle: t\nextension: .t\ndecimals: {length: 1, angle: 1, time: 2, speed: 1, mass: 1}\nspeed_unit: mm/s\ncomment: none\ncoordinates: base\nrotation: vertical\n" +
				rule + "\ncannot: {select: no, travel: no, straight: no, grip: no, release: no, set: no, await: no, note: no}\n")},
			"a.tmpl": {Data: []byte(`{{define "begin"}}{{end}}{{define "end"}}{{end}}{{define "dwell"}}{{.Time}}{{end}}`)},
		}, "times")
		if text, list := program(t, f, benchJob(), move.Move{Kind: move.Dwell, Seconds: 0.4}); text != wanted+"\n" || list.Len() > 0 {
			t.Errorf("%s: %q, want %q; %s", rule, text, wanted, found(list))
		}
	}
}

// Every form of a figure, each beside what a person would write by hand.
func TestFigureForms(t *testing.T) {
	for _, c := range []struct{ rule, want string }{
		{"numbers: {}", "40.000 -0.500 0.000"},
		{"numbers: {trailing_zeros: drop}", "40 -0.5 0"},
		{"numbers: {trailing_zeros: drop, point: always}", "40. -0.5 0."},
		{"numbers: {trailing_zeros: drop, point: with-digit}", "40.0 -0.5 0.0"},
		{"numbers: {sign: always}", "+40.000 -0.500 +0.000"},
		{"numbers: {width: {length: 9}}", "   40.000    -0.500     0.000"},
		{"numbers: {width: {length: 9}, fill: zeros}", "00040.000 -0000.500 00000.000"},
		{"numbers: {width: {length: 9}, fill: zeros, sign: always}", "+0040.000 -0000.500 +0000.000"},
		{"decimals: {length: 0, angle: 0, time: 0, speed: 0, mass: 0}\ntolerance: {position: 1}\nnumbers: {point: always}", "40. -1. 0."},
	} {
		got, found := travelled(t, ruled(t, "{{.X}} {{.Y}} {{.Z}}|", strings.Split(c.rule, "\n")...), benchJob(), travelTo(40, -0.5, -0.0004, geom.RPY{Roll: 180}))
		if got != c.want+"|\n" || found != "" {
			t.Errorf("%s: %q, want %q; %s", c.rule, got, c.want+"|", found)
		}
	}
}

// Turns worked by hand. (a) a tool that points down and is turned by 90: fixed X
// 180, fixed Z 90; about moving axes Z 90, X 180; as Z-Y-Z: 0, 180, 90 or any
// pair with the same difference. Its matrix has columns (0,1,0) (1,0,0) (0,0,-1):
// half a turn about (1,1,0)/√2, so that the quaternion is (0, √½, √½, 0) and the
// vector 180·(√½, √½, 0). (b) a quarter turn about Y.
func TestRotationForms(t *testing.T) {
	down, tipped := geom.RPY{Roll: 180, Yaw: 90}, geom.RPY{Pitch: 90}
	for _, c := range []struct{ rotation, travel, down, tipped string }{
		{"fixed-xyz", "{{.Roll}} {{.Pitch}} {{.Yaw}}", "180.000 0.000 90.000", "0.000 90.000 0.000"},
		{"moving-zyx", "{{.Turn1}} {{.Turn2}} {{.Turn3}}", "90.000 0.000 180.000", "0.000 90.000 0.000"},
		{"quaternion", "{{.QW}} {{.QX}} {{.QY}} {{.QZ}}", "0.000000 0.707107 0.707107 0.000000", "0.707107 0.000000 0.707107 0.000000"},
		{"quaternion", "{{.QX}} {{.QY}} {{.QZ}} {{.QW}}", "0.707107 0.707107 0.000000 0.000000", "0.000000 0.707107 0.000000 0.707107"},
		{"vector", "{{.RX}} {{.RY}} {{.RZ}}", "127.279 127.279 0.000", "0.000 90.000 0.000"},
		{"vertical", "{{.Turn}}", "90.000", ""},
	} {
		f := ruled(t, c.travel, "rotation: "+c.rotation)
		for want, turn := range map[string]geom.RPY{c.down: down, c.tipped: tipped} {
			if want == "" {
				continue
			}
			if got, found := travelled(t, f, benchJob(), travelTo(1, 2, 3, turn)); got != want+"\n" || found != "" {
				t.Errorf("%s: %v gives %q, want %q; %s", c.rotation, turn, got, want, found)
			}
		}
	}
	// Z-Y-Z is not unique at a pole: the matrix decides.
	got, _ := travelled(t, ruled(t, "{{.Turn1}} {{.Turn2}} {{.Turn3}}", "rotation: moving-zyz"), benchJob(), travelTo(1, 2, 3, geom.RPY{Roll: 30, Pitch: 40, Yaw: 50}))
	var z1, y, z2 float64
	if _, err := fmt.Sscan(got, &z1, &y, &z2); err != nil {
		t.Fatal(err)
	}
	made := geom.RotZ(z1).Mul(geom.RotY(y)).Mul(geom.RotZ(z2))
	if off := made.T().Mul(geom.RPY{Roll: 30, Pitch: 40, Yaw: 50}.Rot()).Angle(); off > 0.002 {
		t.Errorf("moving-zyz %q is off by %g degrees", got, off)
	}
}

// Frames and tools come in the family's form too.
func TestRotationOfFrames(t *testing.T) {
	f := load(t, fstest.MapFS{
		"family.yaml": {Data: []byte("format: gridferry family 1\ntitle: t\nextension: .t\ndecimals: {length: 1, angle: 1, time: 2, speed: 1, mass: 1, quaternion: 3}\nspeed_unit: mm/s\ncomment: none\ncoordinates: base\nrotation: quaternion\n" +
			"cannot: {select: no, travel: no, straight: no, grip: no, release: no, set: no, await: no, dwell: no, note: no}\n")},
		"a.tmpl": {Data: []byte(`{{define "begin"}}{{range .Frames}}{{.Name}} {{.QW}} {{.QZ}};{{end}}{{range .Tools}}{{.QX}}{{end}}{{end}}{{define "end"}}{{end}}`)},
	}, "frames")
	if text, _ := program(t, f, benchJob()); text != "base 1.000 0.000;bath 1.000 0.000;balance_pan 0.707 0.707;1.000\n" {
		t.Errorf("%q", text)
	}
}

// Each rule has its finding.
func TestRuleFindings(t *testing.T) {
	slow := travelTo(1, 2, 3, geom.RPY{Roll: 180})
	slow.Speed = 20
	noSpeed := benchJob()
	noSpeed.Speed = 0
	for _, c := range []struct {
		name, travel string
		rules        []string
		job          move.Job
		m            move.Move
		want         string
	}{
		{"wide", "{{.X}}", []string{"numbers: {width: {length: 8}}"}, benchJob(), travelTo(10000, 0, 0, geom.RPY{}), "p.yaml:3:1: the figure 10000.000 has 9 characters, wider than the family's field of 8 [figure-too-wide]\n"},
		{"nothing", "{{.Speed}}", []string{"speed_unit: m/s"}, benchJob(), slow, "p.yaml:3:1: a figure rounds to nothing: 0.02 m/s is written 0.0 [rounds-to-nothing]\n"},
		{"percent", "{{.Speed}}", []string{"speed_unit: percent"}, noSpeed, slow, "cubes.plan.yaml:2:8: this family writes speeds in percent of the machine's own, which the cell does not give [machine-speed-unknown]\n"},
		{"line", strings.Repeat("x", 41), []string{"longest_line: 40"}, benchJob(), slow, `p.yaml:3:1: a line of the program comes out 41 characters long, at most 40 fit: "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx…" [line-too-long]` + "\n"},
		{"letters", `{{lower "X"}}{{.X}}`, []string{"letters: 'A-Z0-9.'"}, benchJob(), slow, `p.yaml:3:1: a line of the program holds 'x', which is not among the family's "letters": "x1.000" [letter-not-allowed]` + "\n"},
	} {
		if _, found := travelled(t, ruled(t, c.travel, c.rules...), c.job, c.m); found != c.want {
			t.Errorf("%s: %s, want %s", c.name, found, c.want)
		}
	}
}

// A line that is too long says what makes it so, and a comment of which nothing would be
// left is left out instead of making it so.
func TestLongLinesSayWhy(t *testing.T) {
	m := travelTo(1, 2, 3, geom.RPY{Roll: 180})
	m.Target = move.Target{Grid: "tray with a long name"}
	for _, c := range []struct{ travel, line, hint string }{
		{strings.Repeat("x", 30) + " {{comment .Target}}", strings.Repeat("x", 30) + " (tray...)", ""},
		{strings.Repeat("x", 34) + " {{comment .Target}}", strings.Repeat("x", 34), ""},
		{strings.Repeat("x", 39) + "{{comment .Target}}{{.Target}}", strings.Repeat("x", 39), ""},
		{strings.Repeat("x", 41) + " {{comment .Target}}", "", `"` + strings.Repeat("x", 39) + `…" alone has 41 characters: write fewer decimals`},
		{strings.Repeat("xx ", 14) + "x", "", "write fewer decimals, make two lines of it in the template"},
		{"{{.X}} (" + strings.Repeat("at X {{.X}} ", 4) + ")", "", "without its comment it has 5 characters: write {{comment …}} in the template, which is cut to fit"},
		{strings.Repeat("\u00a0", 41) + "x", "", "write fewer decimals, make two lines"},
	} {
		var list diag.List
		var out bytes.Buffer
		f := ruled(t, c.travel, "longest_line: 40", "encoding: utf-8", `comment: {open: "(", close: ")"}`)
		if err := render.Program(&out, f, benchJob(), move.Batched(slices.Values([]move.Move{m})), &list); err != nil {
			t.Fatal(err)
		}
		found := list.Sorted()
		switch {
		case c.hint == "" && (len(found) > 0 || out.String() != "BEGIN\n"+c.line+"\nEND\n"):
			t.Errorf("%s: %q %v", c.travel, out.String(), found)
		case c.hint != "" && (len(found) != 1 || !strings.Contains(found[0].Hint, c.hint)):
			t.Errorf("%s: %v, wanted the hint %q", c.travel, found, c.hint)
		}
	}
}

func TestOutputIsBounded(t *testing.T) {
	var list diag.List
	endless := func(yield func(move.Move) bool) {
		for yield(travelTo(1, 2, 3, geom.RPY{Roll: 180})) {
		}
	}
	job := benchJob()
	job.Counts.Moves = 1 // so that nobody counts to the end of it
	var out bytes.Buffer
	err := render.ProgramWith(&out, ruled(t, "{{.X}}"), job, move.Batched(endless), &list, render.Options{MostBytes: 5000})
	if err != nil || out.Len() > 5000 || !strings.Contains(found(&list), "cubes.plan.yaml:2:8: the program is longer than 5000 bytes [output-too-large]") {
		t.Errorf("%d bytes, %v, %s", out.Len(), err, found(&list))
	}
}

func TestLineEndsAndEncodings(t *testing.T) {
	m := travelTo(1, 2, 3, geom.RPY{Roll: 180})
	m.Target.Pose = "Größe e\u0301 水 – Ł"
	for _, c := range []struct{ rules, want string }{
		{"line_end: lf\nencoding: utf-8", "; Größe e\u0301 水 – Ł\n"},
		{"line_end: crlf\nencoding: ascii", "; Grosse e ? - L\r\n"},
		{"line_end: cr\nencoding: latin-1", "; Gr\xf6\xdfe \xe9 ? - L\r"},
		{"line_end: lf\nletters: 'A-Z;-'\ncomment: {open: '; ', otherwise: '-'}\nencoding: ascii", "; GROSSE E - - L\n"},
	} {
		if got, found := travelled(t, ruled(t, "{{.Target}}", strings.Split(c.rules, "\n")...), benchJob(), m); got != c.want || found != "" {
			t.Errorf("%s: %q, want %q; %s", c.rules, got, c.want, found)
		}
	}
}

func TestBlockNumberWidth(t *testing.T) {
	f := ruled(t, "a\nb", "block_numbers: {prefix: N, start: 5, step: 5, highest: 15, width: 4}")
	if text, _ := program(t, f, benchJob(), travelTo(1, 2, 3, geom.RPY{})); text != "N0005 BEGIN\nN0010 a\nN0015 b\nN0005 END\n" {
		t.Errorf("%q", text)
	}
}

// The cautions are never cut, however narrow the family.
func TestCautionsFit(t *testing.T) {
	whole := strings.Join(rules.Cautions, " ")
	for _, longest := range []int{0, 40, 60, 80, 256} {
		rules := []string{fmt.Sprintf("longest_line: %d", longest), "block_numbers: {prefix: N, start: 1, step: 1, highest: 99999}"}
		if longest == 0 {
			rules = rules[1:]
		}
		f := ruled(t, "x", rules...)
		lines := f.Rules.Cautions()
		if strings.Join(lines, " ") != whole {
			t.Errorf("at %d words are lost", longest)
		}
		for _, line := range lines {
			if room := f.Rules.CommentRoom(); room > 0 && len(line) > room {
				t.Errorf("at %d: %q has %d characters, room is %d", longest, line, len(line), room)
			}
		}
	}
}

// store keeps files in memory.
type store struct {
	names []string
	texts map[string]*bytes.Buffer
	fail  string
}

type stored struct{ *bytes.Buffer }

func (stored) Close() error { return nil }

func (s *store) create(name string) (io.WriteCloser, error) {
	if name == s.fail {
		return nil, fmt.Errorf("no room for %s", name)
	}
	s.names = append(s.names, name)
	s.texts[name] = new(bytes.Buffer)
	return stored{s.texts[name]}, nil
}

// transfers is n transfers of a select, k travels and a note.
func transfers(n, k int) []move.Move {
	var all []move.Move
	for i := range n {
		all = append(all, move.Move{Kind: move.Select, Frame: "bath", FrameNumber: 2, Tool: "jaw", ToolNumber: 1, Transfer: i + 1})
		for range k {
			m := travelTo(float64(len(all)), 0, 0, geom.RPY{Roll: 180})
			m.Transfer = i + 1
			all = append(all, m)
		}
		all = append(all, move.Move{Kind: move.Note, Text: "x", Transfer: i + 1})
	}
	for i := range all {
		all[i].N = i + 1
		all[i].Place = diag.Place{File: "p.yaml", Line: 3 + all[i].Transfer, Col: 1}
	}
	return all
}

func TestParts(t *testing.T) {
	f := ruled(t, "{{.X}}", "most_lines: 50")
	s := &store{texts: map[string]*bytes.Buffer{}}
	var list diag.List
	var traced []string
	err := render.Files(s.create, f, benchJob(), move.Batched(slices.Values(transfers(10, 18))), &list, render.Options{
		Trace: func(m move.Move, file string, first, last int) {
			if m.Kind == move.Travel {
				traced = append(traced, fmt.Sprintf("%s:%d-%d %g", file, first, last, m.Base.X))
			}
		},
	})
	if err != nil || list.Len() > 0 {
		t.Fatal(err, found(&list))
	}
	// Ten transfers of twenty lines, 47 of which leave room for head, select and
	// end: two to a part.
	want := []string{"cubes-001.txt", "cubes-002.txt", "cubes-003.txt", "cubes-004.txt", "cubes-005.txt", "cubes.txt"}
	if !slices.Equal(s.names, want) {
		t.Fatalf("files %q, want %q", s.names, want)
	}
	main := "BEGIN\n"
	for k := 1; k <= 5; k++ {
		main += fmt.Sprintf("CALL Mortar_cubes_28_days_%03d cubes-%03d.txt\n", k, k)
	}
	if got := s.texts["cubes.txt"].String(); got != main+"END\n" {
		t.Errorf("main text\n%s", got)
	}
	for k, name := range want[:5] {
		text := s.texts[name].String()
		if n := strings.Count(text, "\n"); n > 50 {
			t.Errorf("%s has %d lines", name, n)
		}
		head := fmt.Sprintf("PART Mortar_cubes_28_days_%03d %d %d\n", k+1, k+1, k*40+1)
		if k > 0 {
			head += "SELECT\n" // once more, so that the part does not rest on the one before
		}
		if !strings.HasPrefix(text, head+"SELECT\n") || !strings.HasSuffix(text, fmt.Sprintf("NOTE\nTILL %d\n", k*40+40)) {
			t.Errorf("%s:\n%s", name, text)
		}
	}
	for _, entry := range traced {
		var first, last int
		var x float64
		i := strings.LastIndex(entry, ":")
		file := entry[:i]
		if _, err := fmt.Sscanf(entry[i+1:], "%d-%d %g", &first, &last, &x); err != nil {
			t.Fatal(err)
		}
		if line := strings.Split(s.texts[file].String(), "\n")[first-1]; first != last || line != fmt.Sprintf("%.3f", x) {
			t.Errorf("%s: the line reads %q", entry, line)
		}
	}
	if len(traced) != 180 {
		t.Errorf("%d travels traced of 180", len(traced))
	}
}

// What fits one file comes in one, to the last line.
func TestOneFileWhereItFits(t *testing.T) {
	f := ruled(t, "{{.X}}", "most_lines: 50")
	for n, files := range map[int]int{46: 1, 47: 2} { // and four lines more
		s := &store{texts: map[string]*bytes.Buffer{}}
		var list diag.List
		moves := transfers(1, n)
		if err := render.Files(s.create, f, benchJob(), move.Batched(slices.Values(moves)), &list, render.Options{}); err != nil {
			t.Fatal(err)
		}
		if len(s.names) != files {
			t.Errorf("%d travels: files %q; %s", n, s.names, found(&list))
		}
	}
}

func TestPartsFindings(t *testing.T) {
	f := ruled(t, "{{.X}}", "most_lines: 50")
	for want, moves := range map[string][]move.Move{
		"p.yaml:5:1: transfer 2 takes 52 lines, at most 50 lines fit in a file [transfer-too-long]\n":                                    slices.Concat(transfers(1, 3), renumbered(transfers(1, 50), 2)),
		"cubes.plan.yaml:2:8: the main text that calls the program's 60 parts has 62 lines, at most 50 fit in a file [too-many-parts]\n": transfers(60, 40),
	} {
		s := &store{texts: map[string]*bytes.Buffer{}}
		var list diag.List
		if err := render.Files(s.create, f, benchJob(), move.Batched(slices.Values(moves)), &list, render.Options{}); err != nil {
			t.Fatal(err)
		}
		if got := found(&list); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
	s := &store{texts: map[string]*bytes.Buffer{}, fail: "cubes-003.txt"}
	err := render.Files(s.create, f, benchJob(), move.Batched(slices.Values(transfers(10, 18))), new(diag.List), render.Options{})
	if err == nil || err.Error() != "no room for cubes-003.txt" {
		t.Errorf("error %v", err)
	}
}

func renumbered(moves []move.Move, transfer int) []move.Move {
	for i := range moves {
		moves[i].Transfer, moves[i].Place.Line = transfer, 3+transfer
	}
	return moves
}

// Halves go away from zero in every unit, and nothing is ever -0.
func TestRoundingInUnits(t *testing.T) {
	f := ruled(t, "{{.X}} {{.Y}} {{.Z}}", "length_unit: inch", "decimals: {length: 0, angle: 0, time: 0, speed: 0, mass: 0}")
	if got, _ := travelled(t, f, benchJob(), travelTo(12.7, -12.7, -12.6, geom.RPY{})); got != "1 -1 0\n" {
		t.Errorf("half an inch, its opposite and a little less: %q", got)
	}
	if got, _ := travelled(t, f, benchJob(), travelTo(math.Copysign(0, -1), -1e-9, 38.1, geom.RPY{})); got != "0 0 2\n" {
		t.Errorf("%q", got)
	}
}
