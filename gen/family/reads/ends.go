package reads

import "bytes"

// ends finds where the lines of a text end: at CR, LF or both together. It looks for
// each of them once, however far apart they are.
type ends struct {
	text   []byte
	cr, lf int // the next ones, len(text) for none
}

func endsOf(text []byte) ends { return ends{text, next(text, 0, '\r'), next(text, 0, '\n')} }

func next(text []byte, from int, c byte) int {
	if at := bytes.IndexByte(text[from:], c); at >= 0 {
		return from + at
	}
	return len(text)
}

// after is the first end from a place on; len(text) for none.
func (e *ends) after(from int) int {
	if e.cr < from {
		e.cr = next(e.text, from, '\r')
	}
	if e.lf < from {
		e.lf = next(e.text, from, '\n')
	}
	return min(e.cr, e.lf)
}

// behind is where the line after the one that ends there begins.
func (e *ends) behind(end int) int {
	if e.text[end] == '\r' && end+1 < len(e.text) && e.text[end+1] == '\n' {
		return end + 2
	}
	return end + 1
}
