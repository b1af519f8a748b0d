package seal

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"gridferry/gen/family/rules"
)

// State reports whether a program is as Gridferry wrote it.
type State uint8

// The states.
const (
	None    State = iota // no seal: Gridferry did not write it, or the seal was removed
	Whole                // the body is the one that was sealed
	Changed              // the body is another one
)

// Inspection is what a program's text shows.
type Inspection struct {
	State State
	Seal  Seal
	// First and Last are the seal's lines, counted from 1; 0 without a seal.
	First, Last int
	OtherEnd    OtherEnd
}

// Inspect looks for a seal in a program of a family and compares the body with it.
// It reads the text twice and holds one line at a time. The error is r's own, or
// ErrLongLine.
func Inspect(r io.ReadSeeker, rules *rules.Rules) (Inspection, error) {
	var found collector
	var other OtherEnd
	err := eachLine(r, func(number int, line, end []byte) {
		found.take(number, string(line), rules)
		other.look(number, line, end, rules)
	})
	if err != nil || !found.found {
		return Inspection{OtherEnd: other}, err
	}
	sum := newBody()
	err = eachLine(r, func(number int, line, _ []byte) {
		if number < found.first || number > found.last {
			sum.Write(line)
			sum.Write(lineFeed)
		}
	})
	in := Inspection{State: Changed, Seal: found.seal, First: found.first + 1, Last: found.last + 1, OtherEnd: other}
	if sum.sum() == found.seal.Body && other.Line == 0 {
		in.State = Whole
	}
	return in, err
}

// eachLine goes through a text from its start; numbers count from 0. CR, LF and
// both together end a line.
func eachLine(r io.ReadSeeker, each func(number int, line, end []byte)) error {
	if _, err := r.Seek(0, io.SeekStart); err != nil {
		return err
	}
	in := bufio.NewScanner(r)
	in.Buffer(make([]byte, 0, 1<<16), longestLine)
	in.Split(splitLine)
	number := 0
	for ; in.Scan(); number++ {
		line := bytes.TrimRight(in.Bytes(), "\r\n")
		each(number, line, in.Bytes()[len(line):])
	}
	if errors.Is(in.Err(), bufio.ErrTooLong) {
		return fmt.Errorf("line %d is %w", number+1, ErrLongLine)
	}
	return in.Err()
}

// longestLine bounds what is held of a text, in bytes.
const longestLine = 64 << 20

// ErrLongLine is a line that no program has.
var ErrLongLine = errors.New("longer than 64 MiB, so that this is no program")

// splitLine gives the next line with its end.
func splitLine(data []byte, atEOF bool) (int, []byte, error) {
	end := bytes.IndexAny(data, "\r\n")
	switch {
	case end < 0 && atEOF && len(data) > 0:
		return len(data), data, nil
	case end < 0:
		return 0, nil, nil
	case data[end] == '\n':
		return end + 1, data[:end+1], nil
	case end+1 < len(data) && data[end+1] == '\n':
		return end + 2, data[:end+2], nil
	case end+1 < len(data) || atEOF:
		return end + 1, data[:end+1], nil
	}
	return 0, nil, nil // the next byte reports whether a line feed belongs to it
}

// Strip is a program without its seal, for comparisons.
func Strip(text string, rules *rules.Rules) string {
	in, err := Inspect(strings.NewReader(text), rules)
	if err != nil || in.State == None {
		return text
	}
	var b strings.Builder
	rest := []byte(text)
	for number := 1; len(rest) > 0; number++ {
		end, line, _ := splitLine(rest, true)
		if number < in.First || number > in.Last {
			b.Write(line)
		}
		rest = rest[end:]
	}
	return b.String()
}
