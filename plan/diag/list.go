package diag

import (
	"fmt"
	"slices"
	"strings"
)

// List collects findings. The zero value is ready to use. It is not safe for concurrent use.
type List struct {
	// Pointers, because Errorf hands one out and later findings must not move it.
	findings []*Finding
	errors   int
	unshown  int // findings beyond mostShown
	compared int // names that were compared for hints
}

const (
	// mostShown is how many findings are kept. Nobody reads more, and a file of a few million mistakes would fill the memory with them.
	mostShown = 10_000
	// mostCompared is how many names are compared for the hints of a list. Where twenty keys are known, every finding that is
	// kept may have its hint; of three thousand unknown names beside three thousand grids, the first seven hundred.
	mostCompared = 2_000_000
	// longestWords is the most bytes of a message, a hint or a value in one: a file may say the same page at every line.
	longestWords = 2000
)

// Errorf adds an error and returns it, so that a hint or notes can be added.
func (l *List) Errorf(rule string, at Place, format string, args ...any) *Finding {
	l.errors++
	return l.add(Error, rule, at, format, args)
}

// Warnf adds a warning and returns it, so that a hint or notes can be added.
func (l *List) Warnf(rule string, at Place, format string, args ...any) *Finding {
	return l.add(Warning, rule, at, format, args)
}

func (l *List) add(s Severity, rule string, at Place, format string, args []any) *Finding {
	if len(l.findings) >= mostShown {
		l.unshown++
		return &Finding{}
	}
	f := &Finding{Severity: s, Rule: rule, Place: at}
	f.Concerns(args...)
	f.Message = words(format, args)
	l.findings = append(l.findings, f)
	return f
}

// words fills in a format, each value and the whole cut to what somebody may read.
func words(format string, args []any) string {
	for i, arg := range args {
		if text, ok := arg.(string); ok {
			args[i] = cut(text)
		}
	}
	return cut(fmt.Sprintf(format, args...))
}

func cut(text string) string {
	if len(text) <= longestWords {
		return text
	}
	return strings.ToValidUTF8(text[:longestWords-len(cutMark)], "") + cutMark
}

// Full reports whether there are errors and no more findings are kept: whoever looks for more may stop.
func (l *List) Full() bool { return l.errors > 0 && len(l.findings) >= mostShown }

// Nearest is the function of that name for a hint of this list: "" where nobody would see the hint, and once very many names
// were compared.
func (l *List) Nearest(name string, known []string) string {
	if !l.MayCompare(len(known)) {
		return ""
	}
	l.compared += len(known)
	return Nearest(name, known)
}

// MayCompare reports whether Nearest would compare so many names.
func (l *List) MayCompare(names int) bool { return l.unshown == 0 && l.compared+names <= mostCompared }

// HasErrors reports whether any finding is an error.
func (l *List) HasErrors() bool { return l.errors > 0 }

// All is the findings that are kept, in the order in which they were added, for who has more to say of them.
func (l *List) All() []*Finding { return l.findings }

// Len is the number of findings.
func (l *List) Len() int { return len(l.findings) + l.unshown }

// Sorted returns copies of the findings by place, those without a place last. Findings at one place keep the order in which
// they were added; one that says the same at the same place as another is left out, since what an anchor stands for is read
// wherever an alias does. Of more than ten thousand only the first that were added are kept, and at the end that there are more:
// how many is not known, since nobody looks for more where there are errors.
func (l *List) Sorted() []Finding {
	type told struct {
		at            Place
		rule, message string
	}
	sorted, before := make([]Finding, 0, len(l.findings)), make(map[told]bool, len(l.findings))
	for _, f := range l.findings {
		if t := (told{f.Place, f.Rule, f.Message}); !before[t] {
			before[t], sorted = true, append(sorted, *f)
		}
	}
	slices.SortStableFunc(sorted, func(a, b Finding) int { return a.Place.Compare(b.Place) })
	if l.unshown > 0 {
		sorted = append(sorted, Finding{
			Severity: Error, Rule: "too-many-findings", Message: fmt.Sprintf("there are more than %d findings, and the others are not shown", mostShown), Hint: "mend these first",
		})
	}
	return sorted
}

// AddAll takes over the findings of another list.
func (l *List) AddAll(from *List) {
	room := max(0, min(mostShown-len(l.findings), len(from.findings)))
	l.findings, l.errors = append(l.findings, from.findings[:room]...), l.errors+from.errors
	l.unshown += len(from.findings) - room + from.unshown
}
