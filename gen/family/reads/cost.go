package reads

import (
	"cmp"
	"encoding/binary"
	"regexp/syntax"
	"slices"
	"strings"
	"unicode"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
	"gridferry/plan/lazy"
)

// What readings may cost. A pattern of twenty characters can stand for millions of steps,
// and for a search that looks at thousands of places for every character of a line. All of
// it is counted before a pattern is compiled, or else before a line is read: a megabyte of
// whatever text is read in some seconds.
const (
	mostPatternSteps = 2_000  // of one pattern
	mostReadingSteps = 20_000 // of all readings
	mostGroups       = 50     // of one pattern: as many as there are fields
	mostTries        = 500    // for one line
	mostPlaces       = 300    // for one character
)

// ruleCostly is a reading, or all of them, that would cost too much.
const ruleCostly = "reading-too-costly"

// Ignoring case, the parser goes through a range character by character, of which there
// may be a hundred thousand.
var (
	ignoresCase = lazy.Regexp(`\(\?[imsU-]*i`)
	longRange   = lazy.Regexp(`-(?:\\x|[^\x00-\x7f])`)
)

// namedSteps is what a class with a name counts for: such as \pL has hundreds of ranges,
// which the parser puts in order before they can be counted.
const namedSteps = 20

// refused reports what keeps a pattern from being compiled, and counts its steps: also
// those of one that is refused, since an alias repeats it for three bytes.
func (e *Entry) refused(list *diag.List, line decode.Value[string], source string) bool {
	if *e.spent > mostReadingSteps {
		e.left = true
		return true
	}
	steps, good := counted(list, line, source)
	return e.spend(list, line.Place, steps) || !good
}

// counted is how many steps a pattern stands for; false for one that is refused.
func counted(list *diag.List, line decode.Value[string], source string) (steps int, good bool) {
	const tooMany = mostPatternSteps + 1
	if ignoresCase().MatchString(source) && longRange().MatchString(source) {
		list.Errorf(ruleCostly, line.Place, "the pattern ignores case and holds a range that ends beyond ASCII").
			WithHint("write both cases of such letters, or leave (?i) out")
		return tooMany, false
	}
	groups := 0
	if steps = namedSteps * (strings.Count(source, `\p`) + strings.Count(source, `\P`)); steps < tooMany {
		tree, err := syntax.Parse(source, syntax.Perl)
		if err != nil {
			notPattern(list, line, err)
			return min(len(source), tooMany), false
		}
		steps, groups = steps+stepsOf(tree), tree.MaxCap()
	}
	switch {
	case steps >= tooMany:
		list.Errorf(ruleCostly, line.Place, "the pattern stands for more than %d steps", mostPatternSteps).
			WithHint("a repeat such as {1000} counts as often as it repeats, and a class such as \\pL for %d: write *, which costs one, or two readings", namedSteps)
		return tooMany, false
	case groups > mostGroups:
		list.Errorf(ruleCostly, line.Place, "the pattern holds %d groups, at most %d are read", groups, mostGroups).
			WithHint("write (?: … ) for a group that is no field")
		return steps, false
	}
	return steps, true
}

// entrySteps is what an entry counts for beside its pattern.
const entrySteps = 10

// spend counts steps of the family, and reports the entry that is one too many; those
// behind it are not looked at.
func (e *Entry) spend(list *diag.List, at diag.Place, steps int) bool {
	before := *e.spent
	*e.spent += steps + entrySteps
	if *e.spent <= mostReadingSteps {
		return false
	}
	if before <= mostReadingSteps {
		list.Errorf(ruleCostly, at, "up to here the readings stand for more than %d steps", mostReadingSteps).
			WithHint("let one pattern read several lines, or write shorter patterns")
	}
	e.left = true
	return true
}

// stepsOf is how many steps an expression comes to when it is compiled, and a little more:
// what repeats counts as often as it may, a class of characters also for its ranges.
func stepsOf(re *syntax.Regexp) int {
	const enough = mostPatternSteps + 1 // products of more could overflow
	steps := 1
	switch re.Op {
	case syntax.OpLiteral:
		steps = len(re.Rune)
	case syntax.OpCharClass:
		steps += len(re.Rune) / 64
	case syntax.OpCapture, syntax.OpAlternate:
		steps += len(re.Sub)
	}
	for _, sub := range re.Sub {
		steps = min(steps+stepsOf(sub), enough)
	}
	if re.Op == syntax.OpRepeat { // of x{2,5} three may be left out, and so a choice stands before each
		steps = (steps-1)*max(re.Min, re.Max) + max(1, re.Max-re.Min)
	}
	return min(steps, enough)
}

// checkCost refuses readings among which it would take too long to find the one that a
// line fits; false where there are such.
func (r *Reads) checkCost(list *diag.List) bool {
	tries, places := 0, 0
	var searched []*syntax.Prog
	for i := range r.Entries {
		e := &r.Entries[i]
		tries += e.tries()
		if tries > mostTries {
			list.Errorf(ruleCostly, e.Place, "up to here a line is compared with the readings in more than %d steps", mostTries).
				WithHint("one in words and fields alone counts for each way of writing it, any other one for %d: let one pattern read several lines", searchTries)
			return false
		}
		if e.IsQuick() {
			continue
		}
		p := compiled(e.Line.String())
		searched, places = append(searched, p), places+placesOf(p)
		if places > mostPlaces && crowded(searched) {
			list.Errorf(ruleCostly, e.Place, "up to here one character of a line may stand at more than %d places of the patterns at once", mostPlaces).
				WithHint("write what stands there in place of .* and of repeats such as {0,100}")
			return false
		}
	}
	return true
}

// searchTries is what a line that is searched, or cut into columns, counts for.
const searchTries = 10

// tries is in how many steps a line is found not to fit an entry.
func (e *Entry) tries() int {
	if e.scans == nil || slices.ContainsFunc(e.scans, scan.hasText) {
		return max(len(e.scans), searchTries)
	}
	return len(e.scans)
}

func compiled(pattern string) *syntax.Prog {
	re, _ := syntax.Parse(pattern, syntax.Perl)
	prog, _ := syntax.Compile(re.Simplify()) // as package regexp did before
	return prog
}

// placesOf is at how many places of a pattern one character of a line may stand at once, or
// more. It is followed through every line that there can be, as far as that comes to an end.
func placesOf(p *syntax.Prog) int {
	if most, ends := follow(p); ends {
		return most
	}
	return len(p.Inst)
}

// crowded reports whether there are too many places where patterns are followed together,
// which takes long: there are never more than of each alone, but often fewer.
func crowded(progs []*syntax.Prog) bool {
	most, ends := follow(progs...)
	return !ends || most > mostPlaces
}

// follower goes through the sets of places at which a line can stand.
type follower struct {
	progs []*syntax.Prog
	known map[string]bool
	left  [][]standing // sets that are not looked at yet
	seen  map[standing]bool
	most  int
	work  int
}

// standing is a step of a pattern, as a place where a line can stand.
type standing struct{ prog, step uint32 }

// mostFollowed bounds the work for it, in places that are looked at.
const mostFollowed = 100_000

// follow gives the most places at once; false where there are too many sets to say.
func follow(progs ...*syntax.Prog) (most int, ends bool) {
	f := &follower{progs: progs, known: map[string]bool{}, seen: map[standing]bool{}}
	var begin []standing
	for i, p := range progs {
		begin = f.enter(begin, standing{uint32(i), uint32(p.Start)})
	}
	f.found(begin)
	f.most = 0 // a line begins once
	for len(f.left) > 0 {
		set := f.left[len(f.left)-1]
		f.left = f.left[:len(f.left)-1]
		for _, c := range f.characters(set) {
			if f.work >= mostFollowed {
				return f.most, false
			}
			var next []standing
			for _, s := range set {
				if step := f.step(s); step.MatchRune(c) {
					next = f.enter(next, standing{s.prog, step.Out})
				}
			}
			f.work += len(set)
			f.found(next)
		}
	}
	return f.most, true
}

func (f *follower) step(s standing) *syntax.Inst { return &f.progs[s.prog].Inst[s.step] }

// found keeps a set that was not met before. Places that take no character count, too.
func (f *follower) found(set []standing) {
	f.most = max(f.most, len(f.seen))
	clear(f.seen)
	slices.SortFunc(set, func(a, b standing) int { return cmp.Or(cmp.Compare(a.prog, b.prog), cmp.Compare(a.step, b.step)) })
	var key []byte
	for _, s := range set {
		key = binary.AppendUvarint(binary.AppendUvarint(key, uint64(s.prog)), uint64(s.step))
	}
	if len(set) > 0 && !f.known[string(key)] {
		f.known[string(key)] = true
		f.left = append(f.left, set)
	}
}

// enter adds the steps that take a character and can be reached from one without any.
func (f *follower) enter(set []standing, s standing) []standing {
	if f.seen[s] {
		return set
	}
	f.seen[s] = true
	f.work++
	switch step := f.step(s); step.Op {
	case syntax.InstAlt, syntax.InstAltMatch:
		return f.enter(f.enter(set, standing{s.prog, step.Out}), standing{s.prog, step.Arg})
	case syntax.InstCapture, syntax.InstNop, syntax.InstEmptyWidth:
		return f.enter(set, standing{s.prog, step.Out})
	case syntax.InstRune, syntax.InstRune1, syntax.InstRuneAny, syntax.InstRuneAnyNotNL:
		return append(set, s)
	case syntax.InstMatch, syntax.InstFail:
	}
	return set
}

// characters is one of each sort that the steps of a set tell apart: where a range begins,
// and what follows its end.
func (f *follower) characters(set []standing) []rune {
	all := []rune{0}
	for _, s := range set {
		step := f.step(s)
		switch {
		case step.Op == syntax.InstRuneAnyNotNL:
			all = append(all, '\n', '\n'+1)
		case len(step.Rune) == 1:
			c := step.Rune[0]
			all = append(all, c, c+1)
			for next := unicode.SimpleFold(c); next != c; next = unicode.SimpleFold(next) {
				all = append(all, next, next+1)
			}
		}
		for i := 0; i+1 < len(step.Rune); i += 2 {
			all = append(all, step.Rune[i], step.Rune[i+1]+1)
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}
