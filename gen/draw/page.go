package draw

import (
	"cmp"
	"fmt"
	"io"
	"strconv"

	"gridferry/gen/move"
	"gridferry/plan/wording"
)

// A page is 190 mm wide, which fits A4 (ISO 216) and Letter upright with margins
// of 10 mm; all is placed in millimetres of paper.
const (
	pageWidth = 190.0
	edgeWidth = 2.0
	viewsTop  = 19.0 // below the title and the first view's caption
	between   = 12.0 // from one view to the next: ruler and caption
	padding   = 8.5  // between what is shown and a view's border
	column    = 58.0 // the least width of a legend beside the views
	gutter    = 6.0
)

// page is a picture while it is drawn.
type page struct {
	pen
	s         *scene
	top, side view
	ratio     string // of the scale, "1:5"
	beside    bool   // the legend stands beside the views
	left      float64
	height    float64
	seen      [signs]bool
	notes     []string
}

func compose(s *scene) *page {
	p := &page{s: s}
	p.arrange()
	p.heading()
	p.drawView(&p.top)
	p.drawView(&p.side)
	p.drawScale()
	p.legend()
	return p
}

// arrange chooses the scale and places the views: the largest round scale at
// which both fit, with the legend beside them or below.
func (p *page) arrange() {
	p.top, p.side = p.s.views()
	p.left = edgeWidth + max(p.rulerWidth(&p.top), p.rulerWidth(&p.side))
	wide := pageWidth - edgeWidth - p.left
	size, tall := p.top.size(), p.top.size().y+p.side.size().y
	below, belowRatio := fit(size.x, tall, wide-2*padding, pageWidth)
	beside, besideRatio := fit(size.x, tall, wide-column-gutter-2*padding, 215)
	scale := below
	p.ratio = belowRatio
	if p.beside = beside >= below; p.beside {
		scale, p.ratio = beside, besideRatio
	}
	least := wide
	if p.beside {
		least = 60
	}
	p.top.scale, p.side.scale = scale, scale
	p.top.widen(pt{padding, padding}, pt{least, 30})
	p.side.widen(pt{padding, padding}, pt{least, 24})
	p.top.put(p.left, viewsTop)
	p.side.put(p.left, p.top.on.y1+between)
}

// fit is the largest round scale at which a size in mm of the cell fits room on
// paper, as a factor and as people write it. ISO 5455 recommends 1, 2 and 5 times
// a power of ten and allows others between them where those do not serve.
func fit(w, h, roomW, roomH float64) (float64, string) {
	fits := func(scale float64) bool { return w*scale <= roomW && h*scale <= roomH }
	for _, n := range []float64{20, 10, 8, 6, 5, 4, 3, 2.5, 2, 1.5} {
		if fits(n) {
			return n, figure(n) + ":1"
		}
	}
	for power := 1.0; ; power *= 10 {
		for _, n := range []float64{1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 6, 8} {
			if d := n * power; fits(1/d) || power > 1e12 {
				return 1 / d, "1:" + figure(d)
			}
		}
	}
}

// figure is a number as people write it.
func figure(x float64) string {
	text := strconv.FormatFloat(x, 'f', -1, 64)
	if x < 0 {
		return "−" + text[1:]
	}
	return text
}

// heading is the title and what is shown of the job.
func (p *page) heading() {
	room := pageWidth - 2*edgeWidth
	p.letters(titleText, edgeWidth, 6.2, "start", cut(p.s.title(), titleSize, room))
	p.letters(quietText, edgeWidth, 11.2, "start", cut(p.s.subtitle(), plainSize, room))
}

func (s *scene) title() string {
	return cmp.Or(s.o.Title, s.l.Title, s.l.File)
}

// subtitle says what part of the job the picture shows.
func (s *scene) subtitle() string {
	text := ""
	if name := s.l.Cell.Name.V; name != "" {
		text = "Cell: " + name + " · "
	}
	if s.o.Run != "" {
		text += s.o.Run + " · "
	}
	if s.o.Grid != "" {
		text += "grid " + s.o.Grid + " · "
	}
	return text + s.moment()
}

// moment is the state that is shown, in words.
func (s *scene) moment() string {
	of := wording.Count(s.total, "transfer")
	text := fmt.Sprintf("parts as they stand at the start, before %s", of)
	switch {
	case s.o.Empty:
		text = "no parts"
	case s.o.From > 0 && s.after < s.o.From:
		text = fmt.Sprintf("parts as they stand before transfer %d of %d", s.o.From, s.total)
	case s.after == s.total && s.after > 0:
		text = fmt.Sprintf("parts as they stand at the end, after %s", of)
	case s.after > 0:
		text = fmt.Sprintf("parts as they stand after %d of %s", s.after, of)
	}
	if s.o.Transfer > 0 {
		text = fmt.Sprintf("transfer %d: %s to %s, moves %d to %d · ", s.o.Transfer, target(s.focus.from), target(s.focus.to), s.focus.first, s.focus.last) + text
	}
	return text
}

func target(t move.Target) string { return t.String() }

// Head is what every picture in a file of its own begins with, and nothing else does.
const Head = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<!-- picture by Gridferry -->\n"

// writeTo writes the document around what was drawn.
func (p *page) writeTo(w io.Writer) error {
	on := rect{0, 0, pageWidth, p.height}
	return p.s.o.document(w, p.s.title()+": top view and side view", p.describe(), on, p.borders, &p.pen)
}

// document writes a picture: what it is called and shows in words, what it refers to, and what was drawn.
func (o Options) document(w io.Writer, title, desc string, on rect, defs func(*pen), drawn *pen) error {
	var head pen
	if !o.Inline {
		head.WriteString(Head)
	}
	head.open("svg", "xmlns", "http://www.w3.org/2000/svg", "id", o.id(""), "role", "img",
		"aria-labelledby", o.id("title")+" "+o.id("desc"), "lang", "en",
		"width", num(on.w())+"mm", "height", num(on.h())+"mm", "viewBox", num(on.x0)+" "+num(on.y0)+" "+num(on.w())+" "+num(on.h()))
	head.words("title", title, "id", o.id("title"))
	head.words("desc", desc, "id", o.id("desc"))
	head.WriteString("<style>\n" + o.Style() + "</style>\n")
	head.open("defs")
	o.hatching(&head)
	defs(&head)
	head.close("defs")
	head.element("rect", "class", "paper", "x", num(0), "y", num(0), "width", num(on.x1), "height", num(on.y1))
	if _, err := w.Write(head.Bytes()); err != nil {
		return err
	}
	drawn.close("svg")
	_, err := w.Write(drawn.Bytes())
	return err
}

// hatching is that of ISO 128-3, thin lines at 45 degrees.
func (o Options) hatching(head *pen) {
	head.open("pattern", "id", o.id("hatch"), "patternUnits", "userSpaceOnUse", "width", num(3), "height", num(3), "patternTransform", "rotate(45)")
	head.line("hatch", pt{1.5, 0}, pt{1.5, 3})
	head.close("pattern")
}

// borders are those of the views, where everything ends.
func (p *page) borders(head *pen) {
	for _, v := range []*view{&p.top, &p.side} {
		head.open("clipPath", "id", p.s.o.id(v.name+"-border"))
		head.element("rect", rectangle(v.on)...)
		head.close("clipPath")
	}
}

func rectangle(r rect) []string {
	return []string{"x", num(r.x0), "y", num(r.y0), "width", num(r.w()), "height", num(r.h())}
}
