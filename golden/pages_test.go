package golden

import (
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/manual"
)

// TestEveryRuleHasAPage fails for a rule that the source names and no page explains, and for a page of
// a rule that there is not.
func TestEveryRuleHasAPage(t *testing.T) {
	rules := map[string]string{}
	for _, root := range []string{"../plan", "../gen"} {
		collectRules(t, root, rules)
	}
	// The names of these are put together.
	for _, what := range []string{"cell", "measured", "contents", "list", "urdf", "plan", "family"} {
		rules[what+"-unreadable"] = "of a file that is named"
	}
	pages := gen.Manual()
	explained := map[string]bool{}
	for i := range pages {
		name := pages[i].Name
		if explained[name] {
			t.Errorf("two pages explain %s", name)
		}
		explained[name] = true
		if rules[name] == "" {
			t.Errorf("a page explains %s, which no source names", name)
		}
	}
	for _, rule := range slices.Sorted(maps.Keys(rules)) {
		if !explained[rule] {
			t.Errorf("no page explains %s (%s)", rule, rules[rule])
		}
	}
}

// TestPagesShowThemselves runs the examples of all pages but those of package check, which are run there.
func TestPagesShowThemselves(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: every example is run")
	}
	for _, p := range slices.Concat(manual.Reading(), manual.Writing()) {
		t.Run(p.Name, func(t *testing.T) {
			if p.Doc == "" || p.Do == "" || p.Severity == 0 || p.Brief() == "" {
				t.Error("the page has no doc, no advice or no severity")
			}
			if p.Unshown == "" {
				showExample(t, p)
			}
		})
	}
}

// shownAs is how findings read as text: a place, a severity, a message, a rule.
var shownAs = regexp.MustCompile(`(?m)^.*?(error|warning): .* \[([a-z0-9-]+)\]$`)

func showExample(t *testing.T, p manual.Page) {
	t.Helper()
	bad := rulesOf(t, p, p.Bad)
	if len(bad) == 0 {
		t.Error("the bad example has no finding")
	}
	for _, got := range bad {
		if got != p.Severity.String()+" "+p.Name {
			t.Errorf("the bad example has %q", got)
		}
	}
	for _, got := range rulesOf(t, p, p.Good) {
		if p.Bad != "" {
			t.Errorf("the good example has %q", got)
		}
	}
}

// rulesOf is what a page's command finds in files.
func rulesOf(t *testing.T, p manual.Page, e manual.Example) []string {
	t.Helper()
	t.Chdir(t.TempDir())
	files, err := e.Files()
	if err != nil {
		t.Fatal(err)
	}
	if len(files) == 1 && strings.Contains(p.Finds(), "./family") {
		if r := run("families", "copy", "starter", "family"); r.status != 0 {
			t.Fatal(r.stderr)
		}
	}
	for name, text := range files {
		if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	var found []string
	for _, m := range shownAs.FindAllStringSubmatch(run(words(p.Finds())...).stderr, -1) {
		found = append(found, m[1]+" "+m[2])
	}
	return found
}

// words are those of a command line, in which some stand in double quotes.
func words(line string) []string {
	var all []string
	for i, piece := range strings.Split(line, `"`) {
		if i%2 == 1 {
			all = append(all, piece)
			continue
		}
		all = append(all, strings.Fields(piece)...)
	}
	return all
}
