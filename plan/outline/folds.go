package outline

import "strings"

// Fold is lines that can be shown as one: a thing with what stands further in, or remarks, from 1.
type Fold struct {
	First, Last int
	Remarks     bool
}

// Folds are all of a text, by where each begins. They are told by indentation alone, so that a text need not be
// one that can be parsed.
func Folds(lines []string) []Fold {
	var f folder
	for i, line := range lines {
		f.line(i+1, line)
	}
	f.close(-1)
	var folds []Fold
	for _, one := range f.folds {
		if one.Last > one.First {
			folds = append(folds, one)
		}
	}
	return folds
}

// folder takes in the lines of a text.
type folder struct {
	folds   []Fold
	open    []level
	last    int // the last line that is no remark and not empty
	remarks int // the fold of the remarks that the line before ended, 1 more than its number; 0 for none
}

// level is a fold that is not closed yet: whatever stands deeper belongs to it.
type level struct{ fold, depth int }

func (f *folder) line(n int, line string) {
	text := strings.TrimLeft(line, " \t")
	switch {
	case strings.HasPrefix(text, "#"):
		if f.remarks == 0 {
			f.folds = append(f.folds, Fold{n, n, true})
			f.remarks = len(f.folds)
		}
		f.folds[f.remarks-1].Last = n
		return
	case text == "":
	case strings.ContainsRune("]}", rune(text[0])): // what was opened further up ends here
		f.close(2*indent(line) + 1)
		f.last = n
	default:
		depth := 2 * indent(line)
		if text == "-" || strings.HasPrefix(text, "- ") {
			depth++ // a list may stand no further in than its key
		}
		f.close(depth)
		f.folds = append(f.folds, Fold{First: n})
		f.open = append(f.open, level{len(f.folds) - 1, depth})
		f.last = n
	}
	f.remarks = 0
}

// close ends what stands at a depth or deeper.
func (f *folder) close(depth int) {
	for n := len(f.open); n > 0 && f.open[n-1].depth >= depth; n-- {
		f.folds[f.open[n-1].fold].Last = f.last
		f.open = f.open[:n-1]
	}
}
