package family

import (
	"flag"
	"fmt"
	"os"
	"reflect"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"
)

var update = flag.Bool("update", false, "write the tables of AUTHORING.md anew")

const authoring = "../../templates/AUTHORING.md"

var table = regexp.MustCompile(`(?s)<!-- (blocks|loop-blocks|functions|fields (\w+)) -->\n.*?<!-- end -->`)

// The tables of AUTHORING.md are those of the code.
func TestAuthoringAgrees(t *testing.T) {
	data, err := os.ReadFile(authoring)
	if err != nil {
		t.Fatal(err)
	}
	shown := map[string]bool{}
	want := table.ReplaceAllStringFunc(string(data), func(old string) string {
		m := table.FindStringSubmatch(old)
		shown[m[1]] = true
		return fmt.Sprintf("<!-- %s -->\n%s<!-- end -->", m[1], tableOf(t, m[1], m[2]))
	})
	for _, typ := range tableTypes() {
		if !shown["fields "+typ.Name()] {
			t.Errorf("the fields of %s have no table", typ.Name())
		}
	}
	if !shown["blocks"] || !shown["functions"] {
		t.Error("the blocks or the functions have no table")
	}
	if want == string(data) {
		return
	}
	if !*update {
		t.Fatal("the tables differ from the code: run the test with -update and read what changed")
	}
	if err := os.WriteFile(authoring, []byte(want), 0o644); err != nil {
		t.Fatal(err)
	}
}

// tableTypes are the views and what they have in common.
func tableTypes() []reflect.Type {
	return append(viewTypes(), reflect.TypeFor[Step](), reflect.TypeFor[Rotation]())
}

func tableOf(t *testing.T, what, typeName string) string {
	switch what {
	case "blocks":
		return blockTable(Blocks)
	case "loop-blocks":
		return blockTable(LoopBlocks)
	case "functions":
		return functionTable()
	}
	for _, typ := range tableTypes() {
		if typ.Name() == typeName {
			return viewTable(t, typ)
		}
	}
	t.Errorf("there is no view %q", typeName)
	return ""
}

func blockTable(blocks []Block) string {
	var b strings.Builder
	b.WriteString("| block | what it writes |\n|---|---|\n")
	for _, block := range blocks {
		fmt.Fprintf(&b, "| `%s` | %s |\n", block.Name, block.Doc)
	}
	return b.String()
}

func functionTable() string {
	var b strings.Builder
	b.WriteString("| function | gives | example | result |\n|---|---|---|---|\n")
	for _, f := range Functions {
		fmt.Fprintf(&b, "| `%s` | %s | `%s` | `%s` |\n", f.Use, f.Doc, f.Example, f.Want)
	}
	return b.String()
}

func viewTable(t *testing.T, typ reflect.Type) string {
	var b strings.Builder
	b.WriteString("| field | is | |\n|---|---|---|\n")
	for i := range typ.NumField() {
		f := typ.Field(i)
		if f.Anonymous {
			continue
		}
		if f.Tag.Get("doc") == "" {
			t.Errorf("%s.%s is not explained", typ.Name(), f.Name)
		}
		when := ""
		if w := whenOf(f); w != "" {
			when = "; with `" + w + "`"
		}
		fmt.Fprintf(&b, "| `.%s` | %s | %s%s |\n", f.Name, typeInWords(f.Type), f.Tag.Get("doc"), when)
	}
	return b.String()
}

// The page begins with a family that loads as it stands, with readings and without.
func TestAuthoringBeginsWithAFamily(t *testing.T) {
	data, err := os.ReadFile(authoring)
	if err != nil {
		t.Fatal(err)
	}
	_, section, _ := strings.Cut(string(data), "\n## A family in ten lines\n")
	section, _, _ = strings.Cut(section, "\n## ")
	shown := regexp.MustCompile("(?s)```[a-z]*\n(.*?)```").FindAllStringSubmatch(section, -1)
	if len(shown) != 3 {
		t.Fatalf("the section shows %d files, want rules, blocks and readings", len(shown))
	}
	rules, blocks, reads := shown[0][1], shown[1][1], shown[2][1]
	for _, rules := range []string{rules, rules + reads} {
		_, found := loadTold(fstest.MapFS{"family.yaml": {Data: []byte(rules)}, "a.tmpl": {Data: []byte(blocks)}})
		if found != nil {
			t.Errorf("the family gives %v", found)
		}
	}
	if n := strings.Count(blocks, "\n"); n > 10 || strings.Count(rules, "\n") > 10 {
		t.Errorf("the blocks have %d lines", n)
	}
}

// Every rule that a family can break is explained.
func TestAuthoringExplainsEveryRule(t *testing.T) {
	data, err := os.ReadFile(authoring)
	if err != nil {
		t.Fatal(err)
	}
	rule := regexp.MustCompile(`(?:Errorf|errorf)\("([a-z]+(?:-[a-z]+)+)"|= +"([a-z]+(?:-[a-z]+)+)" +//`)
	for _, dir := range []string{".", "../render"} {
		for name, text := range goFiles(t, dir) {
			for _, m := range rule.FindAllStringSubmatch(text, -1) {
				if r := m[1] + m[2]; !strings.HasPrefix(r, "bad-") && !strings.Contains(string(data), "`"+r+"`") {
					t.Errorf("%s: rule %q is not explained", name, r)
				}
			}
		}
	}
}

func goFiles(t *testing.T, dir string) map[string]string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{}
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".go") || strings.HasSuffix(e.Name(), "_test.go") {
			continue
		}
		data, err := os.ReadFile(dir + "/" + e.Name())
		if err != nil {
			t.Fatal(err)
		}
		files[e.Name()] = string(data)
	}
	if len(files) == 0 {
		t.Fatalf("no files in %s", dir)
	}
	return files
}
