package digest

import (
	"strings"
	"testing"
)

// "abc" is the example of FIPS 180-4, appendix B.1 of its first edition.
func TestOf(t *testing.T) {
	const abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
	if got := Of("abc"); got != abc {
		t.Errorf("found %s", got)
	}
	if got, err := OfAll(strings.NewReader("abc")); got != abc || err != nil {
		t.Errorf("found %s, %v", got, err)
	}
	if got := Half("abc"); got != abc[:len(abc)/2] {
		t.Errorf("found %s", got)
	}
}

func TestLines(t *testing.T) {
	for _, text := range []string{"a\n\nb\n", "a\r\n\r\nb\r\n", "a\r\rb\r", "a\r\n\rb\n"} {
		if got := Lines(text); got != "a\n\nb\n" {
			t.Errorf("%q became %q", text, got)
		}
	}
}
