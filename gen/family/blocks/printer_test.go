package blocks

import (
	"errors"
	"strings"
	"testing"
	"testing/fstest"
)

// sampleMotion is the view of the examples in the function table.
func sampleMotion() Motion {
	return Motion{
		Step:   Step{N: 7, Transfer: 2, Leg: 1, Line: 31, Plan: NewText("cubes.plan.yaml"), Load: "0.850"},
		Target: NewText("tray A1"), Frame: "bath", FrameNumber: 2, Tool: "jaw", ToolNumber: 1,
		X: "40.000", Y: "-12.500", Z: "95.000", Rotation: Rotation{Roll: "180.000", Pitch: "0.000", Yaw: "0.000"},
		Speed: "500.0", FlyBy: "0.000", Stops: true,
	}
}

// printTravel runs one travel block.
func printTravel(t *testing.T, fsys fstest.MapFS, view any) (string, error) {
	t.Helper()
	f, found := loadFound(fsys)
	if len(found) > 0 {
		t.Fatalf("does not load: %q", found)
	}
	text, err := f.NewPrinter().Print("travel", view)
	return string(text), err
}

func TestFunctionExamples(t *testing.T) {
	for _, fn := range Functions {
		fsys := small(`{{define "travel"}}` + fn.Example + `{{end}}`)
		fsys["family.yaml"].Data = []byte(smallRules + "names: {case: upper}\n" + doubled)
		view := sampleMotion()
		switch fn.Name {
		case "lower":
			view.Tool = "Jaw"
		case "trimPrefix":
			view.Tool = "JAW"
		}
		if got, err := printTravel(t, fsys, view); err != nil || got != fn.Want {
			t.Errorf("%s gives %q, %v, want %q", fn.Example, got, err, fn.Want)
		}
	}
}

// What a plan says must not leave a comment, wherever a template prints it.
func TestTextIsAComment(t *testing.T) {
	view := sampleMotion()
	view.Target = NewText("a)\nM30 (")
	for block, want := range map[string]string{
		`{{.Target}}`:                                           "(a M30)",
		`{{comment .Target}}`:                                   "(a M30)",
		`{{$t := .Target}}{{$t}}`:                               "(a M30)",
		`{{comment "x" (comment .Target)}}`:                     "(x a M30)",
		`{{ternary .Target .Target true}}`:                      "(a M30)",
		`{{or .Target "x"}}`:                                    "(a M30)",
		`{{range 1}}{{$.Target}}{{end}}`:                        "(a M30)",
		`{{template "h" .Target}}{{end}}{{define "h"}}{{.}}`:    "(a M30)",
		`{{name .Target}}`:                                      "a_M30",
		`{{block "h" .}}{{.Target}}{{end}}`:                     "(a M30)",
		`{{if eq .X "40.000"}}{{.Target}}{{else}}no{{end}} (b)`: "(a M30) (b)",
	} {
		if got, err := printTravel(t, small(`{{define "travel"}}`+block+`{{end}}`), view); err != nil || got != want {
			t.Errorf("%s gives %q, %v, want %q", block, got, err, want)
		}
	}
}

// Whatever would turn a text into a word, or print it where a comment's marks
// mean nothing, stops with the place of the action.
func TestTextIsNothingElse(t *testing.T) {
	const hidden = "{{$t := .X}}{{$t = .Target}}" // from the lint, which does not know then what it is
	for block, want := range map[string]string{
		hidden + "{{upper $t}}":              "fam/b.tmpl:1:56: wanted a word, found a text",
		hidden + "{{replace \"(\" \"\" $t}}": "fam/b.tmpl:1:65: wanted a word, found a text",
		hidden + "{{pad 9 $t}}":              "fam/b.tmpl:1:50: function \"pad\": found a text",
		hidden + "{{len $t}}":                "fam/b.tmpl:1:50: function \"len\": len of type a text",
		hidden + "{{index $t 0}}":            "fam/b.tmpl:1:50: function \"index\": can't index item of type a text",
		hidden + "{{slice $t 1}}":            "fam/b.tmpl:1:50: function \"slice\": can't slice item of type a text",
		"{{if eq .N .X}}{{end}}":             "fam/b.tmpl:1:25: function \"eq\": it compares words with words, and a figure is a word, or whole numbers with whole numbers; a condition stands alone",
		"{{plus .N .X}}":                     "fam/b.tmpl:1:30: wanted a whole number, found a word",
		"{{plus .N 1.5}}":                    "fam/b.tmpl:1:30: wanted a whole number, found 1.5",
		"\n\"{{.Target}}\"":                  "fam/b.tmpl:2:4: a text is printed inside quotes",
		"'a' '{{.Target}}'":                  "fam/b.tmpl:1:27: a text is printed inside quotes",
		"( {{.Target}} )":                    "fam/b.tmpl:1:24: a text is printed inside a comment",
		"(x) ( {{comment .N .Target}}":       "fam/b.tmpl:1:28: a text is printed inside a comment",
		"{{ternary 1.5 2.5 true}}":           "fam/b.tmpl:1:22: a number with a fraction cannot be printed",
		"{{index .X 0}}":                     "fam/b.tmpl:1:22: a uint8 cannot be printed",
		"{{with index .X 0}}{{.}}{{end}}":    "fam/b.tmpl:1:41: a uint8 cannot be printed",
	} {
		got, err := printTravel(t, small(`{{define "travel"}}`+block+`{{end}}`), sampleMotion())
		var at *BlockError
		if !errors.As(err, &at) || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%s gives %q, error %v, want %s", block, got, err, want)
		}
	}
}

func TestBounds(t *testing.T) {
	for block, want := range map[string]string{
		"{{range 2000000}}{{end}}":                                              "fam/b.tmpl:1:37: the block loops or calls helpers too often",
		"{{range 999}}{{range 999}}{{end}}{{end}}":                              "too often",
		"{{range 9999}}" + strings.Repeat("0123456789", 20) + "{{end}}":         "fam/b.tmpl:1:1: the block writes more than",
		`{{$s := "aaaaaaaaaa"}}{{range 99}}{{$s = replace "a" "aa" $s}}{{end}}`: "larger than a program could hold",
		`{{pad 100000 .X}}`:                                                     "wanted one from 0 to 4096",
		`{{pad -1 .X}}`:                                                         "wanted one from 0 to 4096",
		`{{times .N 99999999999}}`:                                              "larger than a program could hold",
		`{{times 65536 32768}}`:                                                 "larger than a program could hold", // 2³¹
		`{{plus 2147483647 1}}`:                                                 "larger than a program could hold",
		`{{$n := 2}}{{range 99}}{{$n = times $n $n}}{{end}}`:                    "larger than a program could hold",
		`{{$n := 2}}{{range 99}}{{$n = plus $n $n}}{{end}}`:                     "larger than a program could hold",
		`{{template "a"}}{{end}}{{define "a"}}{{range 999}}{{template "b"}}{{end}}{{end}}{{define "b"}}{{range 999}}{{end}}`: "too often",
	} {
		_, err := printTravel(t, small(`{{define "travel"}}`+block+`{{end}}`), sampleMotion())
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: error %v, want %s", block, err, want)
		}
	}
}

// Helpers that call helpers twice each double their work at every level.
func TestDoublingHelpersAreBounded(t *testing.T) {
	var b strings.Builder
	b.WriteString(`{{define "travel"}}{{template "h0"}}{{end}}`)
	for i := range 40 {
		call := `{{template "h` + string(rune('0'+(i+1)/10)) + string(rune('0'+(i+1)%10)) + `"}}`
		name := `h` + string(rune('0'+i/10)) + string(rune('0'+i%10))
		if i == 0 {
			name = "h0"
		}
		b.WriteString(`{{define "` + name + `"}}` + call + call + `{{end}}`)
	}
	b.WriteString(`{{define "h40"}}x{{end}}`)
	if _, err := printTravel(t, small(b.String()), sampleMotion()); err == nil || !strings.Contains(err.Error(), "too often") {
		t.Errorf("error %v", err)
	}
}

func TestCommentToTheLinesEnd(t *testing.T) {
	load := func(block string) fstest.MapFS {
		fsys := small(`{{define "travel"}}` + block + `{{end}}`)
		fsys["family.yaml"].Data = []byte(strings.Replace(smallRules, `{open: "(", close: ")"}`, `{open: "# "}`, 1))
		return fsys
	}
	if got, err := printTravel(t, load("go {{.Target}}  \nstop"), sampleMotion()); err != nil || got != "go # tray A1  \nstop" {
		t.Errorf("got %q, %v", got, err)
	}
	for block, want := range map[string]string{
		"\n{{.Target}} go {{.X}}":    `"go 40.000" stands behind a comment`,
		"\n{{.Target}} {{.Target}}":  "inside a comment",
		"{{.Target}}{{.X}}\n":        `"40.000" stands behind a comment`,
		"# mine {{comment .Target}}": "inside a comment",
	} {
		if _, err := printTravel(t, load(block), sampleMotion()); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: error %v, want %s", block, err, want)
		}
	}
}

func TestBreaksAfterDefineDoNotCount(t *testing.T) {
	for text, want := range map[string]string{
		"{{define \"travel\"}}\na\n{{end}}":                   "a\n",
		"{{define \"travel\"}}\r\na\r\n{{end}}":               "a\n",
		"{{define \"travel\"}}\n\na\n{{end}}":                 "\na\n",
		"{{define \"travel\"}}a{{end}}":                       "a",
		"{{define \"travel\"}}{{if .Stops}}\na{{end}}{{end}}": "\na",
	} {
		if got, err := printTravel(t, small(text), sampleMotion()); err != nil || got != want {
			t.Errorf("%q gives %q, %v, want %q", text, got, err, want)
		}
	}
}

func TestJoinComment(t *testing.T) {
	for _, c := range []struct {
		values []any
		want   string
	}{
		{[]any{12, "travel", NewText("tray A1"), ", plan line", 31}, "12 travel tray A1, plan line 31"},
		{[]any{"a", "", NewText(""), "b"}, "a b"},
		{[]any{"a", NewText(", b")}, "a , b"}, // only the template's own words say where no blank goes
		{nil, ""},
	} {
		if got, err := joinComment(c.values...); err != nil || got.s != c.want {
			t.Errorf("%v: got %q, %v, want %q", c.values, got.s, err, c.want)
		}
	}
	for _, bad := range []any{1.5, true, nil, struct{}{}, []string{"a"}} {
		if got, err := joinComment(bad); err == nil {
			t.Errorf("%v: got %q, want an error", bad, got.s)
		}
	}
}

func TestPrinterAsksForABlockThatIsThere(t *testing.T) {
	f, _ := loadFound(small(`{{define "travel"}}x{{end}}`))
	if _, err := f.NewPrinter().Print("note", Note{}); err == nil {
		t.Error("the family has no such block")
	}
}
