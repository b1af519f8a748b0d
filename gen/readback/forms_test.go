package readback_test

import (
	"io/fs"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"gridferry/gen/seal"
	"gridferry/plan"
	"gridferry/templates"
)

// starterWith is the starter family with texts replaced in its files.
func starterWith(t *testing.T, replacements ...string) fstest.MapFS {
	t.Helper()
	family := fstest.MapFS{}
	for _, name := range []string{"family.yaml", "program.tmpl"} {
		data, err := fs.ReadFile(templates.FS, "starter/"+name)
		if err != nil {
			t.Fatal(err)
		}
		text := string(data)
		for i := 0; i < len(replacements); i += 2 {
			text = strings.ReplaceAll(text, replacements[i], replacements[i+1])
		}
		family[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return family
}

// rotations is how each form is written in the starter's lines.
var rotations = map[string][2]string{
	"moving-zyx": {"a={{.Turn1}} b={{.Turn2}} c={{.Turn3}}", "a={turn1} b={turn2} c={turn3}"},
	"moving-zyz": {"a={{.Turn1}} b={{.Turn2}} c={{.Turn3}}", "a={turn1} b={turn2} c={turn3}"},
	"quaternion": {"q={{.QW}},{{.QX}},{{.QY}},{{.QZ}}", "q={qw},{qx},{qy},{qz}"},
	"vector":     {"v={{.RX}},{{.RY}},{{.RZ}}", "v={rx},{ry},{rz}"},
	"vertical":   {"c={{.Turn}}", "c={turn}"},
}

// TestRotationsAndUnits reads back every form of a rotation in every unit, and
// sees one digit in the last decimal.
func TestRotationsAndUnits(t *testing.T) {
	t.Parallel()
	forms := slices.Sorted(maps.Keys(rotations))
	speeds := []string{"mm/min", "m/s", "inch/min", "percent"}
	for i, form := range forms {
		formReadsBack(t, form, speeds[i%len(speeds)], "")
		formReadsBack(t, form, speeds[(i+1)%len(speeds)], "length_unit: inch\nangle_unit: rad\nmass_unit: lb\n")
	}
}

func formReadsBack(t *testing.T, form, speed, units string) {
	t.Helper()
	wording, coordinates := rotations[form], "frame"
	if form == "vertical" {
		coordinates = "base"
	}
	f := load(t, starterWith(t,
		"rotation: fixed-xyz", "rotation: "+form+"\n"+units, "coordinates: frame", "coordinates: "+coordinates, "speed_unit: mm/s", "speed_unit: "+speed,
		"decimals: {length: 3, angle: 3, time: 2, speed: 1, mass: 3}", "decimals: {length: 4, angle: 6, time: 2, speed: 3, mass: 3}",
		"roll={{.Roll}} pitch={{.Pitch}} yaw={{.Yaw}}", wording[0], "roll={roll} pitch={pitch} yaw={yaw}", wording[1]), "forms")
	j := job(t, demos+"/tube-rack.plan.yaml")
	program, ok := write(t, j, f)
	if !ok {
		t.Errorf("%s %s: %s", form, speed, told(&j.Findings))
		return
	}
	if v := verify(t, j, f, program); !v.Same() || v.Moves < 300 {
		t.Errorf("%s %s: %s", form, speed, words(t, v))
	}
	for _, what := range []string{"x=", "speed=", "load=", "fly_by="} {
		if v := verify(t, j, f, lastDigit(t, program, what)); v.Same() {
			t.Errorf("%s %s: a digit of %q goes unseen", form, speed, what)
		}
	}
}

// TestBoundsAreReadBackFromBelow: a speed and a fly-by are written cut off, which reads
// back; the figure above what was asked for does not, nor the next one below.
func TestBoundsAreReadBackFromBelow(t *testing.T) {
	f := load(t, starterWith(t, "speed_unit: mm/s", "speed_unit: m/s", "decimals: {length: 3,", "length_unit: inch\ntolerance: {position: 1}\ndecimals: {length: 2,", "speed: 1,", "speed: 2,"), "bounds")
	for _, c := range []struct{ speed, flyBy, written string }{
		{"399.9", "5", "speed=0.39 fly_by=0.19 "},   // 5 mm are 0.1968… inch
		{"390", "4.826", "speed=0.39 fly_by=0.19 "}, // nothing to be cut off
	} {
		j := job(t, demos+"/tube-rack.plan.yaml", plan.Setting{Path: "motion.speed.travel", Value: c.speed}, plan.Setting{Path: "motion.fly_by", Value: c.flyBy})
		program, ok := write(t, j, f)
		if !ok || !strings.Contains(program, c.written) {
			t.Fatalf("%s\n%s", told(&j.Findings), program)
		}
		if v := verify(t, j, f, program); !v.Same() {
			t.Errorf("it is not what was written: %s", words(t, v))
		}
		for _, other := range []string{"speed=0.40 fly_by=0.19 ", "speed=0.38 fly_by=0.19 ", "speed=0.39 fly_by=0.20 ", "speed=0.39 fly_by=0.18 "} {
			if v := verify(t, j, f, strings.Replace(program, c.written, other, 1)); v.Same() || v.Changed != 1 {
				t.Errorf("%s mm/s and %s mm: %s goes unseen: %s", c.speed, c.flyBy, other, words(t, v))
			}
		}
	}
}

// lastDigit changes the last digit of the first figure behind a word by two,
// which lies outside of any rounding.
func lastDigit(t *testing.T, program, word string) string {
	t.Helper()
	at := strings.Index(program, word)
	if at < 0 {
		t.Fatalf("no %q in the program", word)
	}
	for at += len(word); at < len(program) && strings.IndexByte("-0123456789.", program[at]) >= 0; {
		at++
	}
	digit := '0' + (program[at-1]-'0'+2)%10
	return program[:at-1] + string(digit) + program[at:]
}

// TestModesAndWhens: a family may tell a move in several lines.
func TestModesAndWhens(t *testing.T) {
	f := load(t, starterWith(t,
		"select frame={{.Frame}} tool={{.Tool}} load={{.Load}}\n",
		"{{if .FrameChanged}}frame {{.Frame}}\n{{end}}{{if .LoadChanged}}load {{.Tool}} {{.Load}}\n{{end -}}\n",
		" speed={{.Speed}} fly_by={{.FlyBy}} {{comment .Target}}", "",
		"travel {{template", "rate {{.Speed}}\npass {{.FlyBy}}\ntravel {{template",
		"straight {{template", "rate {{.Speed}}\npass {{.FlyBy}}\nstraight {{template",
		"'select frame={frame} tool={tool} load={load}', is: select}", "'frame {frame}', is: select, when: frame-changed}\n  - {line: 'load {tool} {load}', is: select, when: load-changed}\n"+
			"  - {line: 'rate {speed}', is: mode}\n  - {line: 'pass {fly_by}', is: mode}",
		" speed={speed} fly_by={fly_by}'", "'"), "modes")
	j := job(t, demos+"/tube-rack.plan.yaml")
	program, ok := write(t, j, f)
	if !ok {
		t.Fatal(told(&j.Findings))
	}
	if v := verify(t, j, f, program); !v.Same() {
		t.Fatal(words(t, v))
	}
	for _, c := range [][2]string{
		{"frame left", "frame right"}, {"frame left\n", ""}, {"load cup 0.310\n", ""}, {"rate 400.0", "rate 300.0"}, {"pass 5.000", "pass 6.000"}, {"rate 400.0\n", ""},
	} {
		if !strings.Contains(program, c[0]) {
			t.Errorf("the program holds no %q", c[0])
		}
		if v := verify(t, j, f, strings.Replace(program, c[0], c[1], 1)); v.Same() {
			t.Errorf("%q in place of %q goes unseen", c[1], c[0])
		}
	}
}

// TestWriteRefusesWhatDoesNotReadBack: what a template writes must say what the
// move says.
func TestWriteRefusesWhatDoesNotReadBack(t *testing.T) {
	for _, c := range []struct {
		name         string
		replacements []string
		want         string
	}{
		{"axes swapped", []string{"y={{.Y}}", "y={{.Z}}"}, "(travel to clear) has y 0.0000 mm, but line 12 of the program reads 200.0000 mm"},
		{"a level that is always on", []string{"grip output={{.Signal}} level={{.Level}}", "grip output={{.Signal}} level=on", "release output={{.Signal}} level={{.Level}}", "release output={{.Signal}} level=on"},
			"has level off, but line 13 of the program reads on"},
		{"a block that writes nothing", []string{"grip output={{.Signal}} level={{.Level}} {{comment .ToolLabel}}\n", ""}, "is grip at open A1, but line 18 of the program reads as dwell"},
		{"too few decimals", []string{"dwell seconds={{.Seconds}}", "dwell seconds={{trimSuffix \"5\" .Seconds}}"}, "has time 0.2500 s, but line"},
		{"a line of another kind", []string{"dwell seconds={{.Seconds}}", "pause for {{.Seconds}}"}, "line 14 of the program matches nothing under \"reads\": \"pause for 0.20\""},
		{"a move twice", []string{"release output={{.Signal}} level={{.Level}} {{comment .ToolLabel}}\n", "release output={{.Signal}} level={{.Level}}\nrelease output={{.Signal}} level={{.Level}}\n"},
			"is dwell, but line 14 of the program reads as release"},
	} {
		f := load(t, starterWith(t, c.replacements...), "wrong")
		j := job(t, demos+"/tube-rack.plan.yaml")
		if _, ok := write(t, j, f); ok || !strings.Contains(told(&j.Findings), c.want) {
			t.Errorf("%s: wanted %q, found\n%s", c.name, c.want, told(&j.Findings))
		}
	}
}

// TestWarnings: a family may say nothing about its lines, or not everything.
func TestWarnings(t *testing.T) {
	rules := string(starterWith(t)["family.yaml"].Data)
	reads := rules[strings.Index(rules, "reads:"):]
	for _, c := range []struct{ name, old, with, want string }{
		{"nothing", reads, "", "w/family.yaml: the family does not say how its lines read, so that its programs are not read back [no-read-back]"},
		{"all", "x", "x", ""},
		{"no seal", `comment: {open: "# "}`, `comment: {open: "# ", replace: {"0": "o"}}`, "w/family.yaml: programs of this family carry no seal, because its comment rules do not let one through [no-seal]"},
	} {
		family := starterWith(t, c.old, c.with)
		f := load(t, family, "w")
		j := job(t, demos+"/tube-rack.plan.yaml")
		if _, ok := write(t, j, f); !ok {
			t.Errorf("%s: %s", c.name, told(&j.Findings))
		}
		if got := strings.TrimSuffix(told(&j.Findings), "\n"); got != c.want {
			t.Errorf("%s: got %q, wanted %q", c.name, got, c.want)
		}
	}
}

// TestNoComments: without comments there is no seal, and the moves still show what changed.
func TestNoComments(t *testing.T) {
	f := load(t, starterWith(t, `comment: {open: "# "}`, "comment: none"), "none")
	j := job(t, demos+"/tube-rack.plan.yaml")
	program, ok := write(t, j, f)
	if !ok || strings.Contains(program, "seal") {
		t.Fatalf("%s", told(&j.Findings))
	}
	v := verify(t, j, f, program)
	if !v.Same() || v.Files[0].State != seal.None || !strings.Contains(words(t, v), "programs of this family carry none") {
		t.Error(words(t, v))
	}
}

// TestVerifySaysWhatChangedSince: the plan or the family.
func TestVerifySaysWhatChangedSince(t *testing.T) {
	f := shipped(t, "iso6983")
	program, _ := write(t, hostileJob(t, "one"), f)
	v := verify(t, hostileJob(t, "two"), f, program)
	if text := words(t, v); !v.Same() || !strings.Contains(text, "the plan, its cell or a setting has changed since then") || strings.Contains(text, "by hand") {
		t.Error(text)
	}
	f = shipped(t, "starter")
	program, _ = write(t, hostileJob(t, "one"), f)
	other := load(t, starterWith(t, "title: The smallest", "title: A small"), "starter")
	if text := words(t, verify(t, hostileJob(t, "one"), other, program)); !strings.Contains(text, "the family has changed since then") {
		t.Error(text)
	}
}
