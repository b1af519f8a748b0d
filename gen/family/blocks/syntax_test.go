package blocks

import (
	"strings"
	"testing"

	"gridferry/plan/diag"
)

// TestSyntax: a template that cannot be parsed has one finding, where people have to
// mend it and not where the parser gave up.
func TestSyntax(t *testing.T) {
	for _, c := range []struct{ name, text, place, message string }{
		{"braces before the next", "{{define \"travel\"}}\nX{{.X\n{{end}}\nZ{{.Z}}", "2:2", "these braces are not closed before the next ones open"},
		{"one brace", "{{define \"travel\"}}\n\n  {{.X}\n{{end}}", "3:3", "these braces are not closed before the next ones open"},
		{"the last braces", "{{define \"travel\"}}X{{end}}\n{{define \"note\"", "2:1", "these braces are not closed"},
		{"a quotation", "{{define \"travel\"}}\n{{name \"}}\n{{end}}", "2:8", "this quotation is not closed"},
		{"a quotation with braces in it", "{{define \"travel\"}}{{\"{{}}\"}}{{`}}\n`}}{{if}}{{end}}{{end}}", "2:4", "invalid template action: missing value for if"},
		{"a comment", "{{/* so\n{{define \"travel\"}}X{{end}}", "1:1", "this comment is not closed"},
		{"a comment without braces", "{{- /* so */ }}{{define \"travel\"}}X{{end}}", "1:1", "behind the */ of this comment there are no }}"},
		{"a block", "{{define \"travel\"}}\nX{{.X}}\n\n{{define \"note\"}}\n{{end}}", "1:1", `{{define "travel"}} is still open where the next block begins: an {{end}} is missing`},
		{"a condition", "{{define \"travel\"}}\n  {{- if .Stops}}X\n{{end}}\n{{define \"note\"}}{{end}}", "1:1", `{{define "travel"}} is still open where the next block begins: an {{end}} is missing`},
		{"a condition of two", "{{define \"travel\"}}\n{{if .Stops}}{{range 2}}{{end}}\n{{end}}", "1:1", `{{define "travel"}} is still open at the end of the file: an {{end}} is missing`},
		{"a loop", "{{define \"travel\"}}\n{{range 2}}X\n", "2:1", "{{range 2}} is still open at the end of the file: an {{end}} is missing"},
		{"an end too many", "{{define \"travel\"}}\nX{{end}}\n{{end}}\n{{define \"note\"}}{{end}}", "3:1", "this {{end}} ends nothing"},
		{"an operand", "{{define \"travel\"}}\né{{.X}} {{}}{{end}}", "2:9", "invalid template action: missing value for command"},
		{"the second of two", "{{define \"travel\"}}{{.X}}{{pad 9 (.X}}{{end}}", "1:26", "invalid template action: unclosed left paren"},
		{"a variable that is none", "{{define \"travel\"}}{{.X}}\n{{$x := .X}}{{$x}}{{$y}}{{end}}", "2:19", `invalid template action: undefined variable "$y"`},
		{"an else too many", "{{define \"travel\"}}{{if .Stops}}{{else}}{{else}}{{end}}{{end}}", "1:41", "invalid template action: expected end; found {{else}}"},
		{"over two lines", "{{define \"travel\"}}{{.X}}\n{{pad 9\n ! .X}}{{end}}", "2:1", "invalid template action: unexpected \"!\" in operand"},
		{"a number with a comma", "{{define \"travel\"}}{{pad 9,5 .X}}{{end}}", "1:20", "invalid template action: unexpected \",\" in operand"},
		{"a number with a unit", "{{define \"travel\"}}{{pad 9mm .X}}{{end}}", "1:20", "invalid template action: bad number syntax: \"9m\""},
	} {
		var list diag.List
		load(small(c.text), "fam", &list)
		found := list.Sorted()
		if len(found) != 1 || found[0].Rule != "template-syntax" || found[0].Place.String() != "fam/b.tmpl:"+c.place || found[0].Message != c.message || found[0].Hint == "" ||
			strings.Contains(c.name, "number") != strings.HasPrefix(found[0].Hint, "write a number with digits alone") {
			t.Errorf("%s: %+v, wanted %s %s", c.name, found, c.place, c.message)
		}
	}
}

// Whatever stands in a template, the parser and what explains it agree that something is
// wrong, and neither runs away.
func FuzzSyntax(f *testing.F) {
	for _, text := range []string{"{{", "{{/*", "{{end}}", "{{\"", "{{define \"a\"}}{{if}}", "{{`}}", "{{- /* */ -}}", "}}{{'"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var list diag.List
		p := parser{label: "fam", list: &list, defs: map[string]definition{}}
		p.parse(File{Name: "a.tmpl", Text: text})
		said := list.Len() > 0 && strings.HasPrefix(list.Sorted()[0].Rule, "template-syntax")
		if p.broken != said {
			t.Errorf("%q: broken %v, %v", text, p.broken, list.Sorted())
		}
	})
}
