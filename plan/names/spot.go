package names

import (
	"strings"
	"unicode/utf8"

	"gridferry/plan/decode"
	"gridferry/plan/diag"
)

// spot is a place in a line, in bytes as well: uses come in their order, and a line may be megabytes long.
type spot struct {
	file            string
	line, col, byte int
}

// find puts the place of a use on its letters, where these stand there as they are, behind quotes or not.
func (s *spot) find(u *Use, sources *diag.Sources) {
	p := u.Place
	line, there := sources.Line(p.File, p.Line)
	if p != u.stands || !there {
		return
	}
	if s.file != p.File || s.line != p.Line || s.col > p.Col {
		*s = spot{file: p.File, line: p.Line, col: 1}
	}
	for ; s.col < p.Col && s.byte < len(line); s.col++ {
		_, size := utf8.DecodeRuneInString(line[s.byte:])
		s.byte += size
	}
	rest := line[s.byte:]
	text := strings.TrimLeft(rest, "\"' \t")
	behind, here := strings.CutPrefix(text, u.before+u.Name.Text)
	if here {
		next, _ := utf8.DecodeRuneInString(behind)
		here = behind == "" || !decode.IsName("a"+string(next))
	}
	if !here {
		return
	}
	u.Plain = true
	u.Place.Col += utf8.RuneCountInString(rest[:len(rest)-len(text)] + u.before)
	u.Place.Width = utf8.RuneCountInString(u.Name.Text)
}
