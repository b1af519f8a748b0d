package tidy

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/aymanbagabas/go-udiff"
)

func TestText(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"a: 1   \nb: [1,2, 3]\n\n\n\n\nc: { d: 1,e: 2 }", "a: 1\nb: [1, 2, 3]\n\n\nc: {d: 1, e: 2}\n"},
		{"a:\n    b: 1\n    # of b\n# of c\nc:\n- 1\n-   d: 2\n    e: 3\n", "a:\n  b: 1\n  # of b\n# of c\nc:\n  - 1\n  - d: 2\n    e: 3\n"},
		{"a: [1,2]      # one\nbb: 2         # two\n", "a: [1, 2]     # one\nbb: 2         # two\n"},
		{"left:  {at: [1, 2]}\nright: {at: [1,2]}\n", "left:  {at: [1, 2]}\nright: {at: [1, 2]}\n"},
		{"a: [1,2,3,4] # one\n", "a: [1, 2, 3, 4] # one\n"},
		{"a: see [1,2] and 'it,that'  there\nb: don't,  now # it's\n", "a: see [1,2] and 'it,that'  there\nb: don't,  now # it's\n"},
		{"a: |\n    x  \n\n\n\n      y,z\nb: [1,2]\n", "a: |\n    x  \n\n\n\n      y,z\nb: [1, 2]\n"},
		{"k:\n      a: >\n          x\n      b: 2\n", "k:\n  a: >\n      x\n  b: 2\n"},
		{"a: 'x  \n   y,z'\nb: \"c: ,d\"\n", "a: 'x  \n   y,z'\nb: \"c: ,d\"\n"},
		{"a: &p [1,2]\nb: *p  \n", "a: &p [1, 2]\nb: *p\n"},
		{"a: {b: 1 ,\n      c: 2}\n", "a: {b: 1,\n      c: 2}\n"},
		{"m:\n    a: {b: 1,\n        c: 2}\n", "m:\n  a: {b: 1,\n      c: 2}\n"},
		{"- - 1\n  - 2\n-   - 3\n", "- - 1\n  - 2\n- - 3\n"},
		{"a: 1  \r\nb: 2\r\n", "a: 1\r\nb: 2\r\n"},
		{"\ufeffa: 1  \n", "\ufeffa: 1\n"},
		{"a: [1,2\n", "a: [1,2\n"},
		{"\n\na: 1\n# end\n\n\n", "a: 1\n# end\n"},
		{"a: x\n  [1,2], y\nb: 2  \n", "a: x\n  [1,2], y\nb: 2  \n"}, // a text of several lines is not understood, so that nothing is touched
		{"", ""},
	} {
		if got := Text(c.text); got != c.want {
			t.Errorf("%q:\ngot    %q\nwanted %q", c.text, got, c.want)
		}
	}
}

// files are all YAML files of the demos, the families and the starter, and bad plans.
func files(t testing.TB) map[string]string {
	t.Helper()
	all := map[string]string{}
	for _, pattern := range []string{"../../testdata/demo/*.yaml", "../../testdata/bad/*.yaml", "../../templates/*/family.yaml", "../starter/*.yaml"} {
		names, _ := filepath.Glob(pattern)
		for _, name := range names {
			text, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			all[name] = string(text)
		}
	}
	if len(all) < 100 {
		t.Fatalf("only %d files", len(all))
	}
	return all
}

// TestFilesAreTidy: the files of the project are as they ought to be, but for those that are bad on purpose.
func TestFilesAreTidy(t *testing.T) {
	for name, text := range files(t) {
		got := Text(text)
		if again := Text(got); again != got {
			t.Errorf("%s is tidied twice", name)
		}
		if got != text && !strings.Contains(name, "bad") {
			t.Errorf("%s", udiff.Unified(name, "tidied", text, got))
		}
	}
}

// TestUntidied: files that were made uneven, in ways that mean nothing, come out as they were.
func TestUntidied(t *testing.T) {
	tried := 0
	for name, text := range files(t) {
		if strings.Contains(name, "bad") || strings.ContainsAny(text, "'\"|>") {
			continue // so simple a way of making a text uneven would change what is quoted
		}
		tried++
		uneven := strings.NewReplacer("\n  ", "\n    ", "\n    ", "\n       ", "\n\n", "  \n\n\n\n").Replace(commas.ReplaceAllString(codeOf(text), "$1,$2"))
		if got := Text(uneven); got == uneven || strings.Join(strings.Fields(got), " ") != strings.Join(strings.Fields(codeOf(text)), " ") {
			t.Errorf("%s: %s", name, udiff.Unified("was", "tidied", codeOf(text), got))
		}
	}
	if tried < 10 {
		t.Errorf("only %d files", tried)
	}
}

var (
	comments = regexp.MustCompile(`(?m)(^| )#.*$`)
	commas   = regexp.MustCompile(`([0-9]), ([0-9])`)
)

// codeOf is a text without comments, whose blanks are not to be touched.
func codeOf(text string) string { return comments.ReplaceAllString(text, "") }

// FuzzText: whatever comes, it is tidied once, and says the same.
//
//fuzz:3s
func FuzzText(f *testing.F) {
	for _, text := range files(f) {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got := Text(text)
		if again := Text(got); again != got {
			t.Errorf("%q\nonce  %q\ntwice %q", text, got, again)
		}
	})
}
