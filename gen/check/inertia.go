package check

import (
	"math"

	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/manual"
	"gridferry/plan/diag"
)

// inertia doubts moments of inertia that no tool has.
var inertia = Rule{
	Finds: []manual.Page{{
		Name:     "inertia-impossible",
		Severity: diag.Error,
		Doc: `The tool's moment of inertia about one axis is more than those about the two others
together. No body has such moments: a mass at x, y, z adds x² + y² to the one about Z,
and to the two others together that and 2z² (every textbook of mechanics, from memory).
Mostly a figure was mistyped.`,
		Do: `Take the moments of inertia from the tool's drawing: about the centre of gravity, along
the axes of the flange, in kg·m².`,
		Bad:  "-      centre_of_gravity: [0, 0, 50]\n+      centre_of_gravity: [0, 0, 50]\n+      inertia: [0.002, 0.002, 0.01]\n",
		Good: "-      centre_of_gravity: [0, 0, 50]\n+      centre_of_gravity: [0, 0, 50]\n+      inertia: [0.002, 0.002, 0.001]\n",
	}, {
		Name:     "inertia-far",
		Severity: diag.Warning,
		Doc: `The tool's moments of inertia are those of a mass that lies, on an average, more than
half a metre from the centre of gravity: mostly a slip of the unit. A bare number is
kg·m², and makers of tools often give kg·cm² or kg·mm². (The bound is common practice,
no source.)`,
		Do:   `Check the unit: kg·m². A figure in kg·mm² is a million times as large.`,
		Bad:  "-      centre_of_gravity: [0, 0, 50]\n+      centre_of_gravity: [0, 0, 50]\n+      inertia: [20, 20, 10]\n",
		Good: "-      centre_of_gravity: [0, 0, 50]\n+      centre_of_gravity: [0, 0, 50]\n+      inertia: [20 kg*cm2, 20 kg*cm2, 10 kg*cm2]\n",
	}},
	Layout: func(c *Context) { c.eachTool(checkInertia) },
}

// farInertia is the radius of gyration beyond which a unit is doubted, m.
const farInertia = 0.5

func checkInertia(c *Context, t *layout.Tool) {
	i := t.Inertia
	if i == (geom.Vec{}) {
		return
	}
	at := c.written(t).Inertia.Place
	if most := max(i.X, i.Y, i.Z); over(most, i.X+i.Y+i.Z-most) {
		c.find("inertia-impossible", at, "the inertia of %q is %g kg·m² about one axis, more than the %g kg·m² about the two others together", t.Name, most, i.X+i.Y+i.Z-most).
			hint("it is written [x, y, z], about axes through the centre of gravity; no body has more about one than about the two others together")
	} else if gyration := math.Sqrt(most / t.Mass); gyration > farInertia {
		c.find("inertia-far", at, "the inertia of %q is that of its %g kg at %.0f mm from its centre of gravity, wanted %.0f mm or less", t.Name, t.Mass, 1000*gyration, 1000*farInertia).
			hint("a bare number is kg·m²; if kg·cm² are meant, write \"%g kg*cm2\"", most)
	}
}
