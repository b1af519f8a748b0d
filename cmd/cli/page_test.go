package cli_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/golden/outside"
)

// state is every file below the present folder with what it holds.
func state(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{}
	for _, name := range listing(t) {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		all[name] = string(data)
	}
	return all
}

// unchanged holds the present folder to what it was.
func unchanged(t *testing.T, what string, before map[string]string) {
	t.Helper()
	after := state(t)
	for name, text := range before {
		if after[name] != text {
			t.Errorf("%s: %s is not what it was", what, name)
		}
	}
	for name := range after {
		if _, was := before[name]; !was {
			t.Errorf("%s: %s is new", what, name)
		}
	}
}

// linked gives a file another name.
func linked(t *testing.T, link func(string, string) error, from, to string) {
	t.Helper()
	if err := link(from, to); err != nil {
		outside.Missing(t, err)
	}
}

// TestNothingIsWrittenOverWhatIsRead, under whatever name, with whatever flags.
func TestNothingIsWrittenOverWhatIsRead(t *testing.T) {
	plan := starter(t)
	plain := read(t, plan)
	put(t, "bare", plain)
	put(t, "first.yaml", plain)
	linked(t, os.Link, plan, "plan.svg")
	linked(t, os.Symlink, "bench.cell.yaml", "cell.html")
	put(t, "found.slots.yaml", "format: gridferry slots 1\nfilled: {tray: all}\n")
	linked(t, os.Link, "found.slots.yaml", "found.svg")
	own := "./own"
	if r := gridferry("", "families", "copy", "starter", own); r.status != 0 {
		t.Fatal(r.err)
	}
	rules := read(t, "own/family.yaml")
	put(t, "own/family.yaml", strings.Replace(rules, "extension: .prog", "extension: .yaml", 1))
	linked(t, os.Link, filepath.Join(own, "family.yaml"), "family.html")
	put(t, "summary.csv", "format: gridferry variants 1\nvariants: [{name: small, set: {motion.approach: 60}}]\n")
	put(t, "cases/one/case.yaml", "format: gridferry case 1\nplan: expected/first.yaml\nfamily: ../../own\n")
	put(t, "cases/one/expected/first.yaml", plain)
	put(t, "cases/one/expected/bench.cell.yaml", read(t, "bench.cell.yaml"))
	before := state(t)
	for _, line := range []string{
		"draw bare -o bare", "draw bare -o ./bare --replace", "sheet bare -o bare --replace",
		"draw " + plan + " -o plan.svg", "draw " + plan + " -o plan.svg --replace", "sheet " + plan + " -o cell.html --replace",
		"draw " + plan + " --from 1 --slots found.slots.yaml -o found.svg --replace",
		"sheet " + plan + " --family " + own + " -o family.html --replace",
		"write first.yaml --replace --family " + own,
		"vary " + plan + " --variants summary.csv --family listing -o .",
		"golden . --accept",
	} {
		r := gridferry("", strings.Fields(line)...)
		if r.status != 2 || !strings.Contains(r.err, "which this very command reads") && !strings.Contains(r.err, "but this very command reads it") {
			t.Errorf("%s: %+v", line, r)
		}
		unchanged(t, line, before)
	}
}

// TestPagesReplaceOnlyTheirOwnKind: a picture replaces a picture and a sheet a sheet;
// anything else stays, or is kept with --replace.
func TestPagesReplaceOnlyTheirOwnKind(t *testing.T) {
	plan := starter(t)
	for command, name := range map[string]string{"draw": "page.svg", "sheet": "page.html"} {
		args := []string{command, plan, "-o", name}
		if r := gridferry("", args...); r.status != 0 {
			t.Fatalf("the first %s: %+v", command, r)
		}
		first := read(t, name)
		put(t, name, strings.ReplaceAll(first, "\n", "\r\n")) // as a system for versions may leave it
		if r := gridferry("", args...); r.status != 0 || read(t, name) != first {
			t.Errorf("%s over its own: %+v", command, r)
		}
		for _, foreign := range []string{"by hand", "", "<svg>by hand</svg>", "<!DOCTYPE html>\n<title>by hand</title>", "\n" + first} {
			put(t, name, foreign)
			r := gridferry("", args...)
			if r.status != 1 || !strings.Contains(r.err, name+": error: a file of that name exists that is not a ") || read(t, name) != foreign {
				t.Errorf("%s over %.20q: %+v", command, foreign, r)
			}
		}
		put(t, name, "by hand")
		r := gridferry("", append(args, "--replace")...)
		if r.status != 0 || r.err != "kept "+name+".kept-1\nwrote "+name+"\n" || read(t, name+".kept-1") != "by hand" || read(t, name) != first {
			t.Errorf("%s --replace: %+v", command, r)
		}
	}
	put(t, "page.svg", read(t, "page.html"))
	if r := gridferry("", "draw", plan, "-o", "page.svg"); r.status != 1 {
		t.Errorf("a picture takes the place of a sheet: %+v", r)
	}
}

// TestPagesHaveTheirEnding, or none.
func TestPagesHaveTheirEnding(t *testing.T) {
	plan := starter(t)
	put(t, "folder/there", "")
	before := state(t)
	for line, want := range map[string]string{
		"draw -o x.png":            "-o is x.png, but a picture is an .svg file: -o x.svg\n",
		"draw -o bench.cell.yaml":  "-o is bench.cell.yaml, but a picture is an .svg file: -o bench.cell.svg\n",
		"sheet -o x.pdf --replace": "-o is x.pdf, but a sheet is an .html file: -o x.html\n",
		"sheet -o a/picture.svg":   "-o is a/picture.svg, but a sheet is an .html file: -o a/picture.html\n",
		"draw -o folder --replace": "-o is the folder folder, wanted a file: -o " + filepath.Join("folder", "picture.svg") + "\n",
		"sheet -o .":               "-o is the folder ., wanted a file: -o sheet.html\n",
	} {
		r := gridferry("", append(strings.Fields(line), plan)...)
		if r.status != 2 || !strings.HasPrefix(r.err, "gridferry: "+want) {
			t.Errorf("%s: %+v", line, r)
		}
		unchanged(t, line, before)
	}
	for line, name := range map[string]string{"draw -o x": "x", "draw -o x.SVG": "x.SVG", "sheet -o y": "y", "sheet -o y.htm": "y.htm"} {
		if r := gridferry("", append(strings.Fields(line), plan)...); r.status != 0 || read(t, name) == "" {
			t.Errorf("%s: %+v", line, r)
		}
	}
}

// TestStandardOutputNeedsNoName: whatever stands in the folder of temporary files under
// the name that a file would have is in nobody's way.
func TestStandardOutputNeedsNoName(t *testing.T) {
	plan := starter(t)
	temporary := t.TempDir()
	t.Setenv("TMPDIR", temporary)
	t.Setenv("TMP", temporary)
	for line, name := range map[string]string{
		"write " + plan + " --family listing -o -": "first.txt",
		"draw " + plan + " -o -":                   "picture.svg",
		"sheet " + plan + " -o -":                  "sheet.html",
	} {
		want := gridferry("", strings.Fields(line)...)
		put(t, filepath.Join(temporary, name, "x"), "x")
		if r := gridferry("", strings.Fields(line)...); r.status != 0 || r.out != want.out || r.out == "" {
			t.Errorf("%s: %+v", line, r)
		}
	}
}
