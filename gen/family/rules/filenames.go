package rules

import (
	"fmt"
	"strings"
	"unicode"

	"gridferry/plan/lazy"
	"gridferry/plan/wording"
)

// Stem is the name of a program's file without its extension: the plan's own,
// spelled as the family's rule says. Whatever the plan is called, the result is
// the name of a file on every system, never a way into another folder.
func (rules *Rules) Stem(plan string) string {
	stem := rules.stem(wording.Stem(plan))
	for base, k := stem, 1; wording.IsDevice(stem); k++ {
		stem = "program_" + base
		if rules.FileNames != nil {
			stem = rules.FileNames.numbered(base, k)
		}
	}
	return stem
}

func (rules *Rules) stem(stem string) string {
	if n := rules.FileNames; n != nil {
		if job, mark := n.run(stem); mark != "" && n.Longest-len(mark) >= 4 {
			shorter := *n
			shorter.Longest -= len(mark)
			return shorter.Make(job) + mark
		}
		return n.Make(stem)
	}
	stem = strings.TrimLeft(strings.Map(inFileName, stem), ".")
	if strings.TrimSpace(stem) == "" {
		return "program"
	}
	return stem
}

// runWords are the words behind the plan's name that say which run a program is of.
var runWords = lazy.Regexp(`(-prove-out)?(?:-from-([0-9]+)(-holding)?)?$`)

// run takes those words off a name that is too long with them, and puts a mark in their
// place: P for a prove-out, R and a number for a job resumed at that transfer, H behind it
// where the gripper holds its part. A name that was only shortened would not say that the
// file is not the whole job's. There is no mark where nothing is to be said, or where the
// names cannot hold it.
func (n *Names) run(stem string) (job, mark string) {
	at := runWords().FindStringSubmatchIndex(stem)
	if at[0] == len(stem) || len(n.spell(stem)) <= n.Longest {
		return stem, ""
	}
	m := runWords().FindStringSubmatch(stem)
	if m[1] != "" {
		mark = "P"
	}
	if m[2] != "" {
		mark += "R" + m[2]
	}
	if m[3] != "" {
		mark += "H"
	}
	mark = n.fold(mark)
	for _, c := range mark {
		if !n.Letters.Has(c) {
			return stem, ""
		}
	}
	return stem[:at[0]], mark
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
	if n := rules.FileNames; n != nil {
		if job, mark := n.run(wording.Stem(plan)); mark != "" {
			end := fmt.Sprintf("%s%03d", mark, part)
			return n.shorten(n.spell(job), max(n.Longest-len(end), 1)) + end
		}
		return rules.FileNames.OfPart(rules.Stem(plan), part)
	}
	return fmt.Sprintf("%s-%03d", rules.Stem(plan), part)
}
