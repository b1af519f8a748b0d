package goldens

import (
	"fmt"
	"regexp"
	"strings"
)

// nonsense is what no program, list or message may hold: signs of a missing value,
// NaN and infinity, and -0, also with that decimal mark and zeros behind it.
func nonsense(mark byte) *regexp.Regexp {
	return regexp.MustCompile(strings.ReplaceAll(`<no value>|%!|\bNaN\b|\bInf\b|(^|[^0-9a-z@])-0([@]0*)?([^0-9@]|$)`, "@", string(mark)))
}

// Prove returns the reasons not to record: a second run that differs, nonsense, a
// text that is empty or whose last line has no end. mark is that of the decimals.
func Prove(first, second Files, mark byte) []string {
	nonsense := nonsense(mark)
	var faults []string
	for _, name := range first.Names(second) {
		a, b := first[name], second[name]
		switch {
		case a != b:
			faults = append(faults, fmt.Sprintf("%s: two runs differ\n%s", name, diff("first", "second", a, b)))
		case !strings.HasSuffix(a, "\n") && !strings.HasSuffix(a, "\r"):
			faults = append(faults, name+": empty, or without an end to its last line")
		}
		for i, line := range strings.Split(a, "\n") {
			if found := nonsense.FindString(line); found != "" {
				faults = append(faults, fmt.Sprintf("%s:%d: %q in %q", name, i+1, found, line))
			}
		}
	}
	return faults
}
