package blocks

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

const authoring = "../../../templates/AUTHORING.md"

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
	return append(viewTypes(), reflect.TypeFor[Step](), reflect.TypeFor[Rotation](), reflect.TypeFor[Posture](), reflect.TypeFor[Travelling](), reflect.TypeFor[Zones](), reflect.TypeFor[Home](), reflect.TypeFor[Lead]())
}

func tableOf(t *testing.T, what, typeName string) string {
	switch what {
	case "blocks":
		return blockTable(OfMoves)
	case "loop-blocks":
		return blockTable(OfLoops)
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
