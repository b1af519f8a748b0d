package golden

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// elsewhere is the rules that no plan in testdata/bad can break, and the test file
// that names them instead.
var elsewhere = map[string]string{
	// Only "vary" asks for variants.
	"no-variants": "plan/variants_test.go",
	// Only flags say something of a grid twice.
	"said-twice": "cmd/cli/shortform_test.go",
	// A thousand values, and megabytes of them.
	"too-many-settings": "plan/bounds_test.go",

	// 16 MiB are not kept in a repository; TestFileTooBig below makes them.
	"file-too-big":    "plan/internal/ynode/parse_test.go",
	"too-many-values": "plan/internal/ynode/marks_test.go",
	// Ten thousand slips, for the same reason.
	"too-many-findings": "plan/diag/list_test.go",

	// What takes a second to be refused is tested with smaller bounds.
	"too-many-moves":  "gen/layout/bounds_test.go",
	"too-much-choice": "gen/layout/bounds_test.go",
	"too-crowded":     "gen/check/effort_test.go",

	// A figure of a plan is finite by the time it is read, so only a made move can break it.
	"number-not-finite": "gen/render/render_test.go",
	// The shipped families replace such letters in names and comments.
	"not-in-encoding": "gen/family/load_test.go",

	// The shipped family allows more tables than a plan of this size fills.
	"too-many-tables": "golden/st_test.go",

	// Tables of touched points are no part of a plan.
	"no-points": "gen/fitfile/fitfile_test.go",

	// These guard the move list, which a plan alone cannot spoil.
	"fly-by-at-slot":       "gen/check/guard_test.go",
	"pick-while-holding":   "gen/check/guard_test.go",
	"place-with-nothing":   "gen/check/guard_test.go",
	"part-left-in-gripper": "gen/check/guard_test.go",
}

// TestEveryRuleIsBrokenByABadPlan fails for a rule that the source names and no
// bad plan reaches. A rule of package family is about a family's own files and
// is broken in that package's tests.
func TestEveryRuleIsBrokenByABadPlan(t *testing.T) {
	rules := map[string]string{}
	for _, root := range []string{"../plan", "../gen/layout", "../gen/measure", "../gen/check", "../gen/expand", "../gen/render"} {
		collectRules(t, root, rules)
	}
	if len(rules) < 50 {
		t.Fatalf("only %d rules were found in the source: is the search right?", len(rules))
	}
	top := absolute(t, "..")
	broken := brokenRules(t)
	for _, rule := range slices.Sorted(maps.Keys(rules)) {
		file, excused := elsewhere[rule]
		switch {
		case excused && broken[rule]:
			t.Errorf("%s is broken by a bad plan, so that it needs no excuse (%s)", rule, file)
		case excused && !named(filepath.Join(top, file), rule):
			t.Errorf("%s does not name %s", file, rule)
		case !excused && !broken[rule]:
			t.Errorf("no bad plan breaks %s (%s)", rule, rules[rule])
		}
	}
	for rule := range elsewhere {
		if rules[rule] == "" {
			t.Errorf("%s is excused, but no source names it", rule)
		}
	}
}

// named tells whether a file of the project has a rule's name in quotes, or in
// brackets as messages show it.
func named(file, rule string) bool {
	data, err := os.ReadFile(file)
	return err == nil && (strings.Contains(string(data), rule+`"`) || strings.Contains(string(data), "["+rule+"]"))
}

// brokenRules is what the bad plans want, which TestBadPlans holds them to, and
// what families of one's own break.
func brokenRules(t *testing.T) map[string]bool {
	t.Chdir(badFolder)
	broken := map[string]bool{}
	for _, c := range ownFamilies {
		broken[c.rule] = true
	}
	for _, c := range warnedFamilies {
		broken[c.rule] = true
	}
	for _, plan := range badPlans(t) {
		for _, w := range readBad(t, plan).wants {
			broken[w.rule] = true
		}
	}
	return broken
}

// kebab is the form of a rule's name.
var kebab = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)+$`)

// collectRules finds the rules that the source below root names: kebab-case
// texts that are handed to a function that reports, stand in a field named
// rule, in a constant named rule…, in an array named rules or in a field Name or Names.
func collectRules(t *testing.T, root string, rules map[string]string) {
	t.Helper()
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, path, nil, 0)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			for _, e := range ruleExpressions(n) {
				if lit, ok := e.(*ast.BasicLit); ok && lit.Kind == token.STRING {
					if text, err := strconv.Unquote(lit.Value); err == nil && kebab.MatchString(text) {
						rules[text] = set.Position(lit.Pos()).String()
					}
				}
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// ruleExpressions is the expressions of a node that may name a rule.
func ruleExpressions(n ast.Node) []ast.Expr {
	switch n := n.(type) {
	case *ast.CallExpr:
		if reports(n.Fun) {
			return n.Args
		}
	case *ast.KeyValueExpr:
		key, ok := n.Key.(*ast.Ident)
		if list, isList := n.Value.(*ast.CompositeLit); ok && isList && key.Name == "Names" {
			return list.Elts
		}
		if ok && (strings.EqualFold(key.Name, "rule") || key.Name == "Name") {
			return []ast.Expr{n.Value}
		}
	case *ast.ValueSpec:
		return ruleValues(n)
	}
	return nil
}

// ruleValues is the values of constants named rule… and of an array named rules.
func ruleValues(n *ast.ValueSpec) []ast.Expr {
	var values []ast.Expr
	for i, name := range n.Names {
		if !strings.HasPrefix(strings.ToLower(name.Name), "rule") || i >= len(n.Values) {
			continue
		}
		values = append(values, n.Values[i])
		if list, ok := n.Values[i].(*ast.CompositeLit); ok {
			for _, e := range list.Elts {
				if kv, ok := e.(*ast.KeyValueExpr); ok {
					values = append(values, kv.Value)
				}
			}
		}
	}
	return values
}

var reporting = regexp.MustCompile(`(?i)^(errorf|warnf|find|.*report.*|stop|refuse.*|found|fault|give)$`)

func reports(fun ast.Expr) bool {
	switch f := fun.(type) {
	case *ast.Ident:
		return reporting.MatchString(f.Name)
	case *ast.SelectorExpr:
		return reporting.MatchString(f.Sel.Name)
	}
	return false
}

func TestFileTooBig(t *testing.T) {
	t.Chdir(t.TempDir())
	const limit = 16 << 20
	text := "format: gridferry plan 1\n#" + strings.Repeat("x", limit)
	if err := os.WriteFile("big.plan.yaml", []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	c := &badCase{plan: "big.plan.yaml"}
	found, status := c.findings(t)
	if status != 1 || len(found) != 1 || found[0].Rule != "file-too-big" || found[0].File != "big.plan.yaml" || found[0].Line != 0 {
		t.Errorf("status %d, findings %+v, wanted file-too-big for the file as a whole and nothing else", status, found)
	}
}
