package gen_test

import (
	"io"
	"io/fs"
	"math"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"gridferry/gen"
	"gridferry/gen/family"
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/plan"
	"gridferry/templates"
)

// A gantry with a wall between its clear pose and one of the two grids: straight lines
// from the clear pose lead over it.
const gantryPlan = `format: gridferry plan 1
cell:
  format: gridferry cell 1
  name: gantry
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 0.5, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  poses: {clear: {at: [150, 0, 270]}}
  keep_out: {wall: {from: [290, -200, 0], to: [300, 200, 150]}}
parts: {block: {mass: 0.2, size: [20, 20, 20]}}
grids:
  left: {frame: base, rows: 2, columns: 3, pitch: [40, 40], first: [110, -20, 30], part: block, filled: all}
  right: {frame: base, rows: 2, columns: 3, pitch: [40, 40], first: [400, -20, 30], part: block}
motion: {tool: jaw, approach: 70, speed: {travel: 500, near: 60}, clear: clear}
transfers:
  - {from: left, to: right}
`

// loaded is a shipped family, with more rules.
func loaded(t *testing.T, j *gen.Job, name, more string) *family.Family {
	t.Helper()
	files := fstest.MapFS{}
	err := fs.WalkDir(templates.FS, name, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := fs.ReadFile(templates.FS, path)
		if d.Name() == "family.yaml" {
			text = append(text, more...)
		}
		files[d.Name()] = &fstest.MapFile{Data: text}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	f, ok := j.LoadFamily(files, name)
	if !ok {
		t.Fatal(errorsOf(j))
	}
	return f
}

// TestTravelsByAxesAreProved: the wall is in the way of a family that moves each axis
// for itself, and of no other. ISO 6983-1 leaves open whether the motions of a G0 are
// coordinated (from memory); which travels then enter the wall is worked out here by
// axes that all go equally fast.
func TestTravelsByAxesAreProved(t *testing.T) {
	towers := strings.NewReplacer("wall: {from: [290, -200, 0], to: [300, 200, 150]}", "", "parts: {", "parts: {tower: {mass: 2, size: [10, 10, 150]}, ",
		"  left:", "  towers: {frame: base, rows: 2, columns: 1, pitch: [0, 40], first: [295, -20, 75], part: tower, filled: all}\n  left:").Replace(gantryPlan)
	for _, tt := range []struct{ plan, family, more, want string }{
		{towers, "iso6983", "", `the TCP may be 5.0 mm deep in the part at "towers B1", while each axis moves for itself on the way to "clear"`},
		{towers, "st", "", ""},
		{towers, "st", "travel_path: line\n", ""},
		{strings.Replace(towers, "150, 0, 270", "150, 0, 180", 1), "st", "travel_path: line\n", `"towers A1", on the straight line to "right`},
		{gantryPlan, "iso6983", "", `the TCP may be in the keep-out box "wall", 50.0 mm deep, while each axis moves for itself on the way to "right A1 approach"`},
		{gantryPlan, "st", "", ""},
		{gantryPlan, "st", "travel_path: line\n", ""},
		{strings.Replace(gantryPlan, "150, 0, 270", "150, 0, 180", 1), "st", "travel_path: line\n", `"wall", 17.1 mm deep, on the straight line to "right`},
	} {
		j := jobOf(t, tt.plan)
		if !j.Check() {
			t.Fatal(errorsOf(j))
		}
		ok := j.CheckFor(loaded(t, j, tt.family, tt.more))
		if got := errorsOf(j); ok != (tt.want == "") || !strings.Contains(got, tt.want) {
			t.Errorf("%s %s: sound %t, %s", tt.family, tt.more, ok, got)
		}
	}
}

// TestOnlyTravelsThroughTheWall counts them.
func TestOnlyTravelsThroughTheWall(t *testing.T) {
	j := jobOf(t, gantryPlan)
	inside, travels := map[string]bool{}, 0
	var at *geom.Vec
	for m := range j.Moves() {
		if m.Kind == move.Travel {
			if travels++; at != nil && entersWall(*at, m.Base.Vec) {
				inside[m.Target.String()] = true
			}
		}
		if m.Kind.IsMotion() {
			here := m.Base.Vec
			at = &here
		}
	}
	j.Check()
	j.CheckFor(loaded(t, j, "iso6983", ""))
	said := regexp.MustCompile(`on the way to "(right .*? approach)"`).FindAllStringSubmatch(withNotes(j), -1)
	for _, s := range said {
		if !inside[s[1]] {
			t.Errorf("%q does not lead through the wall", s[1])
		}
	}
	if len(inside) != 6 || len(said) != 2 || travels != 25 {
		t.Errorf("%d travels, %d through the wall: %v\n%s", travels, len(inside), inside, withNotes(j))
	}
}

// withNotes is the findings with their notes.
func withNotes(j *gen.Job) string {
	var b strings.Builder
	for _, f := range j.Findings.Sorted() {
		b.WriteString(f.Message + "\n")
		for _, n := range f.Notes {
			b.WriteString("  " + n.Message + "\n")
		}
	}
	return b.String()
}

// entersWall moves three axes with one speed until each has arrived.
func entersWall(from, to geom.Vec) bool {
	toward := func(a, b, way float64) float64 {
		return a + math.Copysign(math.Min(way, math.Abs(b-a)), b-a)
	}
	for way := 0.0; way < 600; way++ {
		x, y, z := toward(from.X, to.X, way), toward(from.Y, to.Y, way), toward(from.Z, to.Z, way)
		if x > 290 && x < 300 && math.Abs(y) < 200 && z < 150 {
			return true
		}
	}
	return false
}

// TestNothingIsWrittenThroughTheWall: neither is the job sheet.
func TestNothingIsWrittenThroughTheWall(t *testing.T) {
	j := jobOf(t, gantryPlan)
	var text strings.Builder
	if ok, err := j.Sheet(&text, loaded(t, j, "iso6983", "")); ok || err != nil || text.Len() > 0 {
		t.Errorf("sound %t, %v, %d bytes of a sheet", ok, err, text.Len())
	}
	if ok, err := jobOf(t, gantryPlan).Sheet(io.Discard, loaded(t, new(gen.Job), "listing", "")); !ok || err != nil {
		t.Errorf("listing: sound %t, %v", ok, err)
	}
}

// TestNoVariantIsWrittenThroughTheWall: neither is the program of a variant.
func TestNoVariantIsWrittenThroughTheWall(t *testing.T) {
	for name, sound := range map[string]bool{"iso6983": false, "listing": true} {
		j := jobOf(t, gantryPlan)
		folders := gen.Folders{Output: gen.Output{To: t.TempDir()}, Families: []*family.Family{loaded(t, j, name, "")}, MostBytes: 1 << 20, Missing: func(string) {}}
		if !j.Check() {
			t.Fatal(errorsOf(j))
		}
		done, err := folders.Write(j, &plan.Variant{Name: "one"})
		if err != nil || done.Changed != sound || j.Findings.HasErrors() == sound {
			t.Errorf("%s: %+v, %v\n%s", name, done, err, errorsOf(j))
		}
	}
}
