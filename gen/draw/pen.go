package draw

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// pen writes elements.
type pen struct{ bytes.Buffer }

// element writes an empty element; attributes are names and values by turns.
func (p *pen) element(name string, attributes ...string) {
	p.start(name, attributes)
	p.WriteString("/>\n")
}

// open writes a start tag, which close ends.
func (p *pen) open(name string, attributes ...string) {
	p.start(name, attributes)
	p.WriteString(">\n")
}

func (p *pen) close(name string) { p.WriteString("</" + name + ">\n") }

// words writes an element that holds nothing but text.
func (p *pen) words(name, text string, attributes ...string) {
	p.start(name, attributes)
	p.WriteString(">" + safe(text) + "</" + name + ">\n")
}

func (p *pen) start(name string, attributes []string) {
	p.WriteString("<" + name)
	for i := 0; i+1 < len(attributes); i += 2 {
		p.WriteString(" " + attributes[i] + `="` + safe(attributes[i+1]) + `"`)
	}
}

// line draws a straight line.
func (p *pen) line(class string, a, b pt) {
	p.element("path", "class", class, "d", polyline(false, a, b))
}

// shape draws a closed polygon; fewer than two corners are nothing.
func (p *pen) shape(class string, corners []pt) {
	if len(corners) >= 2 {
		p.element("path", "class", class, "d", polyline(true, corners...))
	}
}

func (p *pen) circle(class string, c pt, radius float64) {
	p.element("circle", "class", class, "cx", num(c.x), "cy", num(c.y), "r", num(radius))
}

// polyline is path data through points.
func polyline(closed bool, points ...pt) string {
	var b strings.Builder
	for i, p := range points {
		command := byte('L')
		if i == 0 {
			command = 'M'
		}
		b.WriteByte(command)
		b.WriteString(num(p.x) + " " + num(p.y))
	}
	if closed {
		b.WriteByte('Z')
	}
	return b.String()
}

// num is a number as SVG reads it: three decimals, a micrometre of paper, never
// an exponent and never a negative zero.
func num(x float64) string {
	x = math.Round(x*1000) / 1000
	return strconv.FormatFloat(x+0, 'f', 3, 64) // + 0 turns -0 into 0
}

var xmlEscapes = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "'", "&#39;")

// safe makes any text part of an XML document: markup is escaped, and what XML
// 1.0 cannot hold or what would reorder the line (control and format characters)
// becomes a replacement sign; breaks become blanks.
func safe(text string) string {
	return xmlEscapes.Replace(strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case !unicode.IsPrint(r):
			return unicode.ReplacementChar
		}
		return r
	}, text))
}
