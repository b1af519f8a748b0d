package render_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gridferry/gen/family"
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/gen/render"
	"gridferry/plan/diag"
)

const hostileFamilies = "../../testdata/hostile-families"

// contained is every hostile family and the findings that it gets.
var contained = map[string]string{
	"alias-bomb":              "family.yaml:11:1 unknown-key, family.yaml:12:1 unknown-key, family.yaml:13:1 unknown-key, family.yaml:14:1 unknown-key",
	"backward-slice":          "program.tmpl:11:3 template-failed",
	"blank-comment":           "family.yaml:6:17 bad-comment-mark",
	"call":                    "program.tmpl:11:3 unknown-function",
	"carriage-return":         "program.tmpl:11:3 control-character",
	"clock":                   "program.tmpl:11:3 unknown-function",
	"costly-pattern":          "family.yaml:11:12 reading-too-costly",
	"comment-mark-of-letters": "family.yaml:6:1 bad-comment-mark",
	"comment-mark-with-break": "family.yaml:6:1 bad-comment-mark",
	"control-character":       "program.tmpl:11:2 control-character",
	"control-constant":        "program.tmpl:11:3 control-character",
	"date":                    "program.tmpl:11:3 unknown-function",
	"deep-helpers":            "program.tmpl:62:28 template-too-deep",
	"defined-twice":           "program.tmpl:10:1 block-twice",
	"doubling-helpers":        "program.tmpl:10:1 template-failed",
	"endless-continue":        "program.tmpl:11:21 template-failed",
	"endless-loop":            "program.tmpl:11:21 template-failed",
	"environment":             "program.tmpl:11:3 unknown-function",
	"environment-expanded":    "program.tmpl:11:3 unknown-function",
	"extension-with-path":     "family.yaml:3:12 bad-extension",
	"file":                    "program.tmpl:11:3 unknown-function",
	"folder-for-template":     "more.tmpl unreadable-family",
	"fraction":                "program.tmpl:11:3 not-printable",
	"giant-block":             "program.tmpl:10:1 template-failed",
	"giant-constant":          "program.tmpl:11:3 constant-too-long",
	"giant-program":           "cubes.plan.yaml:2:8 output-too-large",
	"growing-comment":         "family.yaml:6:47 bad-comment-mark, family.yaml:6:1054 bad-comment-mark",
	"growing-number":          "program.tmpl:11:31 template-failed",
	"growing-text":            "program.tmpl:11:37 template-failed",
	"growing-word":            "program.tmpl:11:40 template-failed",
	"include":                 "program.tmpl:11:3 unknown-function",
	"key-maker":               "program.tmpl:11:3 unknown-function",
	"line-separator":          "program.tmpl:11:3 control-character",
	"link-for-rules":          "family.yaml unreadable-family",
	"link-inside":             "more.tmpl unreadable-family",
	"link-out":                "more.tmpl unreadable-family",
	"link-to-root":            "more.tmpl unreadable-family",
	"many-blocks":             "program.tmpl too-many-blocks",
	"many-variables":          "program.tmpl:11:1092 too-many-variables",
	"many-operands":           "program.tmpl:11:14 template-failed",
	"name-with-blank":         "family.yaml:7:18 bad-name-rule",
	"name-with-mark":          "family.yaml:7:1 bad-name-rule",
	"name-with-quotes":        "family.yaml:7:1 bad-name-rule",
	"nested-loops":            "program.tmpl:11:40 template-failed",
	"network":                 "program.tmpl:11:3 unknown-function",
	"no-templates":            "family.yaml missing-block, family.yaml missing-block, family.yaml missing-block",
	"not-text":                "program.tmpl unreadable-family",
	"number-with-break":       "family.yaml:7:25 bad-block-numbers",
	"odd-name":                "x y.tmpl bad-file-name",
	"other-types":             "program.tmpl:11:6 template-failed",
	"outside-of-blocks":       "more.tmpl:1:1 text-outside-block",
	"own-functions":           "program.tmpl:11:3 unknown-function, program.tmpl:11:9 unknown-function",
	"panic":                   "program.tmpl:11:3 unknown-function",
	"process":                 "program.tmpl:11:3 unknown-function",
	"random":                  "program.tmpl:11:3 unknown-function",
	"recursion":               "program.tmpl:11:12 template-recursion",
	"recursion-by-two":        "program.tmpl:14:29 template-recursion",
	"replacement-with-break":  "family.yaml:6:47 bad-comment-mark",
	"replacement-with-mark":   "family.yaml:6:1 bad-comment-mark",
	"reversed-text":           "program.tmpl:11:4 control-character",
	"slow-moves":              "program.tmpl:11:17 template-failed",
	"tagged-value":            "family.yaml:2:8 custom-tag, family.yaml:2:15 wrong-type",
	"template-by-path":        "program.tmpl:11:12 unknown-template",
	"text-as-format":          "program.tmpl:11:1 template-syntax",
	"text-behind-comment":     "program.tmpl:11:23 template-failed",
	"text-by-format":          "program.tmpl:11:6 unknown-function",
	"text-by-markup":          "program.tmpl:11:6 unknown-function, program.tmpl:11:22 unknown-function, program.tmpl:11:36 unknown-function",
	"text-in-comment":         "program.tmpl:11:5 template-failed",
	"text-in-pieces":          "program.tmpl:11:3 text-in-function",
	"text-in-quotes":          "program.tmpl:11:8 template-failed",
	"text-inside":             "program.tmpl:11:10 unknown-field",
	"text-method":             "program.tmpl:11:10 unknown-field",
	"text-replaced":           "program.tmpl:11:6 text-in-function",
	"text-upper":              "program.tmpl:11:6 text-in-function",
	"two-documents":           "family.yaml:9:1 second-document",
	"wide-field":              "program.tmpl:11:3 template-failed",
	"wide-zeros":              "program.tmpl:11:3 template-failed",
	"words-behind-comment":    "program.tmpl:10:1 template-failed",
}

// Every family of testdata/hostile-families is stopped with a finding at its
// place: by the lint, before anything runs, or while it runs.
func TestHostileFamilies(t *testing.T) {
	entries, err := os.ReadDir(hostileFamilies)
	if err != nil {
		t.Fatal(err)
	}
	if len(entries) < 40 {
		t.Errorf("there are %d hostile families, wanted 40 or more", len(entries))
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
		t.Run(e.Name(), func(t *testing.T) {
			want, named := contained[e.Name()]
			got := tried(t, filepath.Join(hostileFamilies, e.Name()))
			if !named || want == "" || got != want {
				t.Errorf("%q: %q,", e.Name(), got)
			}
		})
	}
	for name := range contained {
		if !slices.Contains(names, name) {
			t.Errorf("%s is named here, but there is no such family", name)
		}
	}
}

// tried is places and rules of what is found where a family writes thirty travels, in order.
func tried(t *testing.T, folder string) string {
	t.Helper()
	list, out := written(t, folder, 30, 1_000_000)
	if out.Len() > 1_000_000 {
		t.Errorf("%d bytes came out", out.Len())
	}
	var found []string
	for _, f := range list.Sorted() {
		found = append(found, fmt.Sprintf("%s %s", strings.TrimPrefix(f.Place.String(), "f/"), f.Rule))
	}
	return strings.Join(found, ", ")
}

// written loads a family as the command does and lets it write some travels.
func written(t *testing.T, folder string, travels int, most int64) (list diag.List, out bytes.Buffer) {
	t.Helper()
	root, err := os.OpenRoot(folder)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	if f, ok := family.Load(root.FS(), "f", &list, nil); ok {
		travel := motion(move.Travel, move.Target{Pose: "clear"}, geom.Vec{X: 300, Z: 420}, geom.Vec{}, 500, 15)
		travel.N, travel.FrameNumber, travel.ToolNumber = 1, 1, 1
		moves := slices.Repeat([]move.Move{travel}, travels)
		if err := render.ProgramWith(&out, f.Blocks, benchJob(), move.Batched(slices.Values(moves)), &list, render.Options{MostBytes: most}); err != nil {
			t.Fatal(err)
		}
	}
	return list, out
}

// TestTextOfManyMoves: a family that writes a little too much for every move is stopped
// after the megabyte that there is to spare, though its lines are laid out piece by piece.
func TestTextOfManyMoves(t *testing.T) {
	list, out := written(t, filepath.Join(hostileFamilies, "giant-program"), 1000, 100_000_000)
	if out.Len() < 1<<20 || out.Len() > 1<<20+1000*2000 {
		t.Errorf("%d bytes came out", out.Len())
	}
	found := list.Sorted()
	if len(found) != 1 || found[0].Rule != "template-failed" || !strings.Contains(found[0].Message, "for each move") {
		t.Errorf("got %v", found)
	}
}
