package draw

import (
	"math"
	"strings"
	"unicode"

	"gridferry/plan/wording"
)

// Sizes of letters, mm. ISO 3098 asks for capitals of at least 1.8 mm, which
// letters of 2.5 mm have.
const (
	titleSize = 4.6
	nameSize  = 2.9
	plainSize = 2.7
	slotSize  = 2.5
	leastSize = 2.1 // where slots lie close
)

// style of one piece of text.
type lettering struct {
	class string
	size  float64
}

var (
	titleText   = lettering{"ink strong", titleSize}
	plainText   = lettering{"ink", plainSize}
	quietText   = lettering{"soft", plainSize}
	nameText    = lettering{"ink strong halo", nameSize}
	thingText   = lettering{"ink halo", plainSize}
	quietName   = lettering{"soft halo", plainSize}
	axisText    = lettering{"ink halo", leastSize}
	rulerText   = lettering{"soft", leastSize}
	calloutText = lettering{"order strong halo", plainSize}
)

// letters writes text with its base line at y; anchor is start, middle or end.
func (p *pen) letters(l lettering, x, y float64, anchor, text string) {
	p.words("text", text, "class", l.class, "font-size", num(l.size), "text-anchor", anchor, "x", num(x), "y", num(y))
}

// centred writes text around a point.
func (p *pen) centred(l lettering, at pt, text string) {
	p.letters(l, at.x, at.y+float64(0.36*l.size), "middle", text)
}

// width is about how wide text is, mm: the advances of a wide sans serif, so
// that no reader's font needs more.
func width(text string, size float64) float64 {
	em := 0.0
	for _, r := range text {
		em += advance(r)
	}
	return float64(em * size)
}

func advance(r rune) float64 {
	switch {
	case strings.ContainsRune("iljI.,:;|'!·", r):
		return 0.35
	case strings.ContainsRune("ft()[]-r /", r):
		return 0.42
	case strings.ContainsRune("mwMW@%↑↓…−×", r):
		return 0.98
	case unicode.In(r, unicode.Mn, unicode.Me):
		return 0
	case r >= 0x1100 && !unicode.In(r, unicode.Latin, unicode.Greek, unicode.Cyrillic):
		return 1.05
	case unicode.IsUpper(r):
		return 0.75
	default:
		return 0.64
	}
}

// cut shortens text to a width, with a sign that something is missing.
func cut(text string, size, room float64) string {
	if width(text, size) <= room {
		return text
	}
	runes := []rune(text)
	for len(runes) > 0 && width(string(runes)+"…", size) > room {
		runes = runes[:len(runes)-1]
	}
	return strings.TrimSpace(string(runes)) + "…"
}

// wrap breaks text at blanks into lines of a width; a word that is wider is cut.
func wrap(text string, size, room float64) []string {
	words := strings.Fields(text)
	for i := range words {
		words[i] = cut(words[i], size, room)
	}
	return wording.Lines(words, func(line string) bool { return width(line, size) <= room })
}

// placer finds room for labels: it keeps what is taken and tries places around
// a thing, the near ones first.
type placer struct {
	in       rect
	taken    []rect   // by other labels and signs
	texts    []rect   // the labels among them, through which no leader runs
	axes     []rect   // by the axes of frames
	lines    []rect   // by lines that would read as part of the text
	soft     []rect   // by keep-out boxes, which a label may cover if it must
	occupied occupied // all of these but the soft ones, to be found
}

func (p *placer) take(r rect) { p.taken = append(p.taken, r) }

// write takes the place of a label.
func (p *placer) write(r rect) {
	p.take(r)
	p.texts = append(p.texts, r)
}

// leader is a line from a thing to its label; there is none where both ends are one.
type leader struct{ from, to pt }

// led keeps labels off a leader that was drawn.
func (p *placer) led(l leader) {
	way := l.to.minus(l.from)
	n := 1 + int(way.length()/0.5)
	for i := range n {
		at := l.from.to(l.to, (float64(i)+0.5)/float64(n))
		p.lines = append(p.lines, box(at.x, at.y, 0, 0).grown(0.5))
	}
}

// crossed is how many labels a leader would run through.
func (p *placer) crossed(l leader) int {
	n := 0
	whole := bounds([]pt{l.from, l.to}).grown(0.2)
	for _, t := range p.texts {
		if t.x0 > whole.x1 || t.x1 < whole.x0 || t.y0 > whole.y1 || t.y1 < whole.y0 {
			continue
		}
		if a, b, ok := clipLine(l.from, l.to, t.grown(0.2)); ok && !a.near(b, hair) {
			n++
		}
	}
	return n
}

// near finds a place for a label of a size around a thing, to which a leader may lead.
// Where nothing is free it is the place that covers least.
func (p *placer) near(around rect, w, h float64, lead func(rect) leader) rect {
	best, least := rect{}, math.Inf(1)
	for _, gap := range []float64{0.8, 2, 3, 6, 10, 15, 21, 28} {
		for i, r := range candidates(around, w, h, gap) {
			if !p.in.has(pt{r.x0, r.y0}) || !p.in.has(pt{r.x1, r.y1}) {
				continue
			}
			cost := p.cost(r, least)
			if cost >= least {
				continue // what comes on top makes it no less
			}
			leads := lead(r)
			cost += float64(80*float64(p.crossed(leads))) + float64(0.05*gap) + float64(0.001*float64(i))
			if aslant(around, r) && leads == (leader{}) {
				cost += 0.1
			}
			if cost < least {
				best, least = r, cost
			}
		}
		if least < float64(0.05*gap)+0.1 {
			break
		}
	}
	if math.IsInf(least, 1) { // larger than the view, or the thing stands at its very edge
		best = p.in.clamp(box((around.x0+around.x1-w)/2, around.y0-0.8-h, w, h))
	}
	p.write(best)
	return best
}

// aslant reports whether a label stands off a corner of its thing, where it reads as that
// of the next one unless a leader leads from it.
func aslant(around, r rect) bool {
	return (r.x1 < around.x0 || r.x0 > around.x1) && (r.y1 < around.y0 || r.y0 > around.y1)
}

// freest is the one of several places that covers least.
func (p *placer) freest(places []rect) rect {
	best, least := p.in.clamp(places[0]), math.Inf(1)
	for _, r := range places {
		if cost := p.cost(r, least); p.in.inside(r) == r && cost < least {
			best, least = r, cost
		}
	}
	p.write(best)
	return best
}

// cost is what it costs to cover r, or something above most where it is more than that.
func (p *placer) cost(r rect, most float64) float64 {
	r = r.grown(0.5)
	p.occupied.learn(p)
	sum := p.occupied.cost(r, most)
	for _, t := range p.soft {
		sum += float64(0.03 * t.shared(r))
	}
	return sum
}

// covers reports whether a label would cover another one or a sign.
func (p *placer) covers(r rect) bool {
	for _, t := range p.taken {
		if t.shared(r) > 0 {
			return true
		}
	}
	return false
}

// candidates are places above, below, to the right and to the left of a thing.
func candidates(around rect, w, h, gap float64) []rect {
	midX, midY := (around.x0+around.x1-w)/2, (around.y0+around.y1-h)/2
	above, below := around.y0-gap-h, around.y1+gap
	right, left := around.x1+gap, around.x0-gap-w
	return []rect{
		box(around.x0, above, w, h), box(around.x0, below, w, h), box(right, midY, w, h), box(left, midY, w, h),
		box(midX, above, w, h), box(midX, below, w, h),
		box(around.x1-w, above, w, h), box(around.x1-w, below, w, h),
		box(right, above, w, h), box(right, below, w, h), box(left, above, w, h), box(left, below, w, h),
		box(right, around.y0, w, h), box(right, around.y1-h, w, h), box(left, around.y0, w, h), box(left, around.y1-h, w, h),
	}
}

// clamp moves s into r as far as it fits.
func (r rect) clamp(s rect) rect {
	x := max(r.x0, min(s.x0, r.x1-s.w()))
	y := max(r.y0, min(s.y0, r.y1-s.h()))
	return box(x, y, s.w(), s.h())
}
