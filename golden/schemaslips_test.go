package golden

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"gridferry/gen/family"
	"gridferry/gen/goldens"
	"gridferry/gen/layout"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// Keys, words and types in the schemas come from the rows that the readers go by. What
// keys ask of each other is said twice, to a reader and to a schema; that, and some of
// the rest, is spoilt here, and both have to refuse it.

// slip is one mistake: a text of a file in testdata/schema, and what stands in its place.
type slip struct{ good, bad string }

var slips = map[string][]slip{
	"every-key.plan.yaml": {
		{"title: 2026", "titel: 2026"},
		{"title: 2026", "title: [a, b]"},
		{"format: gridferry plan 1", "format: gridferry plan 2"},
		{"cell: every-key.cell.yaml\n", ""},
		{"cell: every-key.cell.yaml", "cell: [every-key.cell.yaml]"},
		{"tool: jaw", "tool: null"},
		{"approach: 70", "approach: 0"},
		{"speed: {travel: 500, near: 80 mm/s}", "speed: {travel: 500}"},
		{"near: 80 mm/s", "near: 80 kg"},
		{"fly_by: 15", "blend: 15"},
		{"layers: 1", "layers: 1.5"},
		{"layers: 1\n    pitch: [65, 65]\n    layer_pitch: 52", "layers: 2\n    pitch: [65, 65]"},
		{"pitch: [65, 65]\n    layer_pitch", "pitch: [65]\n    layer_pitch"},
		{"    pitch: [65, 65]\n    layer_pitch", "    layer_pitch"},
		{`filled: "A1:B6"`, "filled: {}"},
		{"pallet: 1200x800", "pallet: 1200x801"},
		{"pallet: [600, 400 mm]", "pallet: [600]"},
		{"pallet: [600, 400 mm]", "pallet: [600, 0]"},
		{"pattern: brick", "pattern: bricks"},
		{"boxes: {layers: 3,", "boxes: {layers: 0,"},
		{"boxes: {layers: 3,", "layers: 3, boxes: {"},
		{"gap: 2", "gap: -1"},
		{"alternate: turn", "alternate: turned"},
		{"side: +x", "side: left"},
		{", pallet: 1200x1000, part: cube", ", part: cube"},
		{", pallet: 1200x1000, part: cube", ", pallet: 1200x1000"},
		{"turned: 90}]", "turned: 45}]"},
		{"turned: 90}]", "turned: 90}], gap: 2"},
		{"{at: [100, 25]}", "{turned: 0}"},
		{"pattern: [{at: [100, 25]}, {at: [175 mm, 100], turned: 90}]", "pattern: []"},
		{"standard: ansi-slas-96, corner: top-left, height: 14.35", "standard: ansi-slas-96, corner: top-left, height: 14.35, boxes: {layers: 2}"},
		{"flow: out", "flow: through"},
		{`filled: "A1:B6"`, "filled: A1:B6\n    flow: in"},
		{"corners_in: frame", "corners_in: bench"},
		{"nominal_pitch: [65, 65]", "first: [0, 0, 0]"},
		{"corner: top-left", "corner: top"},
		{"standard: ansi-slas-96, corner: top-left, height: 14.35", "rows: 1, columns: 1, first: [0, 0, 0], height: 14.35"},
		{"height: 14.35", "height: 14.35, rows: 8"},
		{", height: 14.35", ""},
		{"radius: [60, 9 cm]", "radius: [60, 0]"},
		{"radius: 40", "radius: -40"},
		{"radius: 40, places: 6", "places: 6"},
		{"radius: 40, places: 6", "radius: 40"},
		{"radius: 40, places: 6", "radius: [], places: 6"},
		{"places: [6, 12]", "places: [6, 0]"},
		{"start: 90", "start: east"},
		{"step: 45", "steps: 45"},
		{"turned: radial", "turned: outward"},
		{"layers: 2\n    layer_pitch: 40", "layers: 2"},
		{"first: [-520, 200, 30], ring", "ring"},
		{"first: [-520, 200, 30], ring", "first: [-520, 200, 30], rows: 1, ring"},
		{"frame: press, places", "frame: press, first: [0, 0, 0], places"},
		{"{frame: press, places: {", "{frame: press, ring: {radius: 40, places: 6}, places: {"},
		{"{at: [-620, 50, 30], turned: 30}", "{turned: 30}"},
		{"{at: [-620, 50, 30], turned: 30}", "{at: [-620, 50, 30], rpy: 30}"},
		{"[-660, 0, 30]]", "[-660, 0]]"},
		{"B: [{at: [-620, 50, 30], turned: 30}, [-660, 50, 30]]", "B: []"},
		{"B: [{at", "b1: [{at"},
		{"mass: 0.29, ", ""},
		{"size: [50, 50, 2 in], grip", "grip"},
		{"- dwell: 2", "- {dwell: 2, note: two}"},
		{"level: on, within", "level: high, within"},
		{"else: go-on", "else: wait"},
		{"from: {grid: weights}\n    to: spot", "from: {grid: weights}"},
		{"{from: tray A1:B6, to: plate,", "{from: tray A1:B6, to: plate, chain: [tray, plate],"},
		{"    advance: part", "    advance: parts"},
		{"contents: every-key.contents.csv", "contents: [every-key.contents.csv]"},
		{"contents: every-key.contents.csv", "contents: every-key.contents.csv, flow: in"},
		{"list: every-key.list.csv", "list: {file: every-key.list.csv}"},
		{"list: every-key.list.csv", "list: every-key.list.csv\n    order: by-row"},
		{"list: every-key.list.csv", "list: every-key.list.csv\n    from: tray"},
		{"list: every-key.list.csv", "list: every-key.list.csv\n    at_once: 2"},
		{"list: every-key.list.csv\n", "from: tray A1\n    to: spot\n"},
		{"order: by-row", "order: {from: by-line}"},
		{"take: 4", `take: "4"`},
		{"- {name: small, set: {grids.tray.rows: 2}}", "- {set: {grids.tray.rows: 2}}"},
	},
	"every-key.cell.yaml": {
		{"grip: {output: 1, level: on, settle: 400 ms}", "grip: {output: 1, settle: 400 ms}"},
		{"grip: {output: 1, level: on, settle: 400 ms}", "grip: {settle: 400 ms}"},
		{"set: {2: on", "output: 2, level: on, set: {2: on"},
		{"set: {2: on", "level: on, set: {2: on"},
		{`{2: on, "3": off}`, "{}"},
		{`{2: on, "3": off}`, `{two: on}`},
		{`"3": off`, `3: low`},
		{"4: 200 ms", "4: 0"},
		{"    centre_of_gravity: [0, 0, 61]\n", ""},
		{"inertia: [0.002, 20 kg*cm2", "inertia: [0, 20 kg*cm2"},
		{"20 kg*cm2", "20 kg"},
		{"within: 1 s", "within: 0"},
		{", within: 1 s", ""},
		{"release: {set: {2: off, 3: on}", "release: {holds: {input: 5, level: on, within: 1}, set: {2: off, 3: on}"},
		{"{name: J1, axis: [0, 0, 1], point", "{name: J1, point"},
		{"axis: [0, 0, 1], point: [0, 0, 0]", "axis: [0, 0, 1]"},
		{"axis: [0, 0, 1], point", "axis: [0, 0, 1], slides: [0, 0, 1], point"},
		{", range: [-180, 180]", ""},
		{"range: [-170, 170], ", "range: [-170], "},
		{"speed: 200 deg/s", "speed: 0"},
		{"  flange: {at: [390, 0, 600], rpy: [0, 90, 0]}\n", ""},
		{"  flange: {at", "  dh: {convention: standard, rows: [{range: [0, 1]}]}\n  flange: {at"},
		{"  at: [0, 0, 10]", "  quaternion: [1, 0, 0, 0]"},
		{"  at: [0, 0, 10]", "  from: foot"},
		{"elbow: up", "elbow: left"},
		{"{sphere: {at: [40, 0, 300], radius: 80}}", "{sphere: {at: [40, 0, 300]}}"},
		{"{sphere: {at", "{box: {from: [0, 0, 0], to: [1, 1, 1]}, sphere: {at"},
		{", rpy: [0, 90, 90]}]", "}]"},
		{"known: [{joints: [0, 0, 0, 0, 0, 0 deg], ", "known: [{"},
		{"  known: [{joints: [0, 0, 0, 0, 0, 0 deg], at: [0, 390, 610], rpy: [0, 90, 90]}]\n", ""},
		{"stand: {joints: [0, -20, 15, 0, 85, 0]}", "stand: {}"},
		{"stand: {joints: [0, -20, 15, 0, 85, 0]}", "stand: {joints: [0, -20, 15, 0, 85, 0], frame: base}"},
		{"stand: {joints: [0, -20, 15, 0, 85, 0]}", "stand: {joints: all}"},
		{"name: a bench with everything", "name: {a: bench}"},
		{"rated_load: 3", "payload: 3"},
		{"speed: 1000", "speed: fast"},
		{"radius: [160, 720]", "radius: [160, 720, 1000]"},
		{"mass: 850 g\n", "mass: -1\n"},
		{"    mass: 850 g\n", ""},
		{"tcp: {at: [0, 0, 132], rpy", "tcp: {rpy"},
		{"to: [45, 40, -50]}", "to: [45, 40]}"},
		{"{from: [-45, -40, -132], to", "{to"},
		{"    body:\n", "    radius: 40\n    body:\n"},
		{"rpy: [0, 0, 0.5 rad]", "rpy: [0, 0, 0], quaternion: [1, 0, 0, 0]"},
		{"tcp: {at: [0, 0, 132], rpy", "tcp: {at: [0, 0, 132], tolerance: 1, rpy"},
		{"{at: [470, 220, 150], rpy: [0, 0, 0]}", "{at: [470, 220, 150]}"},
		{"settle: 400 ms", "settle: soon"},
		{"press: {at: [250, 180, 60], rpy: [0, 0, 90], parent: base}", "press: {parent: base}"},
		{"press: {at: [250, 180, 60], rpy", "press: {rpy"},
		{"press: {at", "press: {best_fit: {points: []}, at"},
		{"toward_y", "towards_y"},
		{"poses:", "waypoints:"},
		{"from: [-20, -30, 0], ", ""},
	},
	"every-key.measured.yaml": {
		{"format: gridferry measured 1", "format: gridferry cell 1"},
		{"mass: 0.9", "weight: 0.9"},
		{"tools:", "tool:"},
	},
	"every-key.variants.yaml": {
		{"- {name: small, ", "- {"},
		{"cells: [bench-a.cell.yaml, bench-b.cell.yaml]", "cells: bench-a.cell.yaml"},
		{"each: {", "every: {"},
	},
	"every-key.slots.yaml": {
		{"removed: 1", "removed: -1"},
		{"rack: none", "rack: {}"},
		{"filled:", "full:"},
	},
	"three.frame-points.yaml": {{"origin: [310, -210, 42], ", ""}, {"three_points", "points"}},
	"bare.frame-points.yaml":  {{"nominal: [400, 0, 0], ", ""}},
	"turned.tool-points.yaml": {{"rpy: [0, 0, 90]", "rpy: [0, 0, 90]\nquaternion: [1, 0, 0, 0]"}, {"pivot:", "pivots:"}},
	"every-key.grid-points.yaml": {
		{"corners_in: base", "corners_in: bench"},
		{"corners: {A1: [40, 40.1, 25], A6: [365.1, 40, 25.3], D1: [39.9, 235.1, 25]}\n", ""},
	},
	"every-key.family.yaml": {
		{"format: gridferry family 1", "format: gridferry family 2"},
		{"extension: .txt", "extension: ../txt"},
		{"line_end: crlf", "line_end: dos"},
		{"letters: A-Z0-9.,:;()=+-", "letters: é"},
		{"longest: 8", "longest: 3"},
		{"decimals: {length: 3", "decimals: {length: 30"},
		{"speed_unit: mm/min\n", ""},
		{`comment: {open: "(", `, "comment: {"},
		{`otherwise: "?"`, `otherwise: "??"`},
		{`unnumbered: ["%"]`, `unnumbered: "%"`},
		{"coordinates: base", "coordinates: frame"},
		{"writes: moves", "writes: loops"},
		{"  note: no words", "  notes: no words"},
		{"is: travel, within", "is: glide, within"},
		{"{line: BEGIN, is: text", "{is: text"},
		{"is: select, when", "is: dwell, when"},
		{"gives: {signal", "gives: {signals"},
	},
	"every-key.case.yaml": {{"plan: ../../plans/cubes.plan.yaml\n", ""}, {"set: [", "sets: ["}},
}

// TestSlipsAreRefused: every slip, by the reader and by the schema, and no file without one.
func TestSlipsAreRefused(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: hundreds of files are read")
	}
	samples := absolute(t, "../testdata/schema")
	for file, slips := range slips {
		t.Run(file, func(t *testing.T) {
			s := readSchema(t, formOf(file))
			t.Chdir(t.TempDir())
			if err := os.CopyFS(".", os.DirFS(samples)); err != nil {
				t.Fatal(err)
			}
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			text := string(data)
			if found := errorsOf(t, s.name, text); len(found) > 0 {
				t.Fatalf("the file is not good to begin with: %v", found[0])
			}
			for _, slip := range slips {
				spoilt := strings.Replace(text, slip.good, slip.bad, 1)
				if spoilt == text {
					t.Fatalf("the file has no %q", slip.good)
				}
				byReader := len(errorsOf(t, s.name, spoilt)) > 0
				bySchema := s.whole.Validate(yaml12.instance(parseYAML(t, spoilt))) != nil
				if !byReader || !bySchema {
					t.Errorf("%q: refused by the reader: %v, by the schema: %v", slip.bad, byReader, bySchema)
				}
			}
		})
	}
}

// readers read a file of each kind with the reader of that kind.
var readers = map[string]func(t *testing.T, text string, list *diag.List){
	"plan": func(_ *testing.T, text string, list *diag.List) {
		readPlan("spoilt.plan.yaml", text, list)
	},
	"cell": func(t *testing.T, text string, list *diag.List) {
		readBeside(t, "spoilt.cell.yaml", text, fmt.Sprintf(aroundCell, "spoilt.cell.yaml"), list)
	},
	"measured": func(t *testing.T, text string, list *diag.List) {
		readBeside(t, "spoilt.measured.yaml", text, fmt.Sprintf(aroundCell, overMeasured), list)
	},
	"variants": func(_ *testing.T, text string, list *diag.List) {
		plan.ReadVariants(plan.Source{File: "spoilt.variants.yaml", Data: []byte(text)}, list, new(diag.Sources))
	},
	"slots": func(_ *testing.T, text string, list *diag.List) {
		plan.ReadFound(plan.Source{File: "spoilt.slots.yaml", Data: []byte(text)}, list, new(diag.Sources))
	},
	"frame-points": pointsReader(plan.PointsOfFrame),
	"tool-points":  pointsReader(plan.PointsOfTool),
	"grid-points":  pointsReader(plan.PointsOfGrid),
	"family": func(_ *testing.T, text string, list *diag.List) {
		family.Load(fstest.MapFS{"family.yaml": {Data: []byte(text)}}, "spoilt", list, new(diag.Sources))
	},
	"case": func(t *testing.T, text string, list *diag.List) {
		folder := t.TempDir()
		keepAs(t, filepath.Join(folder, goldens.CaseFile), text)
		if _, err := goldens.Find(folder, list, new(diag.Sources)); err != nil && !list.HasErrors() {
			t.Fatal(err)
		}
	},
}

const (
	besidePlan = "beside.plan.yaml"
	aroundCell = "{format: gridferry plan 1, cell: %s, grids: {}, motion: {tool: jaw, approach: 1, speed: {travel: 1, near: 1}}, transfers: []}"
	// overMeasured is a cell that needs nothing from its measured values.
	overMeasured = `{measured: spoilt.measured.yaml,
  tools: {jaw: {tcp: {at: [0, 0, 132]}, mass: 1, grip: {output: 1, level: on}, release: {output: 1, level: off}}},
  frames: {bath: {at: [0, 0, 0]}, press: {at: [0, 0, 0]}, shelf: {at: [0, 0, 0]}}}`
)

// readPlan reads and lays out, which is where some keys are asked for.
func readPlan(file, text string, list *diag.List) {
	p := plan.Read(plan.Source{File: file, Data: []byte(text), Dir: "."}, nil, list, new(diag.Sources))
	if p != nil {
		layout.Resolve(p, layout.Options{Slots: 10_000}, list)
	}
}

// readBeside reads a plan with a file beside it.
func readBeside(t *testing.T, file, text, planText string, list *diag.List) {
	keepAs(t, file, text)
	plan.Read(plan.Source{File: besidePlan, Data: []byte(planText), Dir: "."}, nil, list, new(diag.Sources))
}

func pointsReader(kind string) func(*testing.T, string, *diag.List) {
	return func(_ *testing.T, text string, list *diag.List) {
		plan.ReadPoints(kind, plan.Source{File: "spoilt.yaml", Data: []byte(text)}, list, new(diag.Sources))
	}
}

// ofTemplates are the rules of findings about a family's templates, of which there are
// none here.
var ofTemplates = []string{"missing-block", "unreadable-family", "no-templates"}

// errorsOf is what the reader finds wrong, without what it always does.
func errorsOf(t *testing.T, form, text string) []diag.Finding {
	var list diag.List
	readers[form](t, text, &list)
	return slices.DeleteFunc(list.Sorted(), func(f diag.Finding) bool {
		return f.Severity != diag.Error || slices.Contains(ofTemplates, f.Rule) || f.Place.File == besidePlan
	})
}
