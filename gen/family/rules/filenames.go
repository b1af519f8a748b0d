package rules

import (
	"fmt"
	"strings"
	"unicode"

	"gridferry/plan/wording"
)

// Stem is the name of a program's file without its extension: the plan's own,
// spelled as the family's rule says. Whatever the plan is called, the result is
// the name of a file, never a way into another folder.
func (rules *Rules) Stem(plan string) string {
	stem := wording.Stem(plan)
	if rules.FileNames != nil {
		return rules.FileNames.Make(stem)
	}
	stem = strings.TrimLeft(strings.Map(inFileName, stem), ".")
	if strings.TrimSpace(stem) == "" {
		return "program"
	}
	return stem
}

// inFileName replaces what a file system could take for something else.
func inFileName(c rune) rune {
	if strings.ContainsRune(`/\:*?"<>|`, c) || unicode.IsControl(c) || unicode.In(c, unicode.Cf, unicode.Zl, unicode.Zp) || c == unicode.ReplacementChar {
		return '_'
	}
	return c
}

// PartStem is the stem of one of several files, numbered from 1.
func (rules *Rules) PartStem(plan string, part int) string {
	if rules.FileNames != nil {
		return rules.FileNames.OfPart(rules.Stem(plan), part)
	}
	return fmt.Sprintf("%s-%03d", rules.Stem(plan), part)
}
