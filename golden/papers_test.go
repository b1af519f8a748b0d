package golden

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// papers are the pages that people read, by file name.
func papers(t *testing.T) map[string]string {
	t.Helper()
	pages := map[string]string{}
	for _, pattern := range []string{"../*.md", "../plan/*.md", "../templates/*.md", "bench/*.md"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			t.Fatalf("%s is no page (%v)", pattern, err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			pages[filepath.Clean(file)] = string(data)
		}
	}
	return pages
}

var (
	pageLink    = regexp.MustCompile(`\]\(([^)#\s]*)(?:#([^)\s]*))?\)`)
	pageHeading = regexp.MustCompile(`(?m)^#+ (.*)$`)
	notInAnchor = regexp.MustCompile(`[^\p{L}\p{N} _-]`)
)

// Every link of a page leads to a file that is there, and to a heading in it.
func TestPagesLinkToWhatIsThere(t *testing.T) {
	pages := papers(t)
	for name, text := range pages {
		for _, m := range pageLink.FindAllStringSubmatch(text, -1) {
			target, anchor := m[1], m[2]
			if strings.Contains(target, "://") {
				continue
			}
			file := name
			if target != "" {
				file = filepath.Join(filepath.Dir(name), target)
			}
			if _, err := os.Stat(file); err != nil {
				t.Errorf("%s: %s leads nowhere", name, m[0])
			}
			if anchor != "" && !anchors(pages[file])[anchor] {
				t.Errorf("%s: %s leads to no heading", name, m[0])
			}
		}
	}
}

// anchors are the names under which a page's headings are linked.
func anchors(page string) map[string]bool {
	names := map[string]bool{}
	for _, m := range pageHeading.FindAllStringSubmatch(page, -1) {
		plain := notInAnchor.ReplaceAllString(strings.ToLower(m[1]), "")
		names[strings.ReplaceAll(plain, " ", "-")] = true
	}
	return names
}

var (
	inCode   = regexp.MustCompile("`([^`\n]+)`")
	filePath = regexp.MustCompile(`^(?:gen|plan|cmd|golden|templates|testdata|\.ci)(?:/[\w.-]+)+$`)
	fileName = regexp.MustCompile(`^[\w.-]+\.(?:go|md|yaml|tmpl)$`)
	testName = regexp.MustCompile(`^(?:Test|Fuzz)\w+$`)
)

// DEVELOPERS.md names only files and tests that there are.
func TestDevelopersNamesWhatIsThere(t *testing.T) {
	names, tests := projectNames(t)
	seen := 0
	for _, m := range inCode.FindAllStringSubmatch(papers(t)[filepath.Join("..", "DEVELOPERS.md")], -1) {
		known := true
		switch name := m[1]; {
		case filePath.MatchString(name):
			_, err := os.Stat(filepath.Join("..", name))
			known = err == nil
		case fileName.MatchString(name):
			known = names[name]
		case testName.MatchString(name):
			known = strings.Contains(tests, "\nfunc "+name+"(")
		default:
			continue
		}
		seen++
		if !known {
			t.Errorf("%s is not there", m[0])
		}
	}
	if seen < 50 {
		t.Errorf("only %d names were looked at", seen)
	}
}

var promise = regexp.MustCompile(`(?m)^\| (.+) \| (.+) \|$`)

// Every promise of TRUST.md names tests, and they are there.
func TestEveryPromiseNamesItsTests(t *testing.T) {
	_, tests := projectNames(t)
	promises := 0
	for _, m := range promise.FindAllStringSubmatch(papers(t)[filepath.Join("..", "plan", "TRUST.md")], -1) {
		if m[1] == "promise" {
			continue
		}
		promises++
		for name := range strings.SplitSeq(m[2], ", ") {
			name = strings.Trim(name, "`")
			if !testName.MatchString(name) || !strings.Contains(tests, "\nfunc "+name+"(") {
				t.Errorf("%q is held by %s, which is no test", m[1], name)
			}
		}
	}
	if promises < 20 {
		t.Errorf("there are %d promises", promises)
	}
}

var flowRow = regexp.MustCompile("(?m)^\\| [^|]+ \\| `([a-z/]+)` \\| ([^|]+) \\|")

// The entry of every stage of the flow is declared in the package that the table names.
func TestTheFlowNamesWhatIsThere(t *testing.T) {
	rows := flowRow.FindAllStringSubmatch(papers(t)[filepath.Join("..", "DEVELOPERS.md")], -1)
	if len(rows) < 20 {
		t.Errorf("the table has %d rows", len(rows))
	}
	for _, row := range rows {
		code := packageText(t, row[1])
		for _, m := range inCode.FindAllStringSubmatch(row[2], -1) {
			name := m[1]
			if _, method, isMethod := strings.Cut(name, "."); isMethod {
				name = method
			}
			if !regexp.MustCompile(`(?m)^(?:func (?:\([^)]+\) )?|type )` + name + `\b`).MatchString(code) {
				t.Errorf("%s declares no %s", row[1], m[1])
			}
		}
	}
}

// packageText is the code of a package, without its tests.
func packageText(t *testing.T, folder string) string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("..", folder, "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	var text strings.Builder
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		text.Write(data)
	}
	return text.String()
}

// projectNames gives the base names of the project's files, and the text of its tests.
func projectNames(t *testing.T) (names map[string]bool, tests string) {
	t.Helper()
	names = map[string]bool{}
	var text strings.Builder
	err := filepath.WalkDir("..", func(file string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() && (entry.Name() == "node_modules" || entry.Name() == ".git") {
			return filepath.SkipDir
		}
		names[entry.Name()] = true
		if !strings.HasSuffix(file, "_test.go") {
			return nil
		}
		data, err := os.ReadFile(file)
		text.Write(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return names, text.String()
}
