package diag

import (
	"iter"
	"maps"
	"slices"
	"strings"
)

// Sources keeps the text of every file that was read, so that a finding can show the line it speaks of. The zero value is
// ready to use.
type Sources struct {
	files map[string]*source
}

// source is one file's text and, once a line has been asked for, where each line starts.
type source struct {
	text   string
	starts []int32 // small, since a file may be nothing but line breaks
	last   spot
}

// spot is where a search for a column ended. Findings come in the order of their places, so the next one on a long line goes
// on from there.
type spot struct{ line, col, byte int }

// Add keeps the text of file. Adding a file again replaces its text.
func (s *Sources) Add(file string, data []byte) { s.AddText(file, string(data)) }

// AddText is Add for a text.
func (s *Sources) AddText(file, text string) {
	if s.files == nil {
		s.files = make(map[string]*source)
	}
	// A byte order mark is no character of the first line: columns are counted after it.
	s.files[file] = &source{text: strings.TrimPrefix(text, "\ufeff")}
}

// Names are the names of all that was read: files, and perhaps what is none, such as standard input or a setting.
func (s *Sources) Names() []string { return slices.Sorted(maps.Keys(s.files)) }

// Text returns the whole text of file; false for one that was not read.
func (s *Sources) Text(file string) (string, bool) {
	src, ok := s.files[file]
	if !ok {
		return "", false
	}
	return src.text, true
}

// Line returns line n, counted from 1, without its line break. It is false for a file or line that is not there.
func (s *Sources) Line(file string, n int) (string, bool) {
	src, ok := s.files[file]
	if !ok || n < 1 {
		return "", false
	}
	if src.starts == nil {
		src.starts = LineStarts(src.text)
	}
	if n > len(src.starts) {
		return "", false
	}
	return LineOf(src.text, src.starts, n-1), true
}

// LineStarts is where the lines of a text begin, in bytes. LF, CR LF and a lone CR end a line, as they do for YAML.
func LineStarts(text string) []int32 {
	starts := make([]int32, 1, 1+strings.Count(text, "\n"))
	for i := range len(text) {
		if text[i] == '\n' || text[i] == '\r' && (i+1 == len(text) || text[i+1] != '\n') {
			starts = append(starts, int32(i+1))
		}
	}
	return starts
}

// LineOf is line i of a text, counted from 0, without its line break.
func LineOf(text string, starts []int32, i int) string {
	end := len(text)
	if i+1 < len(starts) {
		end = int(starts[i+1])
	}
	return strings.TrimSuffix(strings.TrimSuffix(text[starts[i]:end], "\n"), "\r")
}

// SplitLines is the lines of a text without their line breaks, as Line counts them.
func SplitLines(text string) []string {
	starts := LineStarts(text)
	lines := make([]string, len(starts))
	for i := range starts {
		lines[i] = LineOf(text, starts, i)
	}
	return lines
}

// Of is the sources that findings and their notes speak of.
func (s *Sources) Of(found []Finding) *Sources {
	kept := new(Sources)
	keep := func(at Place) {
		if text, ok := s.Text(at.File); ok {
			kept.AddText(at.File, text)
		}
	}
	for i := range found {
		keep(found[i].Place)
		for _, n := range found[i].Notes {
			keep(n.Place)
		}
	}
	return kept
}

// AddAll takes over the files of others.
func (s *Sources) AddAll(from *Sources) {
	for file, text := range from.All() {
		s.AddText(file, text)
	}
}

// All goes through the files that were added, by name, each with its text.
func (s *Sources) All() iter.Seq2[string, string] {
	return func(yield func(file, text string) bool) {
		for _, file := range slices.Sorted(maps.Keys(s.files)) {
			if !yield(file, s.files[file].text) {
				return
			}
		}
	}
}

// around returns the part of a line that lies near a place, and how many characters of the line come before it. Short lines
// come whole.
func (s *Sources) around(at Place) (text string, before int, ok bool) {
	line, ok := s.Line(at.File, at.Line)
	if !ok || len(line) <= 2*farAway {
		return line, 0, ok
	}
	src := s.files[at.File]
	first := max(0, at.Col-1-farAway)
	if src.last.line != at.Line || src.last.col > first {
		src.last = spot{line: at.Line}
	}
	src.last.byte += bytesOf(line[src.last.byte:], first-src.last.col)
	src.last.col = first
	line = line[src.last.byte:]
	return line[:bytesOf(line, 3*farAway)], first, true
}

// bytesOf is how many bytes the first n characters of a text take.
func bytesOf(text string, n int) int {
	for i := range text {
		if n == 0 {
			return i
		}
		n--
	}
	return len(text)
}
