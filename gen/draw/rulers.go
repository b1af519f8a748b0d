package draw

import (
	"math"

	"gridferry/gen/geom"
)

// drawRulers borders a view and marks the base's coordinates along its left and
// lower sides.
func (d *drawing) drawRulers() {
	d.element("rect", append([]string{"class", "border"}, rectangle(d.v.on)...)...)
	d.ruleAcross()
	d.ruleUp()
}

// apart is the least distance of two figures of a ruler, mm.
const apart = 13.0

func (d *drawing) ruleAcross() {
	v := d.v
	name, sign := axisName(v.right)
	end := name + ", mm"
	y := v.on.y1 + 3.6
	d.letters(rulerText, v.on.x1, y, "end", end)
	room := v.on.x1 - width(end, leastSize) - 1
	for _, u := range v.ticks(v.lo.x, v.hi.x) {
		x := v.paper(pt{u, 0}).x
		d.line("border", pt{x, v.on.y1}, pt{x, v.on.y1 + 1})
		text := short(float64(u * sign))
		if half := width(text, leastSize) / 2; x+half < room && x-half > edgeWidth {
			d.letters(rulerText, x, y, "middle", text)
		}
	}
}

func (d *drawing) ruleUp() {
	v := d.v
	name, sign := axisName(v.up)
	d.letters(rulerText, v.on.x0-1.6, v.on.y0+1.4, "end", name+",")
	d.letters(rulerText, v.on.x0-1.6, v.on.y0+4, "end", "mm")
	for _, u := range v.ticks(v.lo.y, v.hi.y) {
		y := v.paper(pt{0, u}).y
		d.line("border", pt{v.on.x0 - 1, y}, pt{v.on.x0, y})
		if y > v.on.y0+6 {
			d.letters(rulerText, v.on.x0-1.6, y+0.8, "end", short(float64(u*sign)))
		}
	}
}

// axisName is the base's axis that a direction lies along, and which way.
func axisName(d geom.Vec) (string, float64) {
	switch {
	case d.X != 0:
		return "X", d.X
	case d.Y != 0:
		return "Y", d.Y
	default:
		return "Z", d.Z
	}
}

// ticks are the round figures from lo to hi, mm of the cell.
func (v *view) ticks(lo, hi float64) []float64 {
	step := roundUp(apart / v.scale)
	var ticks []float64
	for k := math.Ceil(lo / step); float64(k*step) <= hi; k++ {
		ticks = append(ticks, float64(k*step)+0)
	}
	return ticks
}

// roundUp is the next of 1, 2 and 5 times a power of ten.
func roundUp(x float64) float64 {
	for power := 1e-3; ; power *= 10 {
		for _, n := range []float64{1, 2, 5} {
			if n*power >= x || power > 1e15 {
				return n * power
			}
		}
	}
}

// short is a figure of the cell with at most three decimals.
func short(x float64) string { return figure(math.Round(x*1000)/1000 + 0) }

// rulerWidth is how much room a view's upright ruler needs.
func (p *page) rulerWidth(v *view) float64 {
	return 3 + max(width(short(math.Round(v.lo.y)), leastSize), width(short(math.Round(v.hi.y)), leastSize), 5)
}

// printedScale is the scale of a picture in a file of its own; "" for one inside a page,
// which chooses its width: there only the bar is true.
func (p *page) printedScale() string {
	if p.s.o.Inline {
		return ""
	}
	return "scale " + p.ratio
}

// drawScale is the scale bar under the views.
func (p *page) drawScale() {
	const parts = 4
	y := p.side.on.y1 + 9
	part := roundUp(6 / p.top.scale)
	length := float64(part * p.top.scale)
	x := p.left
	for i := range parts {
		class := "bar"
		if i%2 == 1 {
			class = "blank"
		}
		p.element("rect", append([]string{"class", class}, rectangle(box(x+float64(float64(i)*length), y, length, 1.2))...)...)
	}
	p.letters(rulerText, x, y+4.2, "middle", "0")
	end := x + float64(parts*length)
	p.letters(rulerText, end, y+4.2, "middle", short(parts*part)+" mm")
	if scale := p.printedScale(); scale != "" {
		p.letters(plainText, end+4, y+1.5, "start", "S"+scale[1:]+" where printed "+figure(pageWidth)+" mm wide")
	}
	p.height = y + 7
}
