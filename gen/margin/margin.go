// Package margin says how near an arm comes, at some readings of its joints, to what it must not: an end of a joint's range, a
// singular place, a keep-out box. It knows poses, not what lies between them.
package margin

import (
	"fmt"
	"math"
	"strings"

	"gridferry/gen/arm"
)

// Kind is what a margin is to.
type Kind uint8

const (
	None     Kind = iota
	Range         // an end of a joint's range
	Singular      // a singular place that a joint alone leads to
	Room          // a keep-out box
	kinds    = iota
)

// Margin is how near the arm comes to one thing.
type Margin struct {
	Kind   Kind
	Joint  int8    // of Range and Singular
	Factor int8    // of Singular: which of the arm's, or -1
	Limb   int32   // of Room: see Meter
	Box    int32   // of Room
	By     float64 // degrees or mm; negative where it is past it
}

// Margins are those to each kind of thing, by kind: the nearest of each.
type Margins [kinds]Margin

// perDegree is how many mm count as much as a degree. Common practice, no source.
const perDegree = 2

// What is farther off than this is not looked for, but for the end of a range: degrees, and mm.
const (
	FarDegrees = 45.0
	FarMM      = FarDegrees * perDegree
)

// edges are where the bands end, in degrees: the first is where check warns of a range. Common practice, no source.
var edges = [...]float64{5, 15, 30}

// Bands is how many bands margins fall into.
const Bands = len(edges) + 1

// Band is the band that a margin falls into, 0 for the least.
func (r *Meter) Band(m Margin) int {
	weight := r.weight(m)
	for i, edge := range edges {
		if weight < edge {
			return i
		}
	}
	return len(edges)
}

// BandName is what a band is called in pictures and pages, as a class and as a colour.
func BandName(band int) string { return [Bands]string{"tight", "scant", "fair", "ample"}[band] }

// BandWords says which margins fall into a band.
func BandWords(band int) string {
	text := func(i int) (string, string) {
		return fmt.Sprintf("%g°", edges[i]), fmt.Sprintf("%g mm", edges[i]*perDegree)
	}
	switch band {
	case 0:
		degrees, mm := text(0)
		return "less than " + degrees + " or " + mm
	case len(edges):
		degrees, mm := text(band - 1)
		return degrees + " or " + mm + ", or more"
	}
	from, fromMM := text(band - 1)
	to, toMM := text(band)
	return from + " to " + to + ", or " + strings.TrimSuffix(fromMM, " mm") + " to " + toMM
}

// What every map of margins says of itself.
const (
	Says = "how far a joint is from an end of its range (its name), a joint would have to go to lead to a singular place (its name and “sing.”), " +
		"or a link or the tool is from a keep-out box (the name of that). One degree counts as much as two mm"
	NotLookedAt = "Not looked at: what lies between the two points, the part in the gripper, standing parts, and links of which the cell does not say what room they fill."
)

// weight is a margin in degrees.
func (r *Meter) weight(m Margin) float64 {
	if r.inMM(m) {
		return m.By / perDegree
	}
	return m.By
}

func (r *Meter) inMM(m Margin) bool {
	return m.Kind == Room || r.arm.Joints[m.Joint].Slides
}

// Less says whether one margin leaves less than another one. None leaves more than any.
func (r *Meter) Less(a, b Margin) bool {
	if a.Kind == None || b.Kind == None {
		return a.Kind != None
	}
	return r.weight(a) < r.weight(b)
}

// Least is the one that leaves least.
func (r *Meter) Least(all *Margins) (least Margin) {
	for _, m := range all {
		if r.Less(m, least) {
			least = m
		}
	}
	return least
}

// Worst takes over the margins of another pose where they leave less.
func (r *Meter) Worst(all, other *Margins) {
	for k := range all {
		if r.Less(other[k], all[k]) {
			all[k] = other[k]
		}
	}
}

// Figure is how much is left, rounded down: "12°", "8 mm".
func (r *Meter) Figure(m Margin) string {
	unit := "°"
	if r.inMM(m) {
		unit = " mm"
	}
	text := fmt.Sprintf("%.0f", math.Abs(math.Floor(m.By)))
	if m.By < 0 {
		text = "−" + text
	}
	return text + unit
}

// Subject is what comes near: a joint, a link, or a piece of the tool.
func (r *Meter) Subject(m Margin) string {
	if m.Kind == Room {
		return r.limbs[m.Limb].name
	}
	return r.arm.Joints[m.Joint].Name
}

// To is what the margin is to, as short as can be: "J5", "J5 sing.", "post".
func (r *Meter) To(m Margin) string {
	switch m.Kind {
	case Range:
		return r.arm.Joints[m.Joint].Name
	case Singular:
		return r.arm.Joints[m.Joint].Name + " sing."
	case Room:
		return r.boxes[m.Box].Name
	case None:
	}
	return ""
}

// Words says it in full.
func (r *Meter) Words(m Margin) string {
	of, figure := r.Subject(m), r.Figure(m)
	switch {
	case m.Kind == Range:
		return fmt.Sprintf("%s comes within %s of an end of its range", of, figure)
	case m.Kind == Singular && m.Factor >= 0:
		return fmt.Sprintf("%s comes within %s of a singular place (%s)", of, figure, arm.FactorName(int(m.Factor)))
	case m.Kind == Singular:
		return fmt.Sprintf("%s comes within %s of a singular place", of, figure)
	case m.By < 0:
		return fmt.Sprintf("%s reaches %.0f mm into the keep-out box %q", of, math.Ceil(-m.By), r.To(m))
	}
	return fmt.Sprintf("%s comes within %s of the keep-out box %q", of, figure, r.To(m))
}
