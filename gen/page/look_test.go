package page_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gridferry/gen/colour"
)

// Every style sheet of ours takes its colours from the one list, by names that are in it.
func TestStylesTakeTheirColoursFromTheList(t *testing.T) {
	roles := []string{"target", "letters", "code"}
	for _, r := range colour.Roles {
		roles = append(roles, r.Name)
	}
	var files []string
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err == nil && filepath.Ext(path) == ".css" {
			files = append(files, path)
		}
		return err
	})
	if err != nil || len(files) < 3 {
		t.Fatalf("styles %q, %v: is the folder right?", files, err)
	}
	comment := regexp.MustCompile(`(?s)/\*.*?\*/`)
	mixed := regexp.MustCompile(`#[0-9a-fA-F]{3,8}\b|\b(rgba?|hsla?|hwb|oklch|oklab)\(`)
	named := regexp.MustCompile(`var\(--([a-z-]+)`)
	own := regexp.MustCompile(`(?m)(?:^|[{;\s])--([a-z-]+):`)
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		text := comment.ReplaceAllString(string(data), "")
		for _, rule := range strings.Split(text, "}") {
			_, body, is := strings.Cut(rule, "{")
			if found := mixed.FindString(body); is && found != "" {
				t.Errorf("%s: the colour %s is not from the list", file, found)
			}
		}
		known := slices.Clone(roles)
		for _, m := range own.FindAllStringSubmatch(text, -1) {
			known = append(known, m[1])
		}
		for _, m := range named.FindAllStringSubmatch(text, -1) {
			if !slices.Contains(known, m[1]) {
				t.Errorf("%s: there is no --%s", file, m[1])
			}
		}
	}
}
