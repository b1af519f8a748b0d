package wordaddress

import (
	"errors"
	"strings"
)

// longest is how many characters a line may have, its end not counted (3.3).
const longest = 256

// Options widen the language by a named addition.
type Options struct {
	// Clamp admits M10 (clamp) and M11 (unclamp). They are ISO 6983-1's;
	// NISTIR 6556 has no such words.
	Clamp bool
}

// Read holds a program text to the grammar and gives its blocks, blank lines
// left out. All lines are read even when some are wrong: the error joins one
// [*Error] for each wrong line, and then no block is returned.
func Read(text string, options ...Options) ([]Block, error) {
	var o Options
	if len(options) > 0 {
		o = options[0]
	}
	lines, faults := demarcate(splitLines(text))
	var blocks []Block
	for _, l := range lines {
		b, err := readLine(l, o)
		if err != nil {
			faults = append(faults, err)
			continue
		}
		if !b.empty() {
			blocks = append(blocks, b)
		}
	}
	if err := missingEnd(text, blocks); err != nil && len(faults) == 0 {
		faults = append(faults, err)
	}
	if len(faults) > 0 {
		return nil, errors.Join(faults...)
	}
	return blocks, nil
}

type numbered struct {
	line int
	text string
}

// splitLines cuts at carriage return, line feed or both together (3.3).
func splitLines(text string) []numbered {
	text = strings.ReplaceAll(text, "\r\n", "\n")
	text = strings.ReplaceAll(text, "\r", "\n")
	var lines []numbered
	for i, l := range strings.Split(text, "\n") {
		lines = append(lines, numbered{i + 1, l})
	}
	return lines
}

func trim(text string) string { return strings.Trim(text, " \t") }

// demarcate keeps the lines between two percent lines, or all lines when the
// first line that is not blank is no percent line (3.1).
func demarcate(lines []numbered) ([]numbered, []error) {
	first := 0
	for first < len(lines) && trim(lines[first].text) == "" {
		first++
	}
	if first == len(lines) || trim(lines[first].text) != "%" {
		return lines, nil
	}
	inside := lines[first+1:]
	for i, l := range inside {
		if trim(l.text) == "%" {
			return inside[:i], nil
		}
	}
	return inside, []error{fault(lines[first].line, 1, "3.1", `this "%%" has no second one to close the program`)}
}

// missingEnd refuses a program that neither percent lines nor M2 or M30 end (3.1).
func missingEnd(text string, blocks []Block) error {
	if strings.HasPrefix(strings.TrimLeft(text, " \t\r\n"), "%") {
		return nil
	}
	for _, b := range blocks {
		for _, w := range b.Words {
			if w.Letter == 'M' && (w.code() == 20 || w.code() == 300) {
				return nil
			}
		}
	}
	return fault(len(splitLines(text)), 1, "3.1", `the program has no end: M2 or M30, or "%%" lines around it, were wanted`)
}

func readLine(l numbered, o Options) (Block, error) {
	characters := []rune(l.text)
	if len(characters) > longest {
		return Block{}, fault(l.line, longest+1, "3.3", "the line has %d characters, at most %d are allowed", len(characters), longest)
	}
	s := &scanner{text: characters, line: l.line}
	b, err := s.block()
	if err == nil {
		err = checkWords(b, o)
	}
	if err != nil {
		return b, err
	}
	return b, nil
}

// empty reports whether the line was blank; a lone comment is not.
func (b Block) empty() bool {
	return len(b.Words) == 0 && b.Comment == "" && b.Number < 0 && !b.Deleted
}
