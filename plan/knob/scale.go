package knob

import (
	"math"

	"gridferry/plan/decode"
	"gridferry/plan/unit"
)

// scale is how a figure is turned: by steps that a person sees, over a range in which a sensible value
// lies. The bounds are those of the table of keys; the rest is a choice of ours.

// steps are what one turn does, in the internal unit.
var steps = map[unit.Dimension]float64{
	unit.Length: 1, unit.Angle: 1, unit.Time: 0.1, unit.Mass: 0.01, unit.Speed: 5, unit.Acceleration: 50, unit.Jerk: 500,
	unit.AngularSpeed: 5, unit.AngularAcceleration: 50, unit.Moment: 0.1, unit.Inertia: 0.001,
}

// around is how many steps a figure that may have either sign goes to each side, at least.
const around = 50

// smallest is the least step, in any unit.
const smallest = 1e-5

// scale sets the range and the step, false where the unit is not one of the figure's.
func (k *Knob) scale(of decode.Figure) bool {
	one := 1.0 // of the unit, in the internal one
	k.Step = 1
	if !of.Whole {
		var err error
		if one, err = unit.Parse("1 "+k.Unit, of.Dimension); err != nil {
			return false
		}
		k.Step = nice(steps[of.Dimension] / one)
		for decimals(k.Text) > decimals(k.Worded(k.Step)) && k.Step > smallest && k.Step*20 > math.Abs(k.Value) {
			k.Step /= 10
		}
	}
	least, exclusive, bounded := of.Least()
	least /= one
	for exclusive && k.Step > k.Value/2 && k.Step > smallest {
		k.Step /= 10
	}
	switch far := math.Max(math.Abs(k.Value)/2, around*k.Step); {
	case !bounded && of.Dimension == unit.Angle && math.Abs(k.Value) <= 180/one:
		k.Least, k.Most = -180/one, 180/one
	case !bounded:
		k.Least, k.Most = k.Value-far, k.Value+far
	default:
		if exclusive {
			least += k.Step
		}
		k.Least, k.Most = math.Min(least, k.Value), math.Max(2*k.Value, k.Value+10*k.Step)
	}
	if of.Whole {
		k.Most = math.Min(k.Most, float64(of.High))
	}
	k.onSteps()
	return true
}

// onSteps brings both ends to whole steps from the value, so that the value is one that can be turned to.
func (k *Knob) onSteps() {
	below := math.Floor((k.Value-k.Least)/k.Step + 1e-9)
	above := math.Floor((k.Most-k.Value)/k.Step + 1e-9)
	k.Least = rounded(k.Value - below*k.Step)
	k.Most = rounded(k.Value + above*k.Step)
	k.Step = rounded(k.Step)
}

// rounded takes off what binary fractions add to decimals.
func rounded(v float64) float64 { return math.Round(v*1e6) / 1e6 } // as many decimals as are written

// nice is the nearest of 1, 2 and 5 times a power of ten that is not more, from the smallest on.
func nice(v float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(v)+1e-9))
	for _, by := range []float64{5, 2} {
		if by*power <= v*(1+1e-9) {
			return math.Max(rounded(by*power), smallest)
		}
	}
	return math.Max(rounded(power), smallest)
}

// decimals is how many digits stand behind the decimal point.
func decimals(text string) int {
	for i := range text {
		if text[i] == '.' {
			return len(text) - i - 1
		}
	}
	return 0
}
