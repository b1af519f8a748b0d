package compare

import (
	"fmt"
	"iter"

	"gridferry/gen/align"
	"gridferry/gen/family/reads"
	"gridferry/gen/move"
	"gridferry/plan/wording"
)

// Beside is something beside the moves in which two sides of one form differ: a line
// that no move is read from, or an entry of the table of tools. Where one side lacks it,
// its text is empty.
type Beside struct {
	A, B  string
	Lines [2]int
}

// String is a difference beside the moves in one line.
func (d *Beside) String() string {
	a, b := wording.Shorten(d.A, 60), wording.Shorten(d.B, 60)
	at := lines(d.Lines[0], d.Lines[1])
	switch {
	case d.B == "":
		return fmt.Sprintf("beside the moves: %q is only in the first%s", a, at)
	case d.A == "":
		return fmt.Sprintf("beside the moves: %q is only in the second%s", b, at)
	}
	if a == b { // they differ behind what is shown
		a, b = d.A, d.B
	}
	return fmt.Sprintf("beside the moves: %q becomes %q%s", a, b, at)
}

// line is a line beside the moves.
type line struct {
	number int
	text   string
}

// isBeside reports whether a line is none that says what the program does, move by move.
func isBeside(item *reads.Item) bool {
	return item.Means == reads.MeansText || item.Means == reads.MeansTool
}

// besideOf goes through such lines of a program, but for those of its seal.
func besideOf(read Reading, sealFirst, sealLast int, failed *error) iter.Seq[*line] {
	return func(yield func(*line) bool) {
		*failed = read(func(item *reads.Item, _ *move.Move) bool {
			if !isBeside(item) || sealFirst <= item.Line && item.Line <= sealLast {
				return true
			}
			return yield(&line{item.Line, string(item.Text)})
		})
	}
}

// mostBeside bounds how many are kept; the others are counted.
const mostBeside = 1000

// beside lays the lines beside the moves of two programs of one family beside each other.
func (r *Report) beside(a, b Side) {
	nextA, stopA := iter.Pull(a.Beside)
	defer stopA()
	nextB, stopB := iter.Pull(b.Beside)
	defer stopB()
	same := func(x, y *line) bool { return x.text == y.text }
	worth := func(x, y *line) float32 {
		if same(x, y) {
			return 5
		}
		return 3
	}
	align.SideBySide(nextA, nextB, same, worth, func(x, y *line) {
		if x != nil && y != nil && same(x, y) {
			return
		}
		var d Beside
		if x != nil {
			d.A, d.Lines[0] = x.text, x.number
		}
		if y != nil {
			d.B, d.Lines[1] = y.text, y.number
		}
		r.AddBeside(d)
	})
}

// AddBeside adds a difference beside the moves.
func (r *Report) AddBeside(d Beside) {
	if r.BesideCount++; len(r.Beside) < mostBeside {
		r.Beside = append(r.Beside, d)
	}
}
