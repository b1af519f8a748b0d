package golden

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"gopkg.in/yaml.v3"

	"gridferry/gen/family"
	"gridferry/gen/goldens"
	"gridferry/gen/layout"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// The schemas are written by hand, beside the reader's tables of keys. What holds
// the two together is this: files that have every key are spoilt in every place in
// every way, and reader and schema have to agree about each of them.

const probeKey = "zzqx" // near no key, so that a hint lists them all

// probes are what is put in the place of a value.
var probes = []string{
	"null", `""`, "word", "on", "true", "0", "-1", "2", "1.5", `"1"`, "2.5 in", `"5 h"`, "[]", "[null]", "[1, 2]", "[1, 2, 3]", "[1, 2, 3, 4]",
	"{}", "{" + probeKey + ": 1}", "[{" + probeKey + ": 1}]",
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

// unspoilt are the values that stay, since another file then says something else.
var unspoilt = map[string]string{
	"measured.cell.yaml/measured": "without that file the tools and frames here lack what it says",
}

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
		return f.Severity != diag.Error || slices.Contains(ofTemplates, f.Rule)
	})
}

// TestSchemasHoldToTheReader spoils every file in every place.
func TestSchemasHoldToTheReader(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: thousands of files are read, one after the other")
	}
	samples := absolute(t, "../testdata/schema")
	for _, form := range formNames {
		t.Run(form, func(t *testing.T) {
			s := readSchema(t, form)
			files, err := filepath.Glob(filepath.Join(samples, "*."+form+".yaml"))
			if err != nil || len(files) == 0 {
				t.Fatalf("%d files, %v", len(files), err)
			}
			t.Chdir(t.TempDir())
			if err := os.CopyFS(".", os.DirFS(samples)); err != nil {
				t.Fatal(err)
			}
			h := holding{t: t, form: form, schema: s, visited: map[string]bool{}, spoilt: map[string]bool{}}
			for _, file := range files {
				h.file(file)
			}
			h.everyKeyWasThere()
			if h.agreed < 50 {
				t.Errorf("%d spoilt files were refused by both, wanted 50 or more", h.agreed)
			}
		})
	}
}

// holding is one schema being held to its reader.
type holding struct {
	t       *testing.T
	form    string
	schema  *printedSchema
	name    string // of the file
	root    *yaml.Node
	keys    map[string][]string // what the schema knows, by the path of a closed mapping
	parts   map[string]string   // the parts of the schema that speak of a path
	visited map[string]bool     // pointers of keys
	spoilt  map[string]bool     // parts, with the keys around, whose values were spoilt
	agreed  int
}

func (h *holding) file(file string) {
	data, err := os.ReadFile(file)
	if err != nil {
		h.t.Fatal(err)
	}
	h.name, h.root, h.keys = filepath.Base(file), parseYAML(h.t, string(data)), map[string][]string{}
	h.parts = map[string]string{}
	if found := errorsOf(h.t, h.form, string(data)); len(found) > 0 {
		h.t.Fatalf("%s is not good to begin with: %v", h.name, found[0])
	}
	h.follow(h.schema.document, "", yaml12.instance(h.root), "")
	h.spoil(h.root.Content[0], "", nil)
}

// follow goes through schema and file together, and notes which keys there are.
func (h *holding) follow(schema any, pointer string, instance any, path string) {
	s, ok := schema.(map[string]any)
	if !ok || !h.schema.fits(pointer, instance) {
		return
	}
	h.parts[path] += pointer + " "
	if ref, ok := s["$ref"].(string); ok {
		name := strings.TrimPrefix(ref, "#/$defs/")
		h.follow(h.schema.document.(map[string]any)["$defs"].(map[string]any)[name], "/$defs/"+name, instance, path)
	}
	for _, keyword := range []string{"anyOf", "oneOf", "allOf"} {
		branches, _ := s[keyword].([]any)
		for i, branch := range branches {
			h.follow(branch, fmt.Sprintf("%s/%s/%d", pointer, keyword, i), instance, path)
		}
	}
	if s["if"] != nil {
		branch := "else"
		if h.schema.fits(pointer+"/if", instance) {
			branch = "then"
		}
		h.follow(s[branch], pointer+"/"+branch, instance, path)
	}
	h.inside(s, pointer, instance, path)
}

// inside goes to the values of a mapping or a list.
func (h *holding) inside(s map[string]any, pointer string, instance any, path string) {
	if list, ok := instance.([]any); ok {
		for i, item := range list {
			h.follow(s["items"], pointer+"/items", item, path+"/"+strconv.Itoa(i))
		}
		return
	}
	mapping, ok := instance.(map[string]any)
	if !ok {
		return
	}
	known, _ := s["properties"].(map[string]any)
	if s["additionalProperties"] == false {
		h.keys[path] = slices.Sorted(maps.Keys(known))
	}
	for key, value := range mapping {
		if of, ok := known[key]; ok {
			h.visited[pointer+"/properties/"+key] = true
			h.follow(of, pointer+"/properties/"+key, value, path+"/"+key)
		} else {
			h.follow(s["additionalProperties"], pointer+"/additionalProperties", value, path+"/"+key)
		}
	}
}

// everyKeyWasThere: a key that no file has would not be held to anything. Those of
// a cell in place are the cell's own, which is held to its reader by itself.
func (h *holding) everyKeyWasThere() {
	cell := readSchema(h.t, "cell").document
	h.schema.properties(h.schema.document, "", func(pointer string, of any) {
		ofCell := h.form == "plan" && reflect.DeepEqual(of, partAt(cell, strings.TrimPrefix(pointer, "/properties/cell")))
		if !h.visited[pointer] && !ofCell {
			h.t.Errorf("no file in testdata/schema has the key at %s", pointer)
		}
	})
}

// partAt is the part of a document at a pointer, nil where there is none.
func partAt(document any, pointer string) any {
	for _, key := range strings.Split(pointer, "/")[1:] {
		if list, ok := document.([]any); ok {
			i, _ := strconv.Atoi(key)
			document = list[i]
			continue
		}
		mapping, _ := document.(map[string]any)
		document = mapping[key]
	}
	return document
}

// spoil changes a node and what is inside of it, one thing at a time. A value is
// spared when one like it, among the same keys, had its turn.
func (h *holding) spoil(n *yaml.Node, path string, around []*yaml.Node) {
	if unspoilt[h.name+path] != "" {
		return
	}
	like := h.parts[path]
	for i := 0; i < len(around); i += 2 {
		like += " " + around[i].Value
	}
	if !h.spoilt[like] {
		h.spoilt[like] = true
		for _, probe := range probes {
			h.tryValue(n, path, *parseYAML(h.t, probe).Content[0])
		}
		for _, word := range h.words(n, path) {
			h.tryValue(n, path, yaml.Node{Kind: yaml.ScalarNode, Value: word})
		}
	}
	step := map[yaml.Kind]int{yaml.MappingNode: 2, yaml.SequenceNode: 1}[n.Kind]
	if step == 0 {
		return
	}
	around = nil
	if step == 2 {
		around = n.Content
	}
	for i := 0; i < len(n.Content); i += step {
		name := strconv.Itoa(i)
		if step == 2 {
			name = n.Content[i].Value
		}
		if i > 0 && step == 1 && n.Content[i].Kind == yaml.ScalarNode {
			continue // another word or number in a list is like the first one
		}
		h.leaveOut(n, i, step, path+"/"+name)
		h.spoil(n.Content[i+step-1], path+"/"+name, around)
	}
	if n.Kind == yaml.MappingNode {
		h.oneMoreKey(n, path)
	}
}

// tryValue puts a value in the place of a node.
func (h *holding) tryValue(n *yaml.Node, path string, value yaml.Node) []diag.Finding {
	kept := *n
	*n = value
	defer func() { *n = kept }()
	what, err := yaml.Marshal(&value)
	if err != nil {
		h.t.Fatal(err)
	}
	return h.compare(path + " = " + strings.TrimSpace(string(what)))
}

// words are those that the schema offers in a place, and those that the reader names
// when it is given another one.
func (h *holding) words(n *yaml.Node, path string) []string {
	var words []string
	for _, pointer := range strings.Fields(h.parts[path]) {
		part, _ := partAt(h.schema.document, pointer).(map[string]any)
		offered, _ := part["enum"].([]any)
		for _, word := range offered {
			words = append(words, word.(string))
		}
	}
	for _, f := range h.tryValue(n, path, yaml.Node{Kind: yaml.ScalarNode, Value: probeKey}) {
		if _, names, ok := strings.Cut(f.Message, "wanted one of "); ok && f.Rule == "unknown-word" {
			words = append(words, strings.Split(names, ", ")...)
		}
	}
	slices.Sort(words)
	return slices.Compact(words)
}

func (h *holding) leaveOut(n *yaml.Node, i, step int, path string) {
	if unspoilt[h.name+path] != "" {
		return
	}
	kept := n.Content
	n.Content = slices.Delete(slices.Clone(kept), i, i+step)
	h.compare(path + " left out")
	n.Content = kept
}

// oneMoreKey adds a key that there is not: the reader's hint then names every one
// that there is.
func (h *holding) oneMoreKey(n *yaml.Node, path string) {
	kept := n.Content
	n.Content = append(slices.Clone(kept), parseYAML(h.t, probeKey+": 1").Content[0].Content...)
	defer func() { n.Content = kept }()
	var known []string
	for _, f := range h.compare(path + " with one more key") {
		if names, ok := strings.CutPrefix(f.Hint, "it has: "); ok && f.Rule == "unknown-key" {
			known = slices.Sorted(slices.Values(strings.Split(names, ", ")))
		}
	}
	if !slices.Equal(known, h.keys[path]) {
		h.t.Errorf("%s%s: the reader knows the keys %q, the schema %q", h.name, path, known, h.keys[path])
	}
}

// compare holds reader and schema to each other about the tree as it is now, and
// gives what the reader found.
func (h *holding) compare(what string) []diag.Finding {
	text, err := yaml.Marshal(h.root)
	if err != nil {
		h.t.Fatal(err)
	}
	found := errorsOf(h.t, h.form, string(text))
	refusal := h.schema.whole.Validate(yaml12.instance(h.root))
	i := slices.IndexFunc(found, h.canSee)
	switch {
	case refusal != nil && len(found) == 0:
		h.t.Errorf("%s%s: the schema refuses what the reader takes: %v", h.name, what, refusal)
	case refusal == nil && i >= 0:
		h.t.Errorf("%s%s: the schema takes what the reader refuses: %v", h.name, what, found[i])
	case refusal != nil:
		h.agreed++
	}
	return found
}

// canSee tells whether a finding is one that the schema has to tell as well.
func (h *holding) canSee(f diag.Finding) bool {
	switch {
	case f.Place.File == besidePlan:
		return false // what another file lacks then
	case h.name == "measured.cell.yaml" && f.Rule == "missing-key" && (strings.HasPrefix(f.Message, "a tool needs") || strings.HasPrefix(f.Message, "the frame")):
		return false // the measured file may hold it
	case strings.HasPrefix(f.Message, `found "true", wanted one of on, off`):
		return false // what YAML 1.1 makes of a bare on
	}
	return slices.Contains(seen, f.Rule)
}
