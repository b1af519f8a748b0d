package rules

import (
	"bytes"
	"strconv"
	"strings"

	"gridferry/plan/decode"
	"gridferry/plan/schema"
)

// BlockNumbers is how a family numbers the lines of a program. The zero value
// numbers none.
type BlockNumbers struct {
	Prefix               string
	Start, Step, Highest int
	Digits               int             // at least, with zeros in front
	Unnumbered           map[string]bool // lines that never get one
}

// form is the table of block numbers.
func (b *BlockNumbers) form() decode.Form {
	var prefix decode.Value[string]
	var start, highest decode.Value[int]
	return decode.Object{What: "block_numbers", Keys: []decode.Key{
		decode.Must("prefix", "What stands before the number, such as N.", decode.Under(decode.Text(&prefix), schema.With("pattern", "^[ -~]*$"))),
		decode.Must("start", "The first number.", decode.Whole(&start, 0, 1_000_000_000)),
		decode.Must("step", "From one number to the next.", whole(&b.Step, 1, 1_000_000)),
		decode.Must("highest", "The highest number; past it they begin again at start.", decode.Whole(&highest, 1, 1_000_000_000)),
		decode.May("width", "The least number of digits, with zeros in front.", whole(&b.Digits, 1, 10)),
		decode.May("unnumbered", "Lines that get no number.", words(func(line string) {
			if b.Unnumbered == nil {
				b.Unnumbered = map[string]bool{}
			}
			b.Unnumbered[line] = true
		})),
	}, Check: func(r *decode.Reader, _ decode.Written) {
		b.Prefix, b.Start, b.Highest = prefix.V, start.V, highest.V
		if strings.ContainsFunc(prefix.V, func(c rune) bool { return c < ' ' || c > '~' }) {
			r.List.Errorf("bad-block-numbers", prefix.Place, "the prefix %q holds more than printable ASCII characters", prefix.V)
		}
		if start.IsSet() && highest.IsSet() && start.V > highest.V {
			r.List.Errorf("bad-block-numbers", start.Place, "numbering starts at %d, above its highest number %d", start.V, highest.V)
		}
	}}
}

// On reports whether lines are numbered.
func (b *BlockNumbers) On() bool { return b.Step > 0 }

// Width is how many characters the widest number takes with the blank behind it.
func (b *BlockNumbers) Width() int {
	if !b.On() {
		return 0
	}
	return len([]rune(b.Prefix)) + max(len(strconv.Itoa(b.Highest)), b.Digits) + 1
}

// Append appends number n and the blank behind it.
func (b *BlockNumbers) Append(line []byte, n int) []byte {
	var room [20]byte
	digits := strconv.AppendInt(room[:0], int64(n), 10)
	line = append(line, b.Prefix...)
	for range b.Digits - len(digits) {
		line = append(line, '0')
	}
	return append(append(line, digits...), ' ')
}

// After is the number that follows n; past the highest it begins again.
func (b *BlockNumbers) After(n int) int {
	if n > b.Highest-b.Step {
		return b.Start
	}
	return n + b.Step
}

// Skips reports whether a line gets no number: a blank one, one that begins with a
// comment, or one that the family lists.
func (b *BlockNumbers) Skips(line []byte, c *Comment) bool {
	if len(line) == 0 {
		return true
	}
	if open := strings.TrimSpace(c.Open); open != "" && bytes.HasPrefix(bytes.TrimLeft(line, " \t"), []byte(open)) {
		return true
	}
	return b.Unnumbered[string(line)]
}
