package family

import (
	"fmt"
	"regexp"
	"testing"
)

// TestScan holds the quicker form of a pattern to its regular expression.
func TestScan(t *testing.T) {
	for _, c := range []struct {
		pattern string
		quick   bool
	}{
		{"x={x} y={y}", true}, {"grip output={signal} level={level}", true}, {"G0 X{x} Y{y}", true}, {"{level}, {tool}", true}, {"end", true},
		{"{x}{y}", false}, {"{x}.5", false}, {"{x}-{y}", false}, {"{level}a", false}, {"a|b", false}, {"( )?{x}", false}, {"{target} at {x}", false}, {"{x", false},
		{"{nothing}", false}, {"{2}", false},
	} {
		if got := scanOf(c.pattern) != nil; got != c.quick {
			t.Errorf("%q: a quicker form: %v", c.pattern, got)
		}
	}
}

func FuzzScan(f *testing.F) {
	for _, text := range []string{"x=1 y=2", "x=-1.50 y=+.5", "x=1. y=.", "x=- y=1", "x=1.2.3 y=1", "x=1 y=2 ", "x= y=", "x=1 y=2\n", "G0 X1 Y-2", "on, jaw", ", ", "\xff, \xfe", "a\u00a0b, c"} {
		f.Add("x={x} y={y}", text)
		f.Add("G0 X{x} Y{y}", text)
		f.Add("{level}, {tool}", text)
		f.Add("x={signal} y={level}", text)
	}
	f.Fuzz(func(t *testing.T, pattern, text string) {
		s := scanOf(pattern)
		if s == nil {
			return
		}
		re, err := regexp.Compile("^(?:" + withFields(pattern) + ")$")
		if err != nil {
			return // refused before anything is read
		}
		got, want := fmt.Sprint(s.match(text, nil)), fmt.Sprint(re.FindStringSubmatchIndex(text))
		if got != want {
			t.Errorf("%q on %q: %s, wanted %s", pattern, text, got, want)
		}
	})
}
