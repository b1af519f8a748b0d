package joints

import (
	"math"

	"gridferry/gen/arm"
	"gridferry/gen/layout"
	"gridferry/gen/move"
)

// Reason says why the arm cannot end a motion as it would have to.
type Reason struct {
	// Solutions is how many sets of readings lead there, whatever the ranges; with none, the arm does not
	// get there at all.
	Solutions int
	// Tilt is how far the orientation is off the nearest that the arm can turn to, degrees; more than MostTilt is too much.
	Tilt float64
	// Others is the configurations in which it could, inside all ranges, but which the plan or the
	// motion before does not admit; as words, in their order.
	Others []string
	// Where there are no others: the joint that would have to leave its range, of the solution that leaves them
	// least, the reading that it would have to take, and how far that is outside: degrees or mm.
	Joint   *arm.Joint
	Reading float64
	Beyond  float64
}

// Asker looks for reasons.
type Asker struct{ *bench }

// NewAsker is for a layout that has an arm.
func NewAsker(l *layout.Layout) Asker { return Asker{newBench(l)} }

// Why looks for the reason that a motion got no joints.
func (b Asker) Why(m *move.Move) Reason {
	at := spotOf(m)
	found := b.solve(&at, arm.Readings{}, false, nil)
	why := Reason{Solutions: len(found), Beyond: math.Inf(1)}
	_, why.Tilt = b.flange(&at, arm.Readings{})
	if r := b.given(m); r != nil { // no others count
		words, _ := b.arm.Configuration(*r)
		why.Others = []string{words.String()}
		return why
	}
	seen := map[string]bool{}
	for i := range found {
		r := &found[i].Readings
		if in, ok := b.arm.InRange(*r, arm.Readings{}); ok {
			if words, _ := b.arm.Configuration(in); !seen[words.String()] {
				seen[words.String()] = true
				why.Others = append(why.Others, words.String())
			}
			continue
		}
		if joint, beyond := b.worst(r); beyond < why.Beyond {
			why.Joint, why.Reading, why.Beyond = &b.arm.Joints[joint], r[joint], beyond
		}
	}
	return why
}

// worst is the joint that lies furthest outside of its range.
func (b *bench) worst(r *arm.Readings) (joint int, beyond float64) {
	for i := range b.arm.Joints {
		if out := b.arm.Joints[i].Beyond(r[i]); out > beyond {
			joint, beyond = i, out
		}
	}
	return joint, beyond
}
