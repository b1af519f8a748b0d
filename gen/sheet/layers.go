package sheet

import (
	"fmt"
	"html"
	"html/template"
	"math"
	"strconv"
	"strings"

	"gridferry/gen/check"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/slot"
)

// floorPlan draws the layers of a stack of boxes to scale, seen from above, as the stack lies in
// the picture, turned by quarters only.
type floorPlan struct {
	g         *check.GridSlots
	right, up geom.Vec // of the page, in the grid's frame: along its X or Y
	scale     float64  // mm of paper for a mm
	w, h      float64  // of the footprint on paper
}

// mostDrawn is how many boxes of a layer are drawn to scale: more have no room for their names.
const mostDrawn = 120

func newFloorPlan(g *check.GridSlots, right, up geom.Vec) *floorPlan {
	turn := g.Frame.Base.R.T()
	p := &floorPlan{g: g, right: nearestAxis(turn.Apply(right))}
	p.up = geom.Vec{X: -p.right.Y, Y: p.right.X}
	if p.up.Dot(turn.Apply(up)) < 0 { // the frame's Z points away from who looks
		p.up = p.up.Scale(-1)
	}
	size := geom.Vec{X: g.Stack.Footprint[0], Y: g.Stack.Footprint[1]}
	across, down := math.Abs(p.right.Dot(size)), math.Abs(p.up.Dot(size))
	const tall = 62 // mm
	p.scale = min((mapWide-1)/across, tall/down)
	p.w, p.h = float64(across*p.scale), float64(down*p.scale)
	return p
}

// nearestAxis is the direction along X or Y nearest to another one.
func nearestAxis(v geom.Vec) geom.Vec {
	if math.Abs(v.X) >= math.Abs(v.Y) {
		return geom.Vec{X: math.Copysign(1, v.X)}
	}
	return geom.Vec{Y: math.Copysign(1, v.Y)}
}

// at is a place of the footprint on paper, from its upper left corner.
func (p *floorPlan) at(x, y float64) (across, down float64) {
	off := geom.Vec{X: x - p.g.Stack.Footprint[0]/2, Y: y - p.g.Stack.Footprint[1]/2}
	return p.w/2 + float64(p.right.Dot(off)*p.scale), p.h/2 - float64(p.up.Dot(off)*p.scale)
}

// draw is one layer as an SVG picture; numbers, if there are any, are transfers.
func (p *floorPlan) draw(layer int, when string, full, due layout.Slots, numbers []int32) template.HTML {
	var b strings.Builder
	w, h := dim(p.w+1), dim(p.h+1)
	fmt.Fprintf(&b, `<svg class="map" role="img" aria-label="%s %s: %s" width="%smm" height="%smm" viewBox="-0.5 -0.5 %s %s">`,
		html.EscapeString(p.g.Name), when, html.EscapeString(holding(p.g, full)), w, h, w, h)
	fmt.Fprintf(&b, `<path class="free" stroke-width="0.2" d="M0 0h%sv%sh-%sz"/>`, dim(p.w), dim(p.h), dim(p.w))
	for col, box := range p.g.Stack.Layers[layer%2] {
		s := slot.Slot{Col: int32(col), Layer: int32(layer)}
		i := p.g.Index(s)
		if p.g.Missing.Has(i) {
			continue
		}
		half := geom.Vec{X: p.g.Part.Size.X / 2, Y: p.g.Part.Size.Y / 2}
		if box.Turned != 0 {
			half.X, half.Y = half.Y, half.X
		}
		across, down := math.Abs(p.right.Dot(half))*p.scale, math.Abs(p.up.Dot(half))*p.scale
		x, y := p.at(box.X, box.Y)
		class := "free"
		switch {
		case full.Has(i):
			class = "full"
		case due.Has(i):
			class = "due"
		}
		fmt.Fprintf(&b, `<path class="%s" stroke-width="0.3" d="M%s %sh%sv%sh-%sz"/>`, class, dim(x-across), dim(y-down), dim(2*across), dim(2*down), dim(2*across))
		p.letters(&b, s, x, y, across, down, numbers)
	}
	b.WriteString("</svg>")
	return template.HTML(b.String())
}

// letters names a box, and the transfer that changes its slot, where there is room.
func (p *floorPlan) letters(b *strings.Builder, s slot.Slot, x, y, across, down float64, numbers []int32) {
	const wide, high = 4.2, 3.4 // half of what the two lines need, mm
	if across < wide || down < high {
		return
	}
	n := int32(0)
	if numbers != nil {
		n = numbers[p.g.Index(s)]
	}
	if n == 0 {
		fmt.Fprintf(b, `<text class="turn" x="%s" y="%s">%s</text>`, dim(x), dim(y+1), p.g.Label(s))
		return
	}
	fmt.Fprintf(b, `<text class="turn" x="%s" y="%s">%s</text><text class="turn" x="%s" y="%s">%s</text>`,
		dim(x), dim(y-0.5), p.g.Label(s), dim(x), dim(y+2.7), strconv.Itoa(int(n)))
}

// numbered reports whether boxes have room for the numbers of transfers; where they have not,
// the order is said in words.
func (p *floorPlan) numbered() bool {
	return min(p.g.Part.Size.X, p.g.Part.Size.Y)*p.scale/2 >= 4.2
}
