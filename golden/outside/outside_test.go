package outside

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What is missing is named, with where to get it.
func TestMissingIsSaid(t *testing.T) {
	for want, s := range map[string]*Script{
		"golden/npm/none.js above":                                   {Folder: "npm", File: "none.js"},
		"no package leftpad (npm ci --ignore-scripts in golden/npm)": {Folder: "npm", File: "judge.js", Packages: []string{"leftpad"}},
		"no /usr/bin/none (Debian: nothing)":                         {Folder: "outside", File: "answer.js", Tool: "/usr/bin/none", Debian: "nothing"},
	} {
		if err := s.Try("", nil); !errors.Is(err, ErrMissing) || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, wanted %q", err, want)
		}
	}
	t.Setenv("PATH", "")
	s := Script{Folder: "outside", File: "answer.js"}
	if err := s.Try("", nil); !errors.Is(err, ErrMissing) || !strings.Contains(err.Error(), "no node") {
		t.Errorf("got %v", err)
	}
}

// One script answers many questions; one that it ends over is answered by what it said,
// and the next one by a new start.
func TestScriptGoesOn(t *testing.T) {
	s := echo(t)
	for _, question := range []string{"a", "b", "over", "c"} {
		var answer []string
		err := s.Try(question, &answer)
		if question == "over" {
			if err == nil || !strings.Contains(err.Error(), "exit status 1") || !strings.Contains(err.Error(), "it is over") {
				t.Errorf("got %v", err)
			}
			continue
		}
		if errors.Is(err, ErrMissing) {
			Missing(t, err)
		}
		if err != nil || len(answer) != 2 || answer[0] != question || (answer[1] == "1") != (question != "b") {
			t.Errorf("%q: %q, %v", question, answer, err)
		}
	}
}

// echo is a script that gives each question back, with its number.
func echo(t *testing.T) *Script {
	top := t.TempDir()
	folder := filepath.Join(top, "golden", "echo")
	if err := os.MkdirAll(folder, 0o777); err != nil {
		t.Fatal(err)
	}
	there, err := filepath.Abs("answer.js")
	if err != nil {
		t.Fatal(err)
	}
	text := "let n = 0;\nrequire('" + there + "')((q) => { if (q === 'over') throw new Error('it is over'); return [q, String(++n)]; });\n"
	if err := os.WriteFile(filepath.Join(folder, "echo.js"), []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	was := began
	t.Cleanup(func() { began = was })
	began = top
	return &Script{Folder: "echo", File: "echo.js"}
}
