package wordaddress

import (
	"fmt"
	"strings"
)

// A Block is one line of a program.
type Block struct {
	Line    int    // from 1
	Deleted bool   // the line starts with "/": skipped when the operator's switch is on
	Number  int    // after N; -1 when the line has none
	Words   []Word // in the order in which they were written
	Comment string // the last one on the line, without its brackets; "" when none
	Message bool   // the comment is an operator message (3.3.4)
}

// A Word is a letter and its number.
type Word struct {
	Letter byte // upper case
	Value  float64
	Text   string // the number as written, blanks left out
	Column int    // of the letter, from 1, in characters
}

// String gives the word as written, upper case.
func (w Word) String() string { return string(w.Letter) + w.Text }

// An Error is one breach of the standard, at its place.
type Error struct {
	Line, Column int
	Clause       string // of NISTIR 6556 unless it names another standard
	Message      string
}

func (e *Error) Error() string {
	clause := e.Clause
	if !strings.HasPrefix(clause, "ISO") {
		clause = "NISTIR 6556, " + clause
	}
	return fmt.Sprintf("%d:%d: %s [%s]", e.Line, e.Column, e.Message, clause)
}

func fault(line, column int, clause, format string, args ...any) *Error {
	return &Error{line, column, clause, fmt.Sprintf(format, args...)}
}
