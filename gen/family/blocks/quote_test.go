package blocks

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"gridferry/plan/diag"
)

const (
	doubled = `quotes: {open: '"', close: '"', escape: '"'}` + "\n"
	escaped = `quotes: {open: '<', close: '>', escape: '\'}` + "\n"
	blanked = `quotes: {open: '[', close: ']'}` + "\n"
)

// quoting is a small family with quotation marks.
func quoting(block, quotes string) fstest.MapFS {
	fsys := small(`{{define "travel"}}` + block + `{{end}}`)
	fsys["family.yaml"].Data = []byte(smallRules + quotes)
	return fsys
}

// What a plan says must not leave its quotation marks.
func TestQuote(t *testing.T) {
	for _, c := range []struct{ quotes, text, want string }{
		{doubled, "tray A1", `"tray A1"`},
		{doubled, "a\"; stop\n\"", `"a""; stop """`},
		{doubled, `say "no" (x)`, `"say ""no"" (x)"`},
		{doubled, "", `""`},
		{escaped, `a>b<c\`, `<a\>b\<c\\>`},
		{escaped, "\u202e\x00 it's", `<it's>`},
		{blanked, "a]b[c", "[a b c]"},
		{blanked, "]", "[]"},
		{blanked + "encoding: ascii\n", "Größe 水", "[Grosse ?]"},
		{`quotes: {open: "[", close: "]", escape: "]"}` + "\n", "a]b[c", "[a]]b c]"},
	} {
		view := sampleMotion()
		view.Target = NewText(c.text)
		if got, err := printTravel(t, quoting("{{quote .Target}}", c.quotes), view); err != nil || got != c.want {
			t.Errorf("%s%q gives %s, %v, want %s", c.quotes, c.text, got, err, c.want)
		}
	}
}

// A quoted text stands in the open, and nothing takes its marks off.
func TestQuotedIsNothingElse(t *testing.T) {
	for block, want := range map[string]string{
		`"{{quote .Target}}"`:                              "a quoted text is printed inside quotes, wanted it alone",
		`( {{quote .Target}} )`:                            "a quoted text is printed inside a comment",
		`{{$q := .X}}{{$q = quote .Target}}{{trim $q}}`:    "wanted a word, found a quoted text",
		`{{$q := .X}}{{$q = quote .Target}}{{comment $q}}`: "found a quoted text",
		`"{{.Target}}"`:                                    "a text is printed inside quotes, where its comment marks mean nothing, wanted {{quote TEXT}} without marks around it",
	} {
		if got, err := printTravel(t, quoting(block, doubled), sampleMotion()); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s gives %q, %v, want %s", block, got, err, want)
		}
	}
	_, err := printTravel(t, small(`{{define "travel"}}"{{.Target}}"{{end}}`), sampleMotion())
	if err == nil || !strings.HasSuffix(err.Error(), `wanted {{quote TEXT}} without marks around it, and "quotes" in family.yaml`) {
		t.Errorf("without the rule: %v", err)
	}
}

// A comment's mark in quotes is none, so that a comment may follow it.
func TestCommentBehindQuotes(t *testing.T) {
	view := sampleMotion()
	view.Target = NewText("a ( b> c")
	got, err := printTravel(t, quoting("{{quote .Target}} {{comment .N}}", escaped), view)
	if want := `<a ( b\> c> (7)`; err != nil || got != want {
		t.Errorf("got %q, %v, want %q", got, err, want)
	}
}

// A text that a function cannot take is found before anything runs.
func TestTextInFunction(t *testing.T) {
	for block, want := range map[string]string{
		`{{if eq .Target "x"}}{{end}}`:        `fam/b.tmpl:1:25 function "eq" is given a text, wanted words or whole numbers`,
		`{{.Target | upper}}`:                 `fam/b.tmpl:1:32 function "upper" is given a text, wanted words or whole numbers`,
		`{{pad 9 (comment .Target)}}`:         `fam/b.tmpl:1:22 function "pad" is given a text, wanted words or whole numbers`,
		`{{name (quote .Target)}}`:            `fam/b.tmpl:1:22 function "name" is given a quoted text, wanted words or whole numbers`,
		`{{if eq .Target .Place}}{{end}}`:     "",
		`{{if eq (name .Target) "x"}}{{end}}`: "",
		`{{if not .Target}}{{end}}`:           "",
	} {
		var list diag.List
		load(quoting(block, doubled), "fam", &list)
		var found []string
		for _, f := range list.Sorted() {
			found = append(found, f.Place.String()+" "+f.Message)
			if strings.Contains(block, "eq") && !strings.Contains(f.Hint, `write {{eq … (name TEXT)}}`) {
				t.Errorf("%s: the hint is %q", block, f.Hint)
			}
		}
		if !slices.Equal(found, strings.Fields("")) && want == "" || want != "" && !slices.Equal(found, []string{want}) {
			t.Errorf("%s: found %q, want %q", block, found, want)
		}
	}
}

// A level that is compared with what no level is would never hold.
func TestNeverALevel(t *testing.T) {
	for block, want := range map[string]string{
		`{{if eq .Level "high"}}{{end}}`:       "fam/b.tmpl:1:33 never-a-level",
		`{{if ne "ON" .Level}}{{end}}`:         "fam/b.tmpl:1:26 never-a-level",
		`{{if eq .Level "on" "off"}}{{end}}`:   "",
		`{{if eq (upper .Level) "ON"}}{{end}}`: "",
	} {
		fsys := small(`{{define "grip"}}` + block + `{{end}}{{define "travel"}}{{end}}`)
		fsys["family.yaml"].Data = []byte(strings.Replace(smallRules, "grip: no, ", "", 1))
		if _, found := loadFound(fsys); want == "" && len(found) > 0 || want != "" && !slices.Equal(found, []string{want}) {
			t.Errorf("%s: found %q, want %q", block, found, want)
		}
	}
}

func TestQuotesRule(t *testing.T) {
	for rule, want := range map[string]string{
		"":      "fam/b.tmpl:1:22 no-quotes",
		doubled: "", escaped: "", blanked: "",
		`quotes: {open: "", close: "'"}`:                           "fam/family.yaml:10:16 bad-quotes",
		`quotes: {open: "a", close: "'"}`:                          "fam/family.yaml:10:16 bad-quotes",
		`quotes: {open: "'", close: " "}`:                          "fam/family.yaml:10:28 bad-quotes",
		`quotes: {open: "'", close: "''"}`:                         "fam/family.yaml:10:28 bad-quotes",
		`quotes: {open: "'", close: "»"}`:                          "fam/family.yaml:10:28 bad-quotes",
		`quotes: {open: "'", close: "'", escape: "9"}`:             "fam/family.yaml:10:41 bad-quotes",
		`quotes: {open: "(", close: "'"}`:                          "fam/family.yaml:10:1 bad-quotes",
		`quotes: {open: "<", close: ">", escape: "<"}`:             "fam/family.yaml:10:1 bad-quotes",
		"letters: A-Z()\nquotes: {open: \"'\", close: \"'\"}":      "fam/family.yaml:11:1 bad-quotes",
		"quotes: {open: '$', close: '$'}\nnames: {letters: A-Z_$}": "fam/family.yaml:11:1 bad-name-rule",
	} {
		_, found := loadFound(quoting("{{quote .Target}}", rule))
		found = slices.DeleteFunc(found, func(f string) bool { return strings.Contains(f, "letter-not-allowed") })
		if want == "" && len(found) > 0 || want != "" && !slices.Equal(found, []string{want}) {
			t.Errorf("%s: found %q, want %q", rule, found, want)
		}
	}
}
