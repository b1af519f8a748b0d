package plan

import (
	"strings"
	"testing"

	"gridferry/plan/diag"
)

func variantsOf(t *testing.T, entries string) ([]Variant, diag.List) {
	t.Helper()
	var list diag.List
	var sources diag.Sources
	all, _ := ReadVariants(Source{File: "v.yaml", Data: []byte("format: " + VariantsFormat + "\nvariants:\n" + entries)}, &list, &sources)
	return all, list
}

func TestVariantsOfAMatrix(t *testing.T) {
	all, list := variantsOf(t, `
  - {name: small, set: {grids.tray.rows: 2, title: "a, b"}}
  - name: wide
    cells: [bench-a.cell.yaml, bench-b.cell.yaml]
    set: {motion.fly_by: 5}
    each: {grids.tray.rows: [2, 4], grids.tray.pitch: [[60, 60], [55, 60]]}
  - {each: {grids.tray.rows: [1], grids.rack.rows: [3]}}
`)
	if list.Len() > 0 {
		t.Fatal(list.Sorted())
	}
	want := []string{
		`small: grids.tray.rows=2 title="a, b"`,
		`wide-bench-a-rows-2-pitch-60x60: motion.fly_by=5 cell=bench-a.cell.yaml grids.tray.rows=2 grids.tray.pitch=[60, 60]`,
		`wide-bench-a-rows-2-pitch-55x60: motion.fly_by=5 cell=bench-a.cell.yaml grids.tray.rows=2 grids.tray.pitch=[55, 60]`,
		`wide-bench-a-rows-4-pitch-60x60: motion.fly_by=5 cell=bench-a.cell.yaml grids.tray.rows=4 grids.tray.pitch=[60, 60]`,
		`wide-bench-a-rows-4-pitch-55x60: motion.fly_by=5 cell=bench-a.cell.yaml grids.tray.rows=4 grids.tray.pitch=[55, 60]`,
		`wide-bench-b-rows-2-pitch-60x60: motion.fly_by=5 cell=bench-b.cell.yaml grids.tray.rows=2 grids.tray.pitch=[60, 60]`,
		`wide-bench-b-rows-2-pitch-55x60: motion.fly_by=5 cell=bench-b.cell.yaml grids.tray.rows=2 grids.tray.pitch=[55, 60]`,
		`wide-bench-b-rows-4-pitch-60x60: motion.fly_by=5 cell=bench-b.cell.yaml grids.tray.rows=4 grids.tray.pitch=[60, 60]`,
		`wide-bench-b-rows-4-pitch-55x60: motion.fly_by=5 cell=bench-b.cell.yaml grids.tray.rows=4 grids.tray.pitch=[55, 60]`,
		`tray.rows-1-rack.rows-3: grids.tray.rows=1 grids.rack.rows=3`,
	}
	var got []string
	for _, v := range all {
		text := v.Name + ":"
		for _, s := range v.Settings {
			text += " " + s.Path + "=" + s.Value
		}
		got = append(got, text)
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwanted\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if p := all[2].Settings[3].Place; p.Line != 8 || p.Col != 66 {
		t.Errorf("a value of the matrix stands at %s", p)
	}
}

// TestVariantNames holds that a name can be a folder's on any disk, tells the value
// and does not depend on the variants beside it.
func TestVariantNames(t *testing.T) {
	for value, want := range map[string]string{
		`5`:                      "k-5",
		`-5.25`:                  "k--5.25",
		`2.5 in`:                 "k-2.5_in-",
		`"../../etc"`:            "k-_.._.._etc_-",
		`"a/b"`:                  "k-_a_b_-",
		`[A1, "B2:C3"]`:          "k-A1x_B2_C3_-",
		`größe`:                  "k-größe",
		`nul`:                    "k-nul",
		"\"\u202e\"":             "k-",
		`""`:                     "k-",
		strings.Repeat("y", 500): "k-yyyy",
	} {
		all, list := variantsOf(t, "  - {each: {g.k: ["+value+"]}}\n")
		if list.Len() > 0 && value != "\"\u202e\"" {
			t.Fatal(value, list.Sorted())
		}
		if len(all) == 0 {
			continue // refused, which is safe, too
		}
		name := all[0].Name
		if !strings.HasPrefix(name, want) || strings.ContainsAny(name, `/\:*?"<>| `) || strings.HasSuffix(name, ".") || len(name) > longestVariantName+9 {
			t.Errorf("%s: the name is %q, wanted %q", value, name, want)
		}
	}
	for _, device := range []string{"con", "NUL", "com1", "lpt9"} {
		all, _ := variantsOf(t, "  - {name: "+device+"}\n")
		if len(all) != 1 || all[0].Name == device {
			t.Errorf("%q stays a device", device)
		}
	}
}

// TestVariantNamesThatClash: two values that look alike in a name are told apart by a
// digest, and two that cannot be are refused.
func TestVariantNamesThatClash(t *testing.T) {
	all, list := variantsOf(t, `  - {each: {g.k: ["a/b", "a:b", "a b"]}}`+"\n")
	if list.Len() > 0 || len(all) != 3 || all[0].Name == all[1].Name || all[1].Name == all[2].Name {
		t.Errorf("%v, %v", all, list.Sorted())
	}
	if _, list = variantsOf(t, "  - {each: {g.k: [1, 1]}}\n"); list.Len() != 1 || list.Sorted()[0].Rule != "variant-twice" {
		t.Errorf("%v", list.Sorted())
	}
}

func TestVariantsOfTheWrongFile(t *testing.T) {
	for text, rule := range map[string]string{
		"format: gridferry plan 1\n": "no-variants",
		"[1]\n":                      "wrong-type",
		"format: gridferry variants 1\nvariants: 3\n":             "wrong-type",
		"format: gridferry variants 1\nvariant: []\n":             "no-variants",
		"format: gridferry variants 1\nvariants: []\n":            "no-variants",
		"format: gridferry variants 1\nvariants: [{cells: []}]\n": "variant-value",
		"format: gridferry variants 1\nvariants: [{each: {}}]\n":  "variant-value",
		"variants: [{name: x}]\n":                                 "missing-key",
		"format: gridferry variant 1\nvariants: [{name: x}]\n":    "bad-format",
		"fromat: gridferry variants 1\nvariants: [{name: x}]\n":   "unknown-key",
		"format: gridferry plan 1\nvariants: []\n":                "no-variants",
		"format: gridferry variants 1\nvariants: [{name: x, set: {a.b: [" + strings.Repeat("1234567890,", 10_000) + "1]}}]\n": "variant-value",
	} {
		var list diag.List
		var sources diag.Sources
		if _, ok := ReadVariants(Source{File: "v.yaml", Data: []byte(text)}, &list, &sources); ok || list.Len() != 1 || list.Sorted()[0].Rule != rule {
			t.Errorf("%.60q: %v, wanted %s", text, list.Sorted(), rule)
		}
	}
}

func TestNoVariantIsToldAtItsLine(t *testing.T) {
	var list diag.List
	ReadVariants(Source{File: "v.yaml", Data: []byte("format: gridferry variants 1\n\nvariants: []\n")}, &list, new(diag.Sources))
	if found := list.Sorted(); len(found) != 1 || found[0].Place.Line != 3 || found[0].Place.Col != 11 || found[0].Hint == "" {
		t.Errorf("%+v", found)
	}
}

// TestAnotherKindOfFile: a file of another kind in a plan's place is one finding.
func TestAnotherKindOfFile(t *testing.T) {
	for format, what := range kinds {
		if format == Format {
			continue
		}
		var list diag.List
		p := Read(Source{File: "p.yaml", Data: []byte("format: " + format + "\nfilled: {}\nvariants: []\n")}, nil, &list, new(diag.Sources))
		found := list.Sorted()
		if p != nil || len(found) != 1 || found[0].Rule != "bad-format" || found[0].Message != "this is "+what+", wanted a plan" || found[0].Hint == "" {
			t.Errorf("%s: %v", format, found)
		}
	}
}

// TestKnownVariantsArePassedOver: what is wrong with them is told by whoever read them, and not once more.
func TestKnownVariantsArePassedOver(t *testing.T) {
	source := Source{File: "p.yaml", Data: []byte("format: gridferry plan 1\nvariants: [{name: a}, {name: A}, 3]\nmotion: 1\n")}
	told := func() (rules string) {
		var list diag.List
		Read(source, nil, &list, new(diag.Sources))
		for _, f := range list.Sorted() {
			rules += f.Rule + " "
		}
		return rules
	}
	if all := told(); !strings.Contains(all, "variant-twice") {
		t.Errorf("all of the plan: %s", all)
	}
	source.VariantsKnown = true
	if rest := told(); strings.Contains(rest, "variant-twice") || !strings.Contains(rest, "wrong-type") {
		t.Errorf("without its variants: %s", rest)
	}
}
