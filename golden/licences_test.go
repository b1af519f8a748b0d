package golden

import (
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

var (
	requiredModule = regexp.MustCompile(`(?m)^\t(\S+) v\S+`)
	listedModule   = regexp.MustCompile(`\b((?:[a-z0-9-]+\.)+[a-z]+/[\w./-]*\w)(?: \(|[^|]*\|[^|]*\| )((?:(?:MIT|Apache-2\.0|BSD-2-Clause|BSD-3-Clause|MPL-2\.0)(?:, )?)+)`)
)

// licenceWords are words of each licence that no other one here has, by its name at spdx.org
// (texts of the Open Source Initiative, quoted).
var licenceWords = map[string]*regexp.Regexp{
	"MIT":          regexp.MustCompile(`Permission is hereby granted, free of charge`),
	"Apache-2.0":   regexp.MustCompile(`Apache License,? Version 2\.0`),
	"BSD-2-Clause": regexp.MustCompile(`provided with[ >]+the distribution\.[ >]*THIS SOFTWARE`), // where the third clause would be
	"BSD-3-Clause": regexp.MustCompile(`Redistribution and use in source and binary forms.*(Neither the name|The name of the author may not be used)`),
	"MPL-2.0":      regexp.MustCompile(`Mozilla Public License,? Version 2\.0`),
}

// TestLicencesAreListed holds the list of libraries in DEVELOPERS.md to go.mod, and their
// licences there to what their own files say.
func TestLicencesAreListed(t *testing.T) {
	listed := map[string]string{}
	for _, m := range listedModule.FindAllStringSubmatch(papers(t)[filepath.Join("..", "DEVELOPERS.md")], -1) {
		listed[m[1]] = strings.TrimSuffix(m[2], ", ")
	}
	looked := 0
	for _, m := range requiredModule.FindAllStringSubmatch(readText(t, "../go.mod"), -1) {
		licences, ok := listed[m[1]]
		if !ok {
			t.Errorf("DEVELOPERS.md does not list %s", m[1])
			continue
		}
		delete(listed, m[1])
		found := licencesOf(t, m[1])
		if found == nil {
			continue // what only another system needs is not here
		}
		looked++
		want := strings.Split(licences, ", ")
		if slices.Sort(want); !slices.Equal(found, want) {
			t.Errorf("%s: DEVELOPERS.md says %v, its own files say %v", m[1], want, found)
		}
	}
	for name := range listed {
		t.Errorf("DEVELOPERS.md lists %s, which go.mod does not require", name)
	}
	if looked < 15 {
		t.Errorf("the files of only %d libraries were looked at", looked)
	}
}

// licencesOf is the licences that a module's files have the words of, in order; nil for one
// that was not fetched.
func licencesOf(t *testing.T, module string) []string {
	t.Helper()
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", module).Output()
	if err != nil {
		t.Fatalf("%s: %v", module, err)
	}
	folder := strings.TrimSpace(string(out))
	if folder == "" {
		return nil
	}
	files, err := filepath.Glob(filepath.Join(folder, "LICENSE*"))
	if err != nil || len(files) == 0 {
		t.Fatalf("%s has no licence (%v)", module, err)
	}
	found := []string{}
	for name, words := range licenceWords {
		if slices.ContainsFunc(files, func(file string) bool { return words.MatchString(strings.Join(strings.Fields(readText(t, file)), " ")) }) {
			found = append(found, name)
		}
	}
	slices.Sort(found)
	return found
}
