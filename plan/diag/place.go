package diag

import (
	"cmp"
	"strconv"
	"strings"
)

// Place is a line and a column of a file. Line and Col count from 1, Col in characters (Unicode code points), not bytes.
//
// Width is how many characters the thing there takes; 0 means unknown. The zero Place is no place at all. A Place with a File
// and no Line is the file as a whole, one with no Col the line as a whole.
type Place struct {
	File  string
	Line  int
	Col   int
	Width int
}

// InFile reports whether p is in a file, and not on standard input ("<stdin>") or in what stands behind a flag ("--set[1]").
func (p Place) InFile() bool {
	return p.File != "" && p.File[0] != '<' && !strings.HasPrefix(p.File, "--")
}

// IsZero reports whether p is no place.
func (p Place) IsZero() bool { return p == Place{} }

// String gives "FILE:LINE:COL", leaving out from the end what is not known; no place gives "".
func (p Place) String() string {
	var b strings.Builder
	b.WriteString(p.File)
	if p.Line <= 0 {
		return b.String()
	}
	b.WriteString(":" + strconv.Itoa(p.Line))
	if p.Col > 0 {
		b.WriteString(":" + strconv.Itoa(p.Col))
	}
	return b.String()
}

// Compare orders places by file, line and column; no place comes after every place.
func (p Place) Compare(q Place) int {
	if p.IsZero() || q.IsZero() {
		return compareBool(p.IsZero(), q.IsZero())
	}
	return cmp.Or(
		cmp.Compare(p.File, q.File),
		cmp.Compare(p.Line, q.Line),
		cmp.Compare(p.Col, q.Col),
	)
}

// Less reports whether p comes before q in the order of Compare.
func (p Place) Less(q Place) bool { return p.Compare(q) < 0 }

// compareBool orders false before true.
func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}
