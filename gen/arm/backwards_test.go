package arm

import "testing"

// Arms with a spherical shoulder, and with axes 3, 4, 5 parallel, are solved in closed form too.
func TestBackwardsFindAll(t *testing.T) {
	for i, make := range []func(dice, testing.TB) *Arm{dice.spherical, dice.parallels} {
		findsAll(t, uint64(400+i), 8, func(d dice, t testing.TB) *Arm {
			for {
				b := make(d, t).backwards()
				a, err := New(b.Joints, b.Flange)
				if err != nil {
					continue // two of its axes are next to one; how nearly, the base and the flange judge differently
				}
				if _, is := a.solver.(turnedRound); is {
					return a
				} // else it has a closed form as it is
			}
		})
	}
}
