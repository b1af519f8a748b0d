package timing

import (
	"cmp"
	"fmt"
	"math"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/plan/wording"
)

// Joints is an arm, as far as it limits how fast a motion goes. All joints go evenly from their readings
// before a motion to those behind it, on its one time law; so the one that needs longest slows the
// others down, and a motion takes at least as long as each of its joints does alone.
type Joints struct {
	Arm *arm.Arm
	// Degrees or mm, per s and s²; 0 is not known, and not limited.
	Speeds, Accelerations [arm.MaxJoints]float64
	// Lead says that travels go as the joints do; otherwise they are lines, on which joints going evenly is
	// as near as can be said without following them.
	Lead bool
}

// take says how far each joint goes and, where the joints lead, how far the TCP goes with them.
func (j *Joints) take(l *leg, from *Stand, to *move.Move) {
	for i := range l.joints {
		if d := to.Joints[i] - from.Reads[i]; math.Abs(d) >= hair {
			l.joints[i] = d
		}
	}
	if j.Lead && to.Kind == move.Travel && !l.still() {
		l.length = max(l.length, j.arc(l.length, from, to))
	}
}

// arc is how long the TCP's way is while all joints go evenly: by its ends and its middle, as Huygens has
// the length of an arc (De circuli magnitudine inventa, 1654; from memory), which lacks a thousandth of a quarter
// of a circle.
func (j *Joints) arc(chord float64, from *Stand, to *move.Move) float64 {
	tcp := j.Arm.Pose(*to.Joints).Inverse().Mul(geom.At(to.Base.Vec, to.Base.RPY))
	var half arm.Readings
	for i := range half {
		half[i] = (from.Reads[i] + to.Joints[i]) / 2
	}
	middle := j.Arm.Pose(half).Mul(tcp).T
	if halves := from.TCP.Dist(middle) + middle.Dist(to.Base.Vec); halves >= hair {
		return (4*halves - chord) / 3
	}
	return 0
}

// alone is the limits of one joint, along a way on which it goes so far.
func (j *Joints) alone(joint int, way, far float64) Limits {
	per := way / math.Abs(far)
	return Limits{Speed: j.Speeds[joint] * per, Acceleration: j.Accelerations[joint] * per}
}

// hold lowers a leg's limits to those of its joints, and names the joint that would need longest alone, where that is
// longer than the leg takes without joints.
func (j *Joints) hold(l *leg) {
	way, free := l.way(), l.limits
	longest := Between(way, 0, 0, free).Seconds()
	for i, far := range l.joints {
		if far == 0 {
			continue
		}
		one := j.alone(i, way, far)
		one.Speed = cmp.Or(one.Speed, free.Speed) // of a joint whose own is not known
		l.limits.Speed, l.limits.Acceleration = lower(l.limits.Speed, one.Speed), lower(l.limits.Acceleration, one.Acceleration)
		if seconds := Between(way, 0, 0, one).Seconds(); slower(seconds, longest) {
			longest, l.slowest = seconds, i+1
		}
	}
}

// bends is how long the joints need, at the speeds at which a fly-by is entered and left, to come from one leg's pace to
// the other's. The change of pace is bounded by what it is at the lower speed and what the faster leg
// has beyond that, so that it grows with the speeds.
func (j *Joints) bends(a, b *leg, in, out float64) (seconds float64) {
	for i, most := range j.Accelerations {
		if most == 0 {
			continue
		}
		before, after := a.joints[i]/a.length, b.joints[i]/b.length
		faster := before
		if out > in {
			faster = after
		}
		change := float64(math.Abs(after-before)*min(in, out)) + float64(math.Abs(faster)*math.Abs(out-in))
		seconds = max(seconds, change/most)
	}
	return seconds
}

// assumed says in words how joints limit motions, and which ones do not.
func (j *Joints) assumed() (said []string) {
	if j == nil {
		return nil
	}
	said = append(said, "no motion is quicker than a joint that goes from its reading before it to the one behind it, by its own speed and acceleration: a trapezoid or a triangle, and all joints keep pace with the one that needs longest")
	for _, more := range []struct {
		what string
		of   *[arm.MaxJoints]float64
	}{{"speed", &j.Speeds}, {"acceleration", &j.Accelerations}} {
		var names []string
		for i := range j.Arm.Joints {
			if more.of[i] == 0 {
				names = append(names, j.Arm.Joints[i].Name)
			}
		}
		if len(names) > 0 {
			said = append(said, fmt.Sprintf("the cell does not say the %s of %s, which is not limited", more.what, wording.List(names, arm.MaxJoints)))
		}
	}
	return said
}
