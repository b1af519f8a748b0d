package golden

import (
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// source is one Go file of the project that is no test.
type source struct {
	folder  string // below the top, with "/"
	name    string
	imports []string
	names   []string // "os.Create", "r.plan.Motion" and the like, as written
}

// rule forbids imports to the files of some folders, or allows nothing else.
type rule struct {
	doc     string
	applies func(folder string) bool
	allowed func(path string) bool
}

const module = "gridferry/"

// table is who may import what: the directions in which data flows.
var table = []rule{
	{"plan never imports gen", below("plan"), not(ours("gen"))},
	{"only plan/internal/ynode imports YAML", except("plan/internal/ynode"), not(below("gopkg.in/yaml.v3"))},
	{"only cmd/cli imports cobra, and what describes its commands", except("cmd/cli", "cmd/manual"), not(below("github.com/spf13/cobra"))},
	{"an arm knows geometry only", exactly("gen/arm"), either(not(startsWith(module)), exactly(module+"gen/geom"))},
	{"geom, slot, decimal and align know nothing of ours", exactly("gen/geom", "gen/slot", "gen/decimal", "gen/align"), not(startsWith(module))},
	{"fit knows geom and wording only", exactly("gen/fit"), either(not(startsWith(module)), exactly(module+"gen/geom", module+"plan/wording"))},
	{"a pattern knows geometry, fits and slots only", exactly("gen/pattern"),
		either(not(startsWith(module)), exactly(module+"gen/geom", module+"gen/fit", module+"gen/slot"))},
	{"diag, digest, lazy and colours know nothing of ours", exactly("plan/diag", "plan/digest", "plan/lazy", "gen/colour"), not(startsWith(module))},
	{"wording knows lazy only", exactly("plan/wording"), either(not(startsWith(module)), exactly(module+"plan/lazy"))},
	{"unit knows wording only", exactly("plan/unit"), either(not(startsWith(module)), exactly(module+"plan/wording"))},
	{"the move list knows geometry, arms, decimals, slots, places and wording only", exactly("gen/move"),
		either(not(startsWith(module)), exactly(module+"gen/geom", module+"gen/arm", module+"gen/decimal", module+"gen/slot", module+"plan/diag", module+"plan/wording"))},
	{"a family's rules know neither what writes nor what reads, and these not each other", exactly("gen/family/rules", "gen/family/blocks", "gen/family/reads"),
		either(not(ours("gen/family")), exactly(module+"gen/family/rules"))},
	{"what a viewer shows knows neither families nor pages", exactly("gen/scene"), either(not(ours("gen")), exactly(module+"gen/arm", module+"gen/decimal", module+"gen/explain", module+"gen/geom",
		module+"gen/layout", module+"gen/move", module+"gen/solid", module+"gen/timing"))},
	{"what writes never asks the family again, and knows nothing of what reads", exactly("gen/render"),
		not(exactly(module+"gen/family", module+"gen/family/reads", module+"gen/readback"))},
	{"what reads never asks the family again, and knows nothing of what writes", exactly("gen/readback", "gen/verify", "gen/compare"),
		not(exactly(module+"gen/family", module+"gen/family/blocks", module+"gen/render"))},
	{"only the command line and the flow know all stages", except("gen", "cmd"), not(exactly(module+"gen", module+"cmd/cli"))},
	{"the writer of files knows nothing of ours", exactly("gen/out"), not(startsWith(module))},
	{"the shipped families only embed", exactly("templates"), exactly("embed")},
	{"the simulator of plans knows the reader of plans only", exactly("golden/simulate"), either(not(startsWith(module)), exactly(module+"plan"))},
	{"nothing runs other programs or opens the network, but the server of the live page", except("golden", "gen/live"), not(exactly("os/exec", "net", "net/http"))},
	{"nothing loads what is not built in", except("golden"), not(exactly("plugin"))},
}

// rightOfList is the packages that know moves, and statements of loops, but nothing of
// where they come from: what the waist parts from layout and plan. mayReach is all of
// ours that they may come by, through however many others.
var (
	rightOfList = []string{"gen/family", "gen/family/rules", "gen/family/blocks", "gen/family/reads", "gen/render", "gen/readback", "gen/verify", "gen/compare", "gen/seal", "gen/timing", "gen/summary", "gen/out", "gen/loops", "gen/move"}
	mayReach    = append([]string{
		"gen/arm", "gen/geom", "gen/slot", "gen/decimal", "gen/align", "gen/colour", "gen/page", "plan/unit", "plan/digest", "plan/lazy", "plan/wording", // know nothing of plan or layout
		"plan/diag", "plan/decode", "plan/schema", "plan/internal/ynode", // findings, and how a family's own files are read
	}, rightOfList...)
)

// TestImportsHoldTheWaist: right of the move list no chain of imports leads back to the
// plan.
func TestImportsHoldTheWaist(t *testing.T) {
	imports := map[string][]string{} // by folder
	for _, s := range sources(t) {
		imports[s.folder] = append(imports[s.folder], s.imports...)
	}
	for _, folder := range rightOfList {
		if len(imports[folder]) == 0 {
			t.Errorf("there is no %s: is its folder right?", folder)
		}
		seen := map[string]bool{}
		var follow func(chain string, folder string)
		follow = func(chain, folder string) {
			for _, path := range imports[folder] {
				next, is := strings.CutPrefix(path, module)
				switch {
				case !is || seen[next]:
				case !slices.Contains(mayReach, next):
					t.Errorf("%s imports %s, which mayReach does not list: after the move list nothing looks at the plan or the layout", chain, next)
				default:
					follow(chain+" imports "+next, next)
				}
				seen[next] = true
			}
		}
		follow(folder, folder)
	}
}

// writers are the calls that make, change or remove files.
var writers = []string{
	"os.Create", "os.CreateTemp", "os.OpenFile", "os.WriteFile", "os.Rename", "os.Remove", "os.RemoveAll",
	"os.Mkdir", "os.MkdirAll", "os.MkdirTemp", "os.Chmod", "os.Link", "os.Symlink", "os.Truncate", "os.CopyFS",
}

func TestImports(t *testing.T) {
	used := make([]bool, len(table))
	for _, s := range sources(t) {
		for i, r := range table {
			if !r.applies(s.folder) {
				continue
			}
			used[i] = true
			for _, path := range s.imports {
				if !r.allowed(path) {
					t.Errorf("%s/%s imports %q, but %s", s.folder, s.name, path, r.doc)
				}
			}
		}
	}
	for i, r := range table {
		if !used[i] {
			t.Errorf("the rule %q applies to no file: is its folder right?", r.doc)
		}
	}
}

func TestOnlyOutWritesFiles(t *testing.T) {
	found := false
	for _, s := range sources(t) {
		for _, call := range s.names {
			if !slices.Contains(writers, call) {
				continue
			}
			if s.folder == "gen/out" || s.folder == "golden/simulate" || s.folder == "golden/outside" { // which write for tests
				found = found || s.folder == "gen/out"
				continue
			}
			t.Errorf("%s/%s uses %s, but only gen/out writes files", s.folder, s.name, call)
		}
	}
	if !found {
		t.Error("gen/out writes no file either: is the search right?")
	}
}

// TestOnlyPatternsReadTheirKeys: where a plan's keys become a pattern is one file. All
// others ask the pattern.
func TestOnlyPatternsReadTheirKeys(t *testing.T) {
	found := false
	for _, s := range sources(t) {
		reads := slices.ContainsFunc(s.names, func(name string) bool {
			return strings.HasSuffix(name, ".LayerPitch") || strings.HasSuffix(name, ".Standard") || strings.HasSuffix(name, "g.Stagger.V") || strings.HasSuffix(name, ".Ring") || strings.HasSuffix(name, ".OnePlace")
		})
		switch {
		case !reads || s.folder == "plan" || s.folder == "golden/simulate": // which makes plans; which is written from the format's words alone
		case s.folder == "gen/layout" && s.name == "patterns.go":
			found = true
		default:
			t.Errorf("%s/%s reads how a plan lays grids out, but only gen/layout/patterns.go does", s.folder, s.name)
		}
	}
	if !found {
		t.Error("gen/layout/patterns.go does not read it either: is the search right?")
	}
}

// TestOnlyFiguresReadMotion: how the arm moves is asked of gen/layout's figures, so that
// what rules a leg is settled in one file. Elsewhere the layout's own field cannot be
// seen.
func TestOnlyFiguresReadMotion(t *testing.T) {
	found := false
	for _, s := range sources(t) {
		hasPlan, hasLayout := slices.Contains(s.imports, module+"plan"), s.folder == "gen/layout"
		reads := slices.ContainsFunc(s.names, func(name string) bool {
			return hasPlan && strings.HasSuffix(name, ".Motion") || hasLayout && strings.HasSuffix(name, ".motion")
		})
		switch {
		case !reads || s.folder == "plan" || s.folder == "golden/simulate": // which makes plans; which is written from the format's words alone
		case s.folder == "gen/layout" && s.name == "figures.go":
			found = true
		default:
			t.Errorf("%s/%s reads the plan's motion, but only gen/layout/figures.go does", s.folder, s.name)
		}
	}
	if !found {
		t.Error("gen/layout/figures.go does not read it either: is the search right?")
	}
}

// sources is every Go file of the project that is no test.
func sources(t *testing.T) []source {
	t.Helper()
	var all []source
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "node_modules" || d.Name() == "testdata" || strings.HasPrefix(d.Name(), ".") && path != "..") {
			return filepath.SkipDir
		}
		if strings.HasSuffix(path, ".go") && !strings.HasSuffix(path, "_test.go") {
			all = append(all, parse(t, path))
		}
		return nil
	})
	if err != nil || len(all) < 50 {
		t.Fatalf("%d files, %v: is the top folder right?", len(all), err)
	}
	return all
}

func parse(t *testing.T, path string) source {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	folder := strings.TrimPrefix(filepath.ToSlash(filepath.Dir(path)), "../")
	s := source{folder: folder, name: filepath.Base(path)}
	for _, spec := range file.Imports {
		name, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			t.Fatal(err)
		}
		s.imports = append(s.imports, name)
	}
	ast.Inspect(file, func(n ast.Node) bool {
		if sel, ok := n.(*ast.SelectorExpr); ok {
			s.names = append(s.names, types.ExprString(sel))
		}
		return true
	})
	return s
}

// The words of the table.

func below(root string) func(string) bool {
	return func(s string) bool { return s == root || strings.HasPrefix(s, root+"/") }
}

func ours(root string) func(string) bool { return below(module + root) }

func exactly(names ...string) func(string) bool {
	return func(s string) bool { return slices.Contains(names, s) }
}

func except(roots ...string) func(string) bool {
	return func(s string) bool {
		for _, root := range roots {
			if below(root)(s) {
				return false
			}
		}
		return true
	}
}

func startsWith(prefix string) func(string) bool {
	return func(s string) bool { return strings.HasPrefix(s, prefix) }
}

func not(f func(string) bool) func(string) bool { return func(s string) bool { return !f(s) } }

func either(a, b func(string) bool) func(string) bool {
	return func(s string) bool { return a(s) || b(s) }
}
