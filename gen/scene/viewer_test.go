package scene

import (
	"regexp"
	"slices"
	"strings"
	"testing"
)

// TestScriptHasEveryPart holds the list of parts to the files: all of them, each with the one name that it
// gives, and none before what it uses.
func TestScriptHasEveryPart(t *testing.T) {
	files, err := scripts.ReadDir("viewer")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if name := strings.TrimSuffix(f.Name(), ".js"); !slices.Contains(parts, name) {
			t.Errorf("%s is not in the list of parts", f.Name())
		}
	}
	given := regexp.MustCompile(`(?m)^const (\w+) = `)
	var before []string
	for _, name := range parts {
		text, err := scripts.ReadFile("viewer/" + name + ".js")
		if err != nil {
			t.Fatal(err)
		}
		names := given.FindAllSubmatch(text, -1)
		if len(names) != 1 || string(names[0][1]) != name {
			t.Errorf("%s.js does not give %s, and nothing else", name, name)
		}
		before = append(before, name)
		for _, used := range regexp.MustCompile(`= (\w+)(?:\.\w+)?;`).FindAllSubmatch(text, -1) {
			if at := slices.Index(parts, string(used[1])); at >= len(before) {
				t.Errorf("%s.js uses %s, which comes behind it", name, used[1])
			}
		}
	}
}
