package golden

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gridferry/gen/family"
	"gridferry/plan"
	"gridferry/plan/decode"
	"gridferry/plan/schema"
)

// The tables of keys in the pages come from the rows that the readers go by. A mark
// before each says whose keys it has: a form, a path to what has the keys, and "but"
// with keys that are named and not gone into.

var keyForms = map[string]func() decode.Form{
	"plan": plan.PlanForm, "cell": plan.CellForm, "variants": plan.VariantsForm, "family": family.FileForm,
}

var keyTable = regexp.MustCompile(`(?s)<!-- keys (\w+)((?: \w+)*?)(?: but((?: \w+)+))? -->\n.*?<!-- end -->`)

// TestKeyTablesAgree holds the tables to the rows; -update writes them anew.
func TestKeyTablesAgree(t *testing.T) {
	for page, tables := range map[string]int{"../plan/FORMAT.md": 16, "../templates/AUTHORING.md": 3} {
		data, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		marks := keyTable.FindAllStringSubmatch(string(data), -1)
		if len(marks) != tables {
			t.Errorf("%s has %d tables of keys, wanted %d", page, len(marks), tables)
		}
		text := keyTable.ReplaceAllStringFunc(string(data), func(old string) string {
			mark, _, _ := strings.Cut(old, "\n")
			m := keyTable.FindStringSubmatch(old)
			return mark + "\n" + tableOfKeys(t, m[1], strings.Fields(m[2]), strings.Fields(m[3])) + "<!-- end -->"
		})
		if text == string(data) {
			continue
		}
		if !updating() {
			t.Errorf("the tables of %s differ from the readers: run the test with -update and read what changed", page)
		} else if err := os.WriteFile(page, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func tableOfKeys(t *testing.T, form string, path, closed []string) string {
	if keyForms[form] == nil {
		t.Fatalf("there is no form %q", form)
	}
	of := decode.May(form, "", keyForms[form]())
	if len(path) > 0 {
		row, ok := decode.Find(of.Form, path...)
		if !ok {
			t.Fatalf("%s has no key %q", form, path)
		}
		of = row
	}
	for decode.Keys(of.Form) == nil { // what the writer names, or a list has
		entry, ok := decode.Find(of.Form, "NAME")
		if !ok {
			break
		}
		of = entry
	}
	rows := keyRows(decode.Keys(of.Form), "", closed)
	if len(rows) == 0 {
		t.Fatalf("%s has no table of keys at %q", form, path)
	}
	return "| key | what | left out |\n|---|---|---|\n" + strings.Join(rows, "")
}

func keyRows(keys []decode.Key, before string, closed []string) []string {
	var rows []string
	for _, k := range keys {
		first, more, _ := strings.Cut(k.Doc, ". ")
		what := strings.TrimSuffix(first, ".") + choicesOf(k, first)
		if more != "" {
			what += ". " + strings.TrimSuffix(more, ".")
		}
		rows = append(rows, fmt.Sprintf("| `%s%s` | %s | %s |\n", before, k.Name, strings.ReplaceAll(what, "|", "\\|"), leftOut(k)))
		if !slices.Contains(closed, k.Name) {
			rows = append(rows, keyRows(decode.Keys(k.Form), before+k.Name+".", closed)...)
		}
	}
	return rows
}

func leftOut(k decode.Key) string {
	switch {
	case k.Needed:
		return "needed"
	case k.Usual != nil:
		return "`" + strings.ReplaceAll(fmt.Sprint(k.Usual), " ", ", ") + "`"
	}
	return k.LeftOut
}

// choicesOf is the words that a key may have, in brackets, unless its sentence has them all.
func choicesOf(k decode.Key, sentence string) string {
	s := k.Form.Schema()
	if either, ok := s.Get("anyOf").([]schema.Schema); ok {
		s = either[0]
	}
	words, _ := s.Get("enum").([]string)
	if text, ok := s.Get("const").(string); ok {
		words = []string{text}
	}
	for _, word := range words {
		if !strings.Contains(sentence, "`"+word+"`") {
			return " (`" + strings.Join(words, "`, `") + "`)"
		}
	}
	return ""
}
