package cli_test

import (
	"strings"
	"testing"
)

func TestInit(t *testing.T) {
	t.Chdir(t.TempDir())
	r := gridferry("", "init", "--ci")
	text := read(t, ".github/workflows/gridferry.yml")
	if r.status != 0 || r.out != "" || !strings.Contains(r.err, "GRIDFERRY_REPOSITORY") || !strings.Contains(text, "ref: v0.1.0\n") {
		t.Errorf("%+v\n%s", r, text)
	}
	if r := gridferry("", "init", "--ci"); r.status != 1 || !strings.Contains(r.err, "is there already") {
		t.Errorf("%+v", r)
	}
	for _, args := range [][]string{{"init"}, {"init", "--ci", "--repository", "acme"}, {"init", "--ci", "--repository", "a/b@c d"}, {"init", "--ci", "--repository", "a/b\nx: y"}, {"init", "a", "b", "--ci"}} {
		if r := gridferry("", args...); r.status != 2 || r.out != "" {
			t.Errorf("%q: %+v", args, r)
		}
	}
}
