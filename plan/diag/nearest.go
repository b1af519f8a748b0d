package diag

import (
	"fmt"
	"strings"
	"unicode"
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
	folded := fold(nil, name)
	var c []rune
	var best, long guess
	limit := allowedSlips(folded)
	for _, candidate := range known {
		if len(candidate) > longestName {
			continue
		}
		c = fold(c[:0], candidate)
		if shortens(folded, c) {
			long.add(candidate)
		}
		switch d, near := slips(folded, c, limit); {
		case !near:
		case best.name == "" || d < limit:
			best, limit = guess{name: candidate}, d
		default:
			best.add(candidate)
		}
	}
	if best.name != "" {
		return best.alone()
	}
	return long.alone()
}

// guess is a name that may have been meant, and whether another one may have been as well.
type guess struct {
	name string
	tied bool
}

func (g *guess) add(name string) {
	if g.name == "" {
		g.name = name
	}
	g.tied = g.tied || name != g.name
}

// alone is the name, or "" for more than one.
func (g *guess) alone() string {
	if g.tied {
		return ""
	}
	return g.name
}

// Meant says which of these names was probably meant, or which there are.
func Meant(name string, known []string) string {
	if near := Nearest(name, known); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	return "there are " + strings.Join(known, ", ")
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

// slips counts the mistypings between two folded names, as far as they are at most limit.
func slips(a, b []rune, limit int) (n int, near bool) {
	n = distance(a, b, limit)
	// When every letter had to change the names have nothing in common.
	return n, n <= limit && (n == 0 || n < min(len(a), len(b)))
}

// fold takes away what people mix up without noticing.
func fold(into []rune, name string) []rune {
	for _, c := range name {
		if c != '_' && c != '-' && c != ' ' {
			into = append(into, unicode.ToLower(c))
		}
	}
	return into
}

// distance is the optimal string alignment distance of two names of at most longestName letters, limit+1 where it is more than
// limit: the least number of letters inserted, dropped, replaced or swapped with a neighbour. With at most limit of them, a
// letter stands at most limit places from its own, so only that much of each row is looked at.
func distance(a, b []rune, limit int) int {
	if len(b)-len(a) > limit || len(a)-len(b) > limit {
		return limit + 1
	}
	var rows [3][longestName + 1]int
	before, above, row := &rows[0], &rows[1], &rows[2]
	for j := range len(b) + 1 {
		above[j] = j
	}
	for i := range a {
		first, last := max(0, i-limit), min(len(b)-1, i+limit)
		row[first] = limit + 1 // what lies beside
		if first == 0 {
			row[0] = i + 1
		}
		least := limit + 1
		for j := first; j <= last; j++ {
			row[j+1] = step(a, b, i, j, before, above, row)
			least = min(least, row[j+1])
		}
		if last+2 <= len(b) {
			row[last+2] = limit + 1
		}
		if least > limit && row[first] > limit {
			return limit + 1
		}
		before, above, row = above, row, before
	}
	return min(above[len(b)], limit+1)
}

// step is the least number of slips up to letter i of one name and letter j of the other.
func step(a, b []rune, i, j int, before, above, row *[longestName + 1]int) int {
	cost := 1
	if a[i] == b[j] {
		cost = 0
	}
	n := min(row[j]+1, above[j+1]+1, above[j]+cost)
	if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
		n = min(n, before[j-1]+1)
	}
	return n
}

// Suggest adds the one known name that is near to another as a hint, or else all of them
// behind a few words.
func (f *Finding) Suggest(name string, known []string, all string) {
	if near := Nearest(name, known); near != "" {
		f.DidYouMean(name, near)
		return
	}
	f.WithHint("%s%s", all, strings.Join(known, ", "))
}
