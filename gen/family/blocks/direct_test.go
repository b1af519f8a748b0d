package blocks

import (
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"gridferry/plan/diag"
	"gridferry/templates"
)

// everyFamily is the shipped families, those of the tests, and the hostile ones as
// far as they load.
func everyFamily(t testing.TB) map[string]*Blocks {
	t.Helper()
	all := map[string]*Blocks{}
	load := func(fsys fs.FS, name string) {
		if f := load(fsys, name, new(diag.List)); f != nil {
			all[name] = f
		}
	}
	for _, name := range templates.Names() {
		sub, err := fs.Sub(templates.FS, name)
		if err != nil {
			t.Fatal(err)
		}
		load(sub, name)
	}
	for _, pattern := range []string{"../../../testdata/families/*", "../../../testdata/hostile-families/*"} {
		folders, err := filepath.Glob(pattern)
		if err != nil || len(folders) == 0 {
			t.Fatal(pattern, err)
		}
		for _, folder := range folders {
			load(os.DirFS(folder), folder)
		}
	}
	return all
}

// randomView fills a view with what plans could put there, and with worse.
func randomView(typ reflect.Type, random *rand.Rand) any {
	words := []string{"", "a", "40.000", "-0.5", "tray A1", "(x)", "; end", "*)", `"`, "'", "ä", "\u202e", "line\nbreak", "  two  blanks ", ", comma", ") close", "long " + string(make([]byte, 90)), "{{.N}}", "\\"}
	v := reflect.New(typ).Elem()
	var fill func(reflect.Value)
	fill = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Struct:
			if v.Type() == reflect.TypeFor[Text]() {
				v.Set(reflect.ValueOf(NewText(words[random.IntN(len(words))])))
				return
			}
			for i := range v.NumField() {
				fill(v.Field(i))
			}
		case reflect.String:
			v.SetString(words[random.IntN(len(words))])
		case reflect.Int:
			v.SetInt(int64(random.IntN(5) * random.IntN(100_000)))
		case reflect.Bool:
			v.SetBool(random.IntN(2) == 0)
		case reflect.Slice:
			v.Set(reflect.MakeSlice(v.Type(), random.IntN(4), 4))
			for i := range v.Len() {
				fill(v.Index(i))
			}
		}
	}
	fill(v)
	return v.Interface()
}

// bothWays runs a block in the short way, where it has one, and by text/template,
// and holds text, error and what is left of the budget to be the same.
func bothWays(t *testing.T, short, long *Printer, block string, view any) {
	t.Helper()
	text, err := short.Print(block, view)
	held := view
	if v := reflect.ValueOf(view); v.Kind() == reflect.Pointer {
		held = v.Elem().Interface() // text/template is given the view as it always was
	}
	got := fmt.Sprintf("%q %v %d", text, err, short.left)
	err = long.run(long.blocks[block], held)
	want := fmt.Sprintf("%q <nil> %d", long.text, long.left)
	if err != nil {
		want = fmt.Sprintf("%q %v %d", []byte(nil), long.failed(block, err), long.left)
	}
	if got != want {
		t.Fatalf("%s: %q on %+v\nshort: %s\nlong:  %s", short.family.Label, block, view, got, want)
	}
}

// storages are the ways in which a view can be given: at a place that is used again,
// at another one, at one of its own, and as it is.
func storages(typ reflect.Type) []func(view any) any {
	again := func() func(any) any {
		at := reflect.New(typ)
		return func(view any) any { at.Elem().Set(reflect.ValueOf(view)); return at.Interface() }
	}
	fresh := func(view any) any { return again()(view) }
	asIs := func(view any) any { return view }
	first := again()
	return []func(any) any{first, first, first, again(), fresh, asIs}
}

func hasShortWay(f *Blocks, block string) bool {
	for _, b := range everyBlock() {
		if b.Name == block {
			_, ok := f.compiled(block, reflect.New(b.viewType()).Elem())
			return ok
		}
	}
	return false
}

// TestDirect holds the short way to the long one on every block of every family.
func TestDirect(t *testing.T) {
	random, views := rand.New(rand.NewPCG(1, 2)), 60
	if testing.Short() {
		views = 1
	}
	families, short := everyFamily(t), 0
	if len(families) < len(templates.Names())+3 {
		t.Fatalf("only %d families load", len(families))
	}
	for _, f := range families {
		a, b := f.NewPrinter(), f.NewPrinter()
		for _, block := range everyBlock() {
			if !f.Has(block.Name) {
				continue
			}
			if hasShortWay(f, block.Name) {
				short++
			}
			in := storages(block.viewType())
			for range views {
				bothWays(t, a, b, block.Name, in[random.IntN(len(in))](randomView(block.viewType(), random)))
			}
		}
	}
	if short < 30 {
		t.Errorf("only %d blocks have a short way", short)
	}
}

// TestDirectShipped: the moves of the shipped families take the short way, which is
// what the speed rests on.
func TestDirectShipped(t *testing.T) {
	families := everyFamily(t)
	for _, name := range []string{"starter", "iso6983", "listing", "st"} {
		for _, block := range []string{"travel", "straight", "select", "grip", "release", "dwell"} {
			if !hasShortWay(families[name], block) {
				t.Errorf("%s: %q has none", name, block)
			}
		}
	}
}

// FuzzDirect makes up blocks; most do not parse, the others must come out the same, also once they are settled.
//
//fuzz:2s
func FuzzDirect(f *testing.F) {
	for _, body := range []string{
		`x{{.X}} {{pad 9 .Y}}|{{left 3 .N}}|{{comment .N "to" .Target ", x" .Frame}}`,
		`{{if .Above}}a{{else if not .Stops}}b{{else}}c{{end}}{{.Target}}`,
		`{{if and .Above (or .Stops .Frame) .N}}y{{end}}{{template "h" .}}{{template "k"}}`,
		`"{{.Target}}`, `{{.Place}} x`, `{{pad 5000 .X}}`, `{{comment}}{{comment .X}}`, `{{range 3}}{{.}}{{end}}`,
		`{{quote .N "to" .Target}} {{.Target}}`, `x '{{quote .Target}}`, `{{$x := .X}}{{$x}}`, `{{with .Target}}{{.}}{{end}}`, `{{pad 1.0 .N}}{{pad 3 'a'}}{{.N | pad 4}}{{.X | comment}}`, `{{1}}{{"w"}}{{true}}{{nil}}`,
	} {
		f.Add(body, uint64(1))
	}
	f.Fuzz(func(t *testing.T, body string, seed uint64) {
		for _, comment := range []string{`{open: "(", close: ")"}` + "\n" + escaped, `{open: "; "}` + "\n" + doubled, "plain\n" + blanked, "none"} {
			files := small(`{{define "h"}}<{{.Speed}} {{.Target}}>{{end}}{{define "k"}}k{{end}}{{define "travel"}}` + body + `{{end}}`)
			files["family.yaml"] = &fstest.MapFile{Data: []byte(strings.Replace(smallRules, `{open: "(", close: ")"}`, comment, 1))}
			made := load(files, "fam", new(diag.List))
			if made == nil {
				continue
			}
			random := rand.New(rand.NewPCG(seed, 3))
			short, long := made.NewPrinter(), made.NewPrinter()
			in := storages(reflect.TypeFor[Motion]())
			for range 5 {
				bothWays(t, short, long, "travel", in[random.IntN(len(in))](randomView(reflect.TypeFor[Motion](), random)))
			}
			holdsSettled(t, made, "travel", reflect.TypeFor[Motion](), 3, random)
		}
	})
}
