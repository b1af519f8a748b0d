package family

import (
	"flag"
	"fmt"
	"os"
	"reflect"
	"regexp"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the tables of AUTHORING.md anew")

const authoring = "../../templates/AUTHORING.md"

var table = regexp.MustCompile(`(?s)<!-- (blocks|functions|fields (\w+)) -->\n.*?<!-- end -->`)

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
	for _, typ := range append(viewTypes(), reflect.TypeFor[Step]()) {
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

func tableOf(t *testing.T, what, typeName string) string {
	switch what {
	case "blocks":
		return blockTable()
	case "functions":
		return functionTable()
	}
	for _, typ := range append(viewTypes(), reflect.TypeFor[Step]()) {
		if typ.Name() == typeName {
			return fieldTable(t, typ)
		}
	}
	t.Errorf("there is no view %q", typeName)
	return ""
}

func blockTable() string {
	var b strings.Builder
	b.WriteString("| block | what it writes |\n|---|---|\n")
	for _, block := range Blocks {
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

func fieldTable(t *testing.T, typ reflect.Type) string {
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
		fmt.Fprintf(&b, "| `.%s` | %s | %s |\n", f.Name, kindInWords(f.Type), f.Tag.Get("doc"))
	}
	return b.String()
}

func kindInWords(t reflect.Type) string {
	if t.Kind() == reflect.Slice && t.Elem() != reflect.TypeFor[Text]() && t.Elem().Kind() == reflect.Struct {
		return "a list of entries"
	}
	if t.Kind() == reflect.Slice {
		return "a list, each " + inWords(t.Elem())
	}
	return inWords(t)
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
