package draw

import "math"

// occupied finds what a label would cover without going through all that stands in a
// picture: rectangles by the squares of the paper that they lie on.
type occupied struct {
	in      rect
	across  int // squares in a row
	down    int
	squares [][]weighted
	large   []weighted // that lie on very many
	known   [4]int     // how many of each of the placer's lists are here
}

// weighted is a rectangle, and what covering a square millimetre of it costs.
type weighted struct {
	rect
	weight float64
}

const (
	squareSide = 6.0 // mm, somewhat more than the height of a label
	mostOn     = 64  // squares that a rectangle lies on, before it is looked at by every label
)

// learn takes in what was placed since the last time.
func (c *occupied) learn(p *placer) {
	if c.squares == nil {
		c.in, c.across, c.down = p.in, 1+int(p.in.w()/squareSide), 1+int(p.in.h()/squareSide)
		c.squares = make([][]weighted, c.across*c.down)
	}
	for i, list := range []struct {
		all    []rect
		weight float64
	}{{p.taken, 10}, {p.texts, 40}, {p.axes, 5}, {p.lines, 4}} {
		for _, r := range list.all[c.known[i]:] {
			c.add(weighted{r, list.weight})
		}
		c.known[i] = len(list.all)
	}
}

func (c *occupied) add(r weighted) {
	x0, y0, x1, y1 := c.span(r.rect)
	if (x1-x0+1)*(y1-y0+1) > mostOn {
		c.large = append(c.large, r)
		return
	}
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			c.squares[y*c.across+x] = append(c.squares[y*c.across+x], r)
		}
	}
}

// span is the squares that a rectangle lies on; what is outside counts to those at the edge.
func (c *occupied) span(r rect) (x0, y0, x1, y1 int) {
	x0, y0 = c.square(r.x0, r.y0)
	x1, y1 = c.square(r.x1, r.y1)
	return x0, y0, x1, y1
}

func (c *occupied) square(x, y float64) (int, int) {
	at := func(v float64, most int) int {
		return int(max(0, min(math.Floor(v/squareSide), float64(most-1))))
	}
	return at(x-c.in.x0, c.across), at(y-c.in.y0, c.down)
}

// cost is what it costs to cover r, or something above most where it is more than that.
func (c *occupied) cost(r rect, most float64) float64 {
	sum := 0.0
	for i := range c.large {
		sum += float64(c.large[i].weight * c.large[i].shared(r))
	}
	x0, y0, x1, y1 := c.span(r)
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1 && sum <= most; x++ {
			for _, t := range c.squares[y*c.across+x] {
				if common := t.shared(r); common > 0 && c.first(t.rect, r, x, y) {
					sum += float64(t.weight * common)
				}
			}
		}
	}
	return sum
}

// first reports whether a square is the first of those on which two rectangles both lie,
// so that each pair counts once.
func (c *occupied) first(r, s rect, x, y int) bool {
	x0, y0 := c.square(max(r.x0, s.x0), max(r.y0, s.y0))
	return x0 == x && y0 == y
}
