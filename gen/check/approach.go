package check

import (
	"fmt"
	"math"

	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/plan/diag"
)

// approach asks for room between a part that is carried and those that stand.
var approach = Rule{
	Finds: []manual.Page{{
		Name:     "approach-below-part",
		Severity: diag.Error,
		Doc: `The approach distance is less than the height of the part: above a slot, the part
in the gripper still hangs between those that stand beside it. Where the approach goes
another way than up ("along"), it has to be as long as the part is high on that way, or as
long or wide, whichever it has left behind first.`,
		Do: `Make "approach" the height of the tallest thing in the way plus 10 to 20 mm (common
practice, no source).`,
		Bad:  "-  approach: 60\n+  approach: 25\n",
		Good: "-  approach: 60\n+  approach: 40\n",
	}, {
		Name:     "approach-tight",
		Severity: diag.Warning,
		Doc: `The approach distance leaves less than 10 mm between the part in the gripper and those
that stand below. Common practice, no source: the tallest thing in the way plus 10
to 20 mm. Where the approach point is passed by, the part is lower than it beside the
slot already, as far as the gap to its neighbours lets one look: a parabola that leaves the
level way as far before the point as "fly_by" says, r, and joins the straight line as far below
it, is r·(1-√(g/r))² lower at a gap of g; any curve within the triangle of these three
points is lower by r-g at most. The parabola must leave those 10 mm, and no curve may reach
into a neighbour.`,
		Do:   `Make "approach" longer, or "fly_by" shorter, as the hint says.`,
		Bad:  "-  approach: 60\n+  approach: 35\n",
		Good: "-  approach: 60\n+  approach: 40\n",
	}, {
		Name:     "release-above-approach",
		Severity: diag.Error,
		Doc: `Parts are let go at the approach point or above it ("release_above"): the arm would go
up to do so.`,
		Do:   `Write less than the approach distance; a millimetre or two is usual.`,
		Bad:  "-  approach: 60\n+  approach: 60\n+  release_above: 60\n",
		Good: "-  approach: 60\n+  approach: 60\n+  release_above: 2\n",
	}},
	Layout: func(c *Context) {
		c.tops(checkApproach)
		c.stops(checkDip)
		checkReleaseAbove(c)
	},
}

// headroom is what should be left above the tallest thing in the way, mm.
const headroom = 10

// tops goes through the parts that are carried, the figures by which they are, and how far
// that is until a part is past those beside it: each together once.
func (c *Context) tops(look func(c *Context, p *layout.Part, high float64, f *layout.Figures)) {
	type top struct {
		part *layout.Part
		by   *layout.Figures
		high float64
	}
	seen := map[top]bool{}
	c.stops(func(c *Context, p *layout.Part, g *layout.Grid, by *layout.Figures) {
		if now := (top{p, by, past(p, g, by)}); !seen[now] {
			seen[now] = true
			look(c, p, now.high, by)
		}
	})
}

// past is how far a part goes along the approach until it is past a like one in the same
// place: along Z of its own lie its height, and on a slanted way the first of its height,
// its length and its width that lies behind it.
func past(p *layout.Part, g *layout.Grid, by *layout.Figures) float64 {
	if by.Along() == "" {
		return p.Size.Z
	}
	way := g.Pattern.Lie(g.Slot(0)).T().Apply(by.Away(g, g.Slot(0)))
	least := math.Inf(1)
	for _, side := range [...]struct{ size, share float64 }{{p.Size.X, way.X}, {p.Size.Y, way.Y}, {p.Size.Z, way.Z}} {
		if share := math.Abs(side.share); share > faint {
			least = min(least, side.size/share)
		}
	}
	return math.Round(least*1e6) / 1e6
}

func checkApproach(c *Context, p *layout.Part, high float64, f *layout.Figures) {
	lift, at, is := f.Approach.V, f.Approach.Place, "is %g mm high"
	if f.Along() != "" {
		is = "is past its neighbours only after %.4g mm"
	}
	is = fmt.Sprintf(is, high)
	switch {
	case lift < high:
		c.find("approach-below-part", at, "the approach distance is %g mm, but the part %q %s", lift, p.Name, is).
			note(p.Place, "the part is defined here").
			note(f.AlongPlace, "the direction of the approach is given here").
			hint("common practice is the tallest thing in the way plus 10 to 20 mm: %g mm or more", math.Ceil(high)+headroom)
	case lift < high+headroom:
		c.find("approach-tight", at, "the approach distance of %g mm leaves %.4g mm above the part %q, which %s", lift, lift-high, p.Name, is).
			note(p.Place, "the part is defined here").
			hint("common practice is the tallest thing in the way plus 10 to 20 mm")
	}
}

func checkReleaseAbove(c *Context) {
	seen := map[[2]diag.Place]bool{} // most figures have the plan's
	for _, f := range c.Layout.AllFigures() {
		at := [2]diag.Place{f.ReleaseAbove.Place, f.Approach.Place}
		if f.ReleaseAbove.V < f.Approach.V || seen[at] {
			continue
		}
		seen[at] = true
		c.find("release-above-approach", f.ReleaseAbove.Place, "parts would be let go %g mm above their slots, but the approach points are %g mm above them", f.ReleaseAbove.V, f.Approach.V).
			note(f.Approach.Place, "the approach distance is given here").
			hint("write less than the approach distance; a millimetre or two is usual")
	}
}
