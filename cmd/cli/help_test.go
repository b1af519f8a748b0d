package cli_test

import (
	"os"
	"strings"
	"testing"
)

// TestHelpExamplesWork runs the example of every command's help, one after the other, in
// the folder of the demos.
func TestHelpExamplesWork(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: every command is run")
	}
	folder := t.TempDir()
	if err := os.CopyFS(folder, os.DirFS("../../testdata/demo")); err != nil {
		t.Fatal(err)
	}
	t.Chdir(folder)
	put(t, "dock-points.csv", "name,x,y,z\norigin,100,0,20\nalong_x,300,0,20\ntoward_y,100,250,20\n")
	put(t, "cases/cubes/case.yaml", "format: gridferry case 1\nplan: ../../mortar-cubes.plan.yaml\nfamily: listing\n")
	if r := gridferry("", "golden", ".", "--accept"); r.status != 0 {
		t.Fatal(r.out, r.err)
	}
	commands := strings.Fields("new check moves write vary verify compare golden draw sheet time manifest explain order fit arm families families-try families-fields schema")
	for _, name := range commands {
		help := gridferry("", append(strings.Split(name, "-"), "--help")...).out
		about, _, _ := strings.Cut(help, "\nUsage:")
		lines := strings.Split(strings.ReplaceAll(about, "\\\n", " "), "\n")
		examples := 0
		for _, line := range lines {
			if args, ok := strings.CutPrefix(line, "  gridferry "); ok {
				examples++
				args, _, _ = strings.Cut(args, " > ")
				if r := gridferry("", words(args)...); r.status != 0 {
					t.Errorf("%s: %s: status %d, %s", name, line, r.status, r.err)
				}
			}
		}
		if examples == 0 {
			t.Errorf("%s has no example", name)
		}
	}
}

// words splits a line as a shell does, if quotes are around whole words.
func words(line string) []string {
	var all []string
	for i, part := range strings.Split(line, `"`) {
		if i%2 == 1 {
			all = append(all, part)
		} else {
			all = append(all, strings.Fields(part)...)
		}
	}
	return all
}
