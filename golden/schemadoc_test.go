package golden

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"gopkg.in/yaml.v3"
)

// The tests here hold what "gridferry schema" prints to a validator from outside,
// and both to the files that people write.

// formNames is every schema that is printed.
var formNames = []string{"plan", "cell", "measured", "variants", "slots", "frame-points", "tool-points", "grid-points", "family", "case"}

// printedSchema is one schema as it is printed.
type printedSchema struct {
	name     string
	text     string
	document any
	whole    *jsonschema.Schema
}

func readSchema(t *testing.T, name string) *printedSchema {
	t.Helper()
	s := &printedSchema{name: name, text: mustRun(t, "schema", name)}
	var err error
	if s.document, err = jsonschema.UnmarshalJSON(strings.NewReader(s.text)); err != nil {
		t.Fatal(err)
	}
	location := "https://schemas.example/" + name + ".json"
	compiler := jsonschema.NewCompiler()
	if err := compiler.AddResource(location, s.document); err != nil {
		t.Fatal(err)
	}
	if s.whole, err = compiler.Compile(location); err != nil {
		t.Fatal(err)
	}
	return s
}

// yamlVersion is how plain words become values.
type yamlVersion string

const (
	yaml12 yamlVersion = "YAML 1.2" // the core schema, section 10.3.2 of yaml.org/spec/1.2.2
	yaml11 yamlVersion = "YAML 1.1" // yaml.org/type/bool.html and /int.html; numbers as far as plans use them
)

var (
	wholeNumber = regexp.MustCompile(`^(?:[-+]?[0-9]+|0o[0-7]+|0x[0-9a-fA-F]+)$`)
	realNumber  = regexp.MustCompile(`^[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?$`)
	oldTruth    = regexp.MustCompile(`^(?:y|Y|yes|Yes|YES|n|N|no|No|NO|true|True|TRUE|false|False|FALSE|on|On|ON|off|Off|OFF)$`)
	truth       = regexp.MustCompile(`^(?:true|True|TRUE|false|False|FALSE)$`)
	oldWhole    = regexp.MustCompile(`^[-+]?(?:0[0-7]+|[1-9][0-9_]*(?::[0-5]?[0-9])+|[0-9]+_[0-9_]*)$`)
)

// instance is a YAML tree as an editor sees it.
func (v yamlVersion) instance(n *yaml.Node) any {
	switch n.Kind {
	case yaml.DocumentNode:
		return v.instance(n.Content[0])
	case yaml.AliasNode:
		return v.instance(n.Alias)
	case yaml.SequenceNode:
		items := []any{}
		for _, item := range n.Content {
			items = append(items, v.instance(item))
		}
		return items
	case yaml.MappingNode:
		return v.mapping(n)
	}
	return v.scalar(n)
}

// mapping follows merge keys; those written out win.
func (v yamlVersion) mapping(n *yaml.Node) map[string]any {
	all := map[string]any{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if key, value := n.Content[i], n.Content[i+1]; key.Value == "<<" {
			merged, _ := v.instance(value).(map[string]any)
			for k, inner := range merged {
				if _, written := all[k]; !written {
					all[k] = inner
				}
			}
		}
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if key := n.Content[i]; key.Value != "<<" {
			all[key.Value] = v.instance(n.Content[i+1])
		}
	}
	return all
}

func (v yamlVersion) scalar(n *yaml.Node) any {
	text := n.Value
	switch {
	case n.Style&^yaml.TaggedStyle != 0:
		return text
	case slices.Contains([]string{"", "~", "null", "Null", "NULL"}, text):
		return nil
	case truth.MatchString(text), v == yaml11 && oldTruth.MatchString(text):
		return slices.Contains([]string{"y", "yes", "true", "on"}, strings.ToLower(text))
	case v == yaml11 && oldWhole.MatchString(text):
		return json.Number("8") // some number: octal, in base sixty, with grouped digits
	case wholeNumber.MatchString(text):
		n, err := strconv.ParseInt(strings.Replace(text, "0o", "0", 1), 0, 64)
		if base10, isTen := strconv.ParseInt(text, 10, 64); isTen == nil {
			n, err = base10, nil
		}
		if err != nil {
			return json.Number("1e30")
		}
		return json.Number(strconv.FormatInt(n, 10))
	case realNumber.MatchString(text):
		if f, err := strconv.ParseFloat(text, 64); err == nil && !math.IsInf(f, 0) {
			return json.Number(strconv.FormatFloat(f, 'g', -1, 64))
		}
		return json.Number("1e30")
	}
	return text
}

func parseYAML(t *testing.T, text string) *yaml.Node {
	t.Helper()
	var n yaml.Node
	if err := yaml.Unmarshal([]byte(text), &n); err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	return &n
}

// TestSchemasAreSchemas holds each schema to the meta-schema of draft 2020-12,
// which comes with the validator.
func TestSchemasAreSchemas(t *testing.T) {
	meta := jsonschema.NewCompiler().MustCompile("https://json-schema.org/draft/2020-12/schema")
	for _, name := range formNames {
		s := readSchema(t, name)
		if err := meta.Validate(s.document); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if s.document.(map[string]any)["$schema"] != "https://json-schema.org/draft/2020-12/schema" {
			t.Errorf("%s does not name its dialect", name)
		}
		if again := mustRun(t, "schema", name); again != s.text || strings.Contains(again, "\r") || !strings.HasSuffix(again, "\n}\n") {
			t.Errorf("%s: not the same twice, or not in lines", name)
		}
		var b bytes.Buffer
		if err := json.Indent(&b, []byte(s.text), "", "  "); err != nil || b.String() != s.text {
			t.Errorf("%s is not indented by two blanks (%v)", name, err)
		}
	}
}

// TestSchemasExplainEveryKey: each has one sentence, and stands in the pages that
// people read.
func TestSchemasExplainEveryKey(t *testing.T) {
	pages := ""
	for _, page := range []string{"../plan/FORMAT.md", "../plan/RUNNING.md", "../templates/AUTHORING.md"} {
		data, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		pages += string(data)
	}
	sentence := regexp.MustCompile(`^[A-Z].*[^.]\.$`)
	for _, name := range formNames {
		s := readSchema(t, name)
		s.properties(s.document, "", func(pointer string, of any) {
			doc, _ := of.(map[string]any)["description"].(string)
			if !sentence.MatchString(doc) || strings.Contains(doc, ". ") || strings.Contains(doc, "\n") {
				t.Errorf("%s#%s: %q is not one sentence", name, pointer, doc)
			}
			if key := path.Base(pointer); !regexp.MustCompile("\\b" + regexp.QuoteMeta(key) + "\\b").MatchString(pages) {
				t.Errorf("%s#%s: the key is on no page", name, pointer)
			}
		})
	}
}

// properties goes through the schemas of all keys that a schema knows. Those under
// "if" and the like only tell cases apart.
func (s *printedSchema) properties(schema any, pointer string, each func(pointer string, of any)) {
	switch schema := schema.(type) {
	case []any:
		for i, part := range schema {
			s.properties(part, fmt.Sprintf("%s/%d", pointer, i), each)
		}
	case map[string]any:
		known, _ := schema["properties"].(map[string]any)
		for key, of := range known {
			if schema["additionalProperties"] == false {
				each(pointer+"/properties/"+key, of)
			}
			s.properties(of, pointer+"/properties/"+key, each)
		}
		for keyword, part := range schema {
			if keyword != "properties" && keyword != "default" && keyword != "enum" && keyword != "examples" {
				s.properties(part, pointer+"/"+keyword, each)
			}
		}
	}
}

// writtenFiles are good files with the schema that each belongs to.
func writtenFiles(t *testing.T) map[string]string {
	t.Helper()
	files := map[string]string{}
	for pattern, form := range map[string]string{
		"../testdata/demo/*.plan.yaml": "plan", "../testdata/demo/*.cell.yaml": "cell", "../testdata/demo/*.variants.yaml": "variants",
		"../testdata/order/*.plan.yaml": "plan", "../plan/starter/*.plan.yaml": "plan", "../plan/starter/*.cell.yaml": "cell",
		"../templates/*.plan.yaml": "plan", "bench/*.plan.yaml": "plan", "../testdata/bad/ok.cell.yaml": "cell",
		"../templates/*/family.yaml": "family", "../testdata/families/*/family.yaml": "family", "bench/family/family.yaml": "family",
		"../testdata/measured/tracked_corner.yaml": "frame-points",
	} {
		found, err := filepath.Glob(pattern)
		if err != nil || len(found) == 0 {
			t.Errorf("%s is no file (%v)", pattern, err)
		}
		for _, file := range found {
			files[file] = form
		}
	}
	for _, form := range formNames {
		found, err := filepath.Glob("../testdata/schema/*." + form + ".yaml")
		if err != nil || len(found) == 0 {
			t.Errorf("there is no file for %q (%v)", form, err)
		}
		for _, file := range found {
			files[file] = form
		}
	}
	return files
}

func TestWrittenFilesFitTheirSchemas(t *testing.T) {
	schemas := map[string]*printedSchema{}
	for _, name := range formNames {
		schemas[name] = readSchema(t, name)
	}
	for file, form := range writtenFiles(t) {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, version := range []yamlVersion{yaml12, yaml11} {
			if err := schemas[form].whole.Validate(version.instance(parseYAML(t, string(data)))); err != nil {
				t.Errorf("%s, read as %s, does not fit the schema %q: %v", file, version, form, err)
			}
		}
	}
}

// seen are the rules of findings that a schema can tell as well.
var seen = []string{
	"unknown-key", "missing-key", "wrong-type", "null-value", "unknown-word", "bad-format", "wrong-length", "bad-step", "short-chain", "idle-key",
	"two-orientations", "two-placements", "two-layouts", "two-routes",
}

// unseenBad are findings of those rules that no schema can tell.
var unseenBad = map[string]string{
	"step-level.plan.yaml":    "true is what YAML 1.1 makes of a bare on",
	"boxes-unsized.plan.yaml": "which part a stack is of, and whether that one has a size, stands elsewhere",

	"joints-few.cell.yaml":         "how many joints the arm has stands elsewhere",
	"arm-known-readings.cell.yaml": "how many joints the arm has stands elsewhere",
}

// unfollowed are the rules of findings on files that have no end when all aliases
// are followed.
var unfollowed = []string{"alias-bomb", "alias-cycle"}

// TestBadFilesAreRefused: what the reader says about a key or a type, the schema
// of that file says too, and it refuses no file that the reader finds good.
func TestBadFilesAreRefused(t *testing.T) {
	schemas := map[string]*printedSchema{"plan": readSchema(t, "plan"), "cell": readSchema(t, "cell"), "measured": readSchema(t, "measured")}
	t.Chdir(badFolder)
	refused := 0
	for _, plan := range badPlans(t) {
		c := readBad(t, plan)
		if len(c.sets) > 0 {
			continue // the file itself says something else
		}
		found, _ := c.findings(t)
		for file, rules := range rulesByFile(t, plan, found) {
			s := schemas[formOf(file)]
			if s == nil || slices.ContainsFunc(rules, func(rule string) bool { return slices.Contains(unfollowed, rule) }) {
				continue
			}
			instance, ok := instanceOf(file)
			if !ok {
				continue
			}
			err := s.whole.Validate(instance)
			wanted := slices.ContainsFunc(rules, func(rule string) bool { return slices.Contains(seen, rule) })
			switch _, unseen := unseenBad[file]; {
			case err == nil && wanted && !unseen:
				t.Errorf("%s: the schema refuses nothing, and the reader says %q", file, rules)
			case err != nil && len(rules) == 0:
				t.Errorf("%s: the schema says %v, and the reader nothing", file, err)
			case err != nil:
				refused++
			}
		}
	}
	if refused < 50 {
		t.Errorf("%d files are refused, wanted 50 or more: does the test look at them?", refused)
	}
}

// rulesByFile gathers the rules of errors, none of a plan's files that has no error.
func rulesByFile(t *testing.T, plan string, found []finding) map[string][]string {
	t.Helper()
	files, err := filepath.Glob(strings.TrimSuffix(plan, ".plan.yaml") + ".*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	rules := map[string][]string{plan: nil}
	for _, file := range files {
		rules[file] = nil
	}
	for _, f := range found {
		if f.Severity == "error" {
			rules[f.File] = append(rules[f.File], f.Rule)
		}
	}
	return rules
}

// formOf goes by the last but one part of a file's name.
func formOf(file string) string {
	parts := strings.Split(file, ".")
	return parts[max(0, len(parts)-2)]
}

func instanceOf(file string) (any, bool) {
	data, err := os.ReadFile(file)
	var n yaml.Node
	if err != nil || yaml.Unmarshal(data, &n) != nil || n.Kind == 0 {
		return nil, false
	}
	return yaml12.instance(&n), true
}
