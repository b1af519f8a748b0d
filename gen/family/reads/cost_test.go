package reads

import (
	"regexp/syntax"
	"strings"
	"testing"
)

// patterns of every sort, with at how many places one character may stand. They were
// counted by hand: behind the last character there are two, the end of the line and that it
// fits, and a choice is one more. A pattern that cannot be followed through every line has
// all its steps: those of ".*x.{20}" are in more than a million sets.
var patterns = map[string]int{
	`abc`: 2, `a|b`: 2, `[a-z]+`: 4, `.*`: 4, `.*x`: 5, `(?:x|y)?z`: 2, `a{5}`: 2, `\pL\pN`: 2, `(?i)abc`: 2, `x{2,5}`: 4, `.*x.{1}`: 6, `.*x.{20}`: 27, `(a)+`: 6, `.{0,100}x`: 5,
}

// TestStepsOfPatterns: steps are counted without compiling, and never fewer than Go's own
// regexp/syntax compiles, of which three are no part of the pattern.
func TestStepsOfPatterns(t *testing.T) {
	more := []string{`(?:ab{3}){200}`, `a{1000}`, `(?:a?){50}`, `(?:(?:a|bc)*d{2,9}){7,}`, `(a)(b)?(c)*?`, `x{0}`, `x{3,}`, `(?:)`, `(?:|a|)b`, `^$\b`, strings.Repeat("(", 50) + "a" + strings.Repeat(")", 50)}
	for f := NoField + 1; f < Fields; f++ {
		more = append(more, "{"+f.String()+"}")
	}
	for p := range patterns {
		more = append(more, p)
	}
	for _, p := range more {
		source := withFields(p, '.')
		re, err := syntax.Parse(source, syntax.Perl)
		if err != nil {
			t.Fatal(err)
		}
		steps, made := stepsOf(re), len(compiled(source).Inst)-3
		if ranges := strings.Contains(p, `\p`); steps < made || steps > 2*made+10 && !ranges {
			t.Errorf("%s: counted %d steps, and %d were compiled", p, steps, made)
		}
	}
}

func TestPlacesOfPatterns(t *testing.T) {
	for p, want := range patterns {
		if got := placesOf(compiled("^(?:" + p + ")$")); got != want {
			t.Errorf("%s: %d places, wanted %d", p, got, want)
		}
	}
}
