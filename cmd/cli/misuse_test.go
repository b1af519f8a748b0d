package cli

import (
	"bytes"
	"strings"
	"testing"
)

// TestMisuseIsToldInOurWords: what is wrong, what was wanted, and where to look.
func TestMisuseIsToldInOurWords(t *testing.T) {
	for line, want := range map[string]string{
		"time p.yaml --from x":          `--from is "x", wanted a whole number`,
		"write p.yaml --famly x":        `"gridferry write" has no flag --famly, did you mean --family?`,
		"version --bogus":               `"gridferry version" has no flag --bogus`,
		"chek p.yaml":                   `there is no command "chek", did you mean "check"?`,
		"somethingelse":                 `there is no command "somethingelse"`,
		"check p.yaml --slots x.yaml":   `"gridferry check" wants exactly one PLAN, found 2: write --slots=FILE in one word`,
		"check":                         `"gridferry check" wants exactly one PLAN, found 0: gridferry check PLAN [flags]`,
		"moves p.yaml q.yaml":           `"gridferry moves" wants exactly one PLAN, found 2: gridferry moves PLAN [flags]`,
		"check p.yaml --color mauve":    `--color is "mauve", wanted one of auto, always, never`,
		"check --format xml p.yaml":     `--format is "xml", wanted one of text, json`,
		"families show listing another": "gridferry families show --help",
	} {
		var out, errs bytes.Buffer
		status := Main(strings.Fields(line), strings.NewReader(""), &out, &errs)
		if said := errs.String(); status != misuse || !strings.Contains(said, want) || !strings.Contains(said, `--help"`) || out.Len() > 0 {
			t.Errorf("%s: status %d, %s%s", line, status, out.String(), said)
		}
	}
}
