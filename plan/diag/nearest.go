package diag

import (
	"fmt"
	"strings"
)

// longestName bounds the work on a name: nobody mistypes one letter of a page of text.
const longestName = 64

// Nearest returns the one name in known that name was probably meant to be, or "" if there is none or if two are equally near.
// Letter case, hyphens, underscores and blanks do not count as differences; a swap of neighbours counts as one. Where no name
// is that near, it is the only one that the word is short for: "cols" for "columns".
func Nearest(name string, known []string) string {
	if len(name) > longestName {
		return ""
	}
	folded := fold(name)
	best, bestDistance, tied := "", allowedSlips(folded)+1, false
	for _, candidate := range known {
		d, near := slips(folded, candidate, bestDistance)
		switch {
		case !near || candidate == best:
		case d < bestDistance:
			best, bestDistance, tied = candidate, d, false
		case best != "":
			tied = true
		}
	}
	switch {
	case tied:
		return ""
	case best == "":
		return longFor(folded, known)
	}
	return best
}

// Meant says which of these names was probably meant, or which there are.
func Meant(name string, known []string) string {
	if near := Nearest(name, known); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	return "there are " + strings.Join(known, ", ")
}

// longFor is the only name that a word is short for, or "".
func longFor(folded []rune, known []string) string {
	long := ""
	for _, candidate := range known {
		if len(candidate) > longestName || candidate == long || !shortens(folded, fold(candidate)) {
			continue
		}
		if long != "" {
			return ""
		}
		long = candidate
	}
	return long
}

// shortens reports whether a word of three letters or more is a name with letters left out, but for the first.
func shortens(word, name []rune) bool {
	if len(word) < 3 || len(name) == 0 || word[0] != name[0] {
		return false
	}
	for _, c := range name {
		if len(word) > 0 && word[0] == c {
			word = word[1:]
		}
	}
	return len(word) == 0
}

// allowedSlips is how many mistypings a name of that length may hold and still be recognised.
func allowedSlips(folded []rune) int {
	return min(max(len(folded)/3, 1), 3)
}

// slips counts the mistypings between a folded name and a candidate, as far as they are at most limit.
func slips(folded []rune, candidate string, limit int) (n int, near bool) {
	if len(candidate) > longestName {
		return 0, false
	}
	c := fold(candidate)
	if len(c)-len(folded) > limit || len(folded)-len(c) > limit {
		return 0, false
	}
	n = distance(folded, c)
	// When every letter had to change the names have nothing in common.
	return n, n <= limit && (n == 0 || n < min(len(folded), len(c)))
}

// fold takes away what people mix up without noticing.
func fold(name string) []rune {
	name = strings.NewReplacer("_", "", "-", "", " ", "").Replace(strings.ToLower(name))
	return []rune(name)
}

// distance is the optimal string alignment distance: the least number of letters inserted, dropped, replaced or swapped with a
// neighbour.
func distance(a, b []rune) int {
	var before []int
	above := make([]int, len(b)+1)
	for j := range above {
		above[j] = j
	}
	for i := range a {
		row := make([]int, len(b)+1)
		row[0] = i + 1
		for j := range b {
			cost := 1
			if a[i] == b[j] {
				cost = 0
			}
			row[j+1] = min(row[j]+1, above[j+1]+1, above[j]+cost)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, above = above, row
	}
	return above[len(b)]
}

// Suggest adds the one known name that is near to another as a hint, or else all of them
// behind a few words.
func (f *Finding) Suggest(name string, known []string, all string) {
	if near := Nearest(name, known); near != "" {
		f.WithHint("did you mean %q?", near)
		return
	}
	f.WithHint("%s%s", all, strings.Join(known, ", "))
}
