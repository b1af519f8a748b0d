package urdf

import (
	"encoding/xml"
	"errors"
	"io"
	"sort"
	"strings"
	"unicode/utf8"

	"gridferry/plan/diag"
	"gridferry/plan/wording"
)

// element is one element of the file, with its attributes as they are written.
type element struct {
	name     string
	at       diag.Place
	attrs    map[string]Text
	children []*element
}

// Bounds of a file. Arms have some ten links; a whole hall of them has a few hundred.
const (
	deepest      = 32
	mostElements = 100_000
	mostLinks    = 1000
	longestName  = 64
)

// parser turns the text into elements.
type parser struct {
	file   string
	text   string
	starts []int // where lines begin
	list   *diag.List
	count  int

	counted, column int // a byte of the file, and its column: places are mostly asked for in their order
}

// tree is the root element; nil where the file cannot be read, which is reported.
func tree(file, text string, list *diag.List) *element {
	text = strings.TrimPrefix(text, "\ufeff") // no character of the first line
	p := &parser{file: file, text: text, list: list, starts: []int{0}, column: 1}
	for i := range len(text) {
		if text[i] == '\n' || text[i] == '\r' && (i+1 == len(text) || text[i+1] != '\n') {
			p.starts = append(p.starts, i+1)
		}
	}
	if i := invalid(text); i >= 0 {
		list.Errorf("not-utf8", p.place(i, i+1), "the byte 0x%02x is not UTF-8 text", text[i]).WithHint("save the file in UTF-8")
		return nil
	}
	return p.parse()
}

// invalid is the first byte that is no UTF-8; -1 for none.
func invalid(text string) int {
	for i, c := range text {
		if c == utf8.RuneError && !strings.HasPrefix(text[i:], string(utf8.RuneError)) {
			return i
		}
	}
	return -1
}

// place is that of some bytes.
func (p *parser) place(from, to int) diag.Place {
	from = min(from, len(p.text))
	line := sort.Search(len(p.starts), func(i int) bool { return p.starts[i] > from })
	if begin := p.starts[line-1]; p.counted < begin || p.counted > from {
		p.counted, p.column = begin, 1
	}
	p.column += utf8.RuneCountInString(p.text[p.counted:from])
	p.counted = from
	return diag.Place{File: p.file, Line: line, Col: p.column, Width: utf8.RuneCountInString(p.text[from:min(to, len(p.text))])}
}

// parse goes through the file with the library's decoder, which knows no entities but those of XML
// itself and opens no other file.
func (p *parser) parse() *element {
	d := xml.NewDecoder(strings.NewReader(p.text))
	var root *element
	var open []*element
	for {
		from := int(d.InputOffset())
		token, err := d.RawToken()
		to := int(d.InputOffset())
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			p.bad(err, to)
			return nil
		}
		switch t := token.(type) {
		case xml.Directive:
			p.list.Errorf("bad-urdf", p.place(from, from+2), "the file has a document type declaration, which is not read").
				WithHint("take it out: URDF needs none, and nothing here follows what it declares")
			return nil
		case xml.StartElement:
			e := p.element(&t, from, to)
			if e == nil || !p.fits(e, len(open)) {
				return nil
			}
			switch {
			case len(open) > 0:
				top := open[len(open)-1]
				top.children = append(top.children, e)
			case root != nil:
				p.list.Errorf("bad-urdf", e.at, "the file goes on behind the end of <%s>", root.name).WithHint("one file holds one <robot>")
				return nil
			default:
				root = e
			}
			open = append(open, e)
		case xml.EndElement:
			if n := len(open); n == 0 || open[n-1].name != name(t.Name) {
				p.unmatched(t, open, from, to)
				return nil
			}
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) == 0 && strings.TrimSpace(string(t)) != "" {
				p.list.Errorf("bad-urdf", p.place(from, from+1), "found text outside of all elements, wanted XML").WithHint("%s", wholeFile)
				return nil
			}
		}
	}
	switch {
	case root == nil:
		p.list.Errorf("bad-urdf", diag.Place{File: p.file}, "the file holds no element, wanted <robot>").WithHint("%s", wholeFile)
	case len(open) > 0:
		top := open[len(open)-1]
		p.list.Errorf("bad-urdf", top.at, "<%s> is not closed", wording.Brief(top.name)).WithHint("%s", wholeFile)
	default:
		return root
	}
	return nil
}

const wholeFile = "was all of the file saved?"

func name(n xml.Name) string {
	if n.Space != "" {
		return n.Space + ":" + n.Local
	}
	return n.Local
}

func (p *parser) bad(err error, at int) {
	var syntax *xml.SyntaxError
	words := err.Error()
	if errors.As(err, &syntax) {
		words = syntax.Msg
	}
	p.list.Errorf("bad-urdf", p.place(max(at-1, 0), at), "the file is not XML: %s", wording.Brief(words)).WithHint("%s", wholeFile)
}

func (p *parser) unmatched(end xml.EndElement, open []*element, from, to int) {
	f := p.list.Errorf("bad-urdf", p.place(from, to), "</%s> closes nothing that is open", wording.Brief(name(end.Name)))
	if n := len(open); n > 0 {
		f.WithNote(open[n-1].at, "<%s> is open", wording.Brief(open[n-1].name)).WithHint("close elements in the reverse of their order")
	}
}

// fits holds the file to its bounds.
func (p *parser) fits(e *element, depth int) bool {
	switch p.count++; {
	case depth >= deepest:
		p.list.Errorf("nested-too-deep", e.at, "more than %d elements lie inside each other", deepest).WithHint("an arm needs five")
	case p.count > mostElements:
		p.list.Errorf("too-many-values", e.at, "the file has more than the %d elements that are read", mostElements).WithHint("keep the arm, and leave the rest out")
	default:
		return true
	}
	return false
}

// element takes over the attributes of a start tag; nil where one stands there twice, or where the
// element is one of a file that is yet to be expanded.
func (p *parser) element(t *xml.StartElement, from, to int) *element {
	e := &element{name: name(t.Name), at: p.place(from, min(to, from+1+len(name(t.Name)))), attrs: map[string]Text{}}
	if t.Name.Space == "xacro" {
		p.unexpanded(e.at, "<"+wording.Brief(e.name)+">")
		return nil
	}
	at := from + 1
	for _, a := range t.Attr {
		key := name(a.Name)
		begin, end := p.value(at, to)
		if begin < 0 {
			begin, end = from, to
		}
		at = end + 1
		value := Text{a.Value, p.place(begin, end)}
		if _, twice := e.attrs[key]; twice {
			p.list.Errorf("bad-urdf", value.Place, "<%s> has %q twice", wording.Brief(e.name), wording.Brief(key)).WithHint("keep one of the two")
			return nil
		}
		if strings.Contains(a.Value, "${") || strings.Contains(a.Value, "$(") {
			p.unexpanded(value.Place, `"`+wording.Brief(a.Value)+`"`)
			return nil
		}
		e.attrs[key] = value
	}
	return e
}

// value is where the next value in quotes stands, between two bytes; -1 for nowhere.
func (p *parser) value(from, to int) (begin, end int) {
	for i := from; i < to; i++ {
		if q := p.text[i]; q == '"' || q == '\'' {
			if n := strings.IndexByte(p.text[i+1:to], q); n >= 0 {
				return i + 1, i + 1 + n
			}
			break
		}
	}
	return -1, to
}

func (p *parser) unexpanded(at diag.Place, what string) {
	p.list.Errorf("urdf-macros", at, "%s is one of the macros that URDF is made from, and no URDF yet", what).
		WithHint("expand the file first, with the tool that its macros were written for, and name what comes out")
}
