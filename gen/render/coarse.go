package render

import (
	"strconv"

	"gridferry/gen/family/rules"
	"gridferry/plan/wording"
)

// tooCoarse reports which decimals do not do, each at its place in the family.
func (p *program) tooCoarse() {
	r, most := p.rounding, p.family.Tolerance
	far, leans := r.position.off > most.Position+noise, r.orientation.off > most.Orientation+noise
	byLengths, byAngles := r.position.apart[lengthFigures], r.position.apart[angleFigures]
	if far && (byLengths >= byAngles || byLengths > most.Position) {
		p.coarse(rules.Length, r.position.what, millimetres(r.position.off), millimetres(most.Position), func(decimals int) bool {
			return r.poses()*r.lengthsOf(decimals) <= left(most.Position, byAngles)
		})
	}
	anglesDo := func(decimals int) bool {
		angles := r.poses() * r.anglesOf(decimals)
		return angles <= most.Orientation && swing(angles, r.reach) <= left(most.Position, byLengths)
	}
	switch {
	case leans:
		p.coarse(r.turnFigure(), r.orientation.what, degrees(r.orientation.off), degrees(most.Orientation), anglesDo)
	case far && (byAngles > byLengths || byAngles > most.Position):
		p.coarse(r.turnFigure(), r.position.what, millimetres(r.position.off), millimetres(most.Position), anglesDo)
	}
}

// left is what is left of a tolerance beside other figures: half of it at least, since they
// are reported themselves where they take more.
func left(tolerance, others float64) float64 { return tolerance - min(others, tolerance/2) }

var figureWords = map[rules.Quantity]struct{ key, are string }{
	rules.Length:    {"length", "lengths"},
	rules.Angle:     {"angle", "angles"},
	rules.Component: {"quaternion", "the components of quaternions"},
}

// coarse reports the decimals of one quantity, with the pose that they take furthest off.
func (p *program) coarse(q rules.Quantity, what, off, most string, do func(decimals int) bool) {
	now, at := p.family.Decimals.Of(q), p.family.DecimalsAt[q]
	if at.IsZero() { // those of quaternions need not be given
		at = p.family.DecimalsAt[rules.Angle]
	}
	words := figureWords[q]
	f := p.found.errorf(ruleCoarse, at, "", "with %s, %s%s take %s %s off where the plan has it, and the tolerance is %s",
		wording.Count(now, "decimal"), words.are, inUnit(p.family.Units[q].Name), what, off, most)
	for decimals := now + 1; decimals <= rules.MostDecimals; decimals++ {
		if do(decimals) {
			f.WithHint("write \"%s: %d\" under \"decimals\" (frames and tools are rounded, too), or say under \"tolerance\" how far off a pose may be", words.key, decimals)
			return
		}
	}
	f.WithHint("no decimals do: say under \"tolerance\" how far off a pose may be")
}

func inUnit(unit string) string {
	if unit == "" {
		return ""
	}
	return " in " + unit
}

func millimetres(v float64) string { return short(v) + " mm" }
func degrees(v float64) string     { return short(v) + " degrees" }

// short is a figure as messages show it, with four digits.
func short(v float64) string { return strconv.FormatFloat(v, 'g', 4, 64) }
