package family

import (
	"os"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"
)

// The page begins with a family that loads as it stands, with readings and without.
func TestAuthoringBeginsWithAFamily(t *testing.T) {
	data, err := os.ReadFile("../../templates/AUTHORING.md")
	if err != nil {
		t.Fatal(err)
	}
	_, section, _ := strings.Cut(string(data), "\n## A family in ten lines\n")
	section, _, _ = strings.Cut(section, "\n## ")
	shown := regexp.MustCompile("(?s)```[a-z]*\n(.*?)```").FindAllStringSubmatch(section, -1)
	if len(shown) != 3 {
		t.Fatalf("the section shows %d files, want rules, blocks and readings", len(shown))
	}
	rules, blocks, reads := shown[0][1], shown[1][1], shown[2][1]
	for _, rules := range []string{rules, rules + reads} {
		_, found := loadFound(fstest.MapFS{"family.yaml": {Data: []byte(rules)}, "a.tmpl": {Data: []byte(blocks)}})
		if found != nil {
			t.Errorf("the family gives %v", found)
		}
	}
	if n := strings.Count(blocks, "\n"); n > 10 || strings.Count(rules, "\n") > 10 {
		t.Errorf("the blocks have %d lines", n)
	}
}

// Every rule that a family can break is explained.
func TestAuthoringExplainsEveryRule(t *testing.T) {
	data, err := os.ReadFile("../../templates/AUTHORING.md")
	if err != nil {
		t.Fatal(err)
	}
	rule := regexp.MustCompile(`(?:Errorf|errorf)\("([a-z]+(?:-[a-z]+)+)"|= +"([a-z]+(?:-[a-z]+)+)" +//`)
	for _, dir := range []string{".", "blocks", "reads", "rules", "../render"} {
		for name, text := range goFiles(t, dir) {
			for _, m := range rule.FindAllStringSubmatch(text, -1) {
				if r := m[1] + m[2]; !strings.HasPrefix(r, "bad-") && !strings.Contains(string(data), "`"+r+"`") {
					t.Errorf("%s: rule %q is not explained", name, r)
				}
			}
		}
	}
}

func goFiles(t *testing.T, dir string) map[string]string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{}
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".go") || strings.HasSuffix(e.Name(), "_test.go") {
			continue
		}
		data, err := os.ReadFile(dir + "/" + e.Name())
		if err != nil {
			t.Fatal(err)
		}
		files[e.Name()] = string(data)
	}
	if len(files) == 0 {
		t.Fatalf("no files in %s", dir)
	}
	return files
}
