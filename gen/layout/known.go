package layout

import (
	"fmt"
	"math"
	"strings"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// known holds the arm to the readings that were taken of it.
func (r *resolver) known(a *Arm) {
	refused := false
	for _, k := range r.cell.Arm.Known {
		pose, ok := r.pose(k.Pose, geom.IdentityRot())
		if !ok || k.Readings == nil || !k.Pose.RPY.IsSet() && !k.Pose.Quaternion.IsSet() {
			refused = true
			continue
		}
		a.Known = append(a.Known, Known{Place: k.Place, Readings: readings(k.Readings), Pose: pose})
	}
	if off := a.off(); off > 0 {
		r.knownOff(a, off, refused)
	}
}

func readings(written []plan.Real) (all arm.Readings) {
	for i, v := range written {
		all[i] = v.V
	}
	return all
}

// off works out how far each known pose is off, and how many are by more than the tolerance.
func (a *Arm) off() (many int) {
	for i := range a.Known {
		k := &a.Known[i]
		if k.Way, k.Turn = arm.Off(a.Pose(k.Readings), k.Pose); !a.agrees(k.Way, k.Turn) {
			many++
		}
	}
	return many
}

func (a *Arm) agrees(way, turn float64) bool { return way <= a.Tolerance && turn <= a.Turned }

// knownOff reports the readings that are off. Where one joint explains all of them that is one finding, else
// each may have a reason of its own.
func (r *resolver) knownOff(a *Arm, off int, refused bool) {
	var found []suspect
	if !refused {
		found = a.suspects()
	}
	var first *diag.Finding
	for i := range a.Known {
		k := &a.Known[i]
		switch {
		case a.agrees(k.Way, k.Turn):
			continue
		case first != nil && found != nil:
			first.WithNote(k.Place, "by these they are %s mm and %s° apart", visible(k.Way), visible(k.Turn))
			continue
		}
		first = r.list.Errorf("known-off", k.Place, "by these readings the flange is %s mm and %s° off the known pose, at most %g mm and %g° may be; %d of %d known poses are off",
			visible(k.Way), visible(k.Turn), a.Tolerance, a.Turned, off, len(a.Known)).
			WithHint("read joints and pose off the controller again, with no tool and no frame of the user selected, or correct what the cell says of the joints")
		if found != nil {
			first.WithHint("%s", told(found, len(a.Known)))
		}
	}
}

// visible is a figure without what is only left over from working it out.
func visible(v float64) string { return fmt.Sprintf("%.4g", math.Round(v*1e6)/1e6) }

// told is what may be wrong, in words.
func told(found []suspect, known int) string {
	words := make([]string, len(found))
	for i := range found {
		words[i] = found[i].words
	}
	const most = 4
	if n := len(words); n > most {
		words = append(words[:most], fmt.Sprintf("or one of %d others", n-most))
	}
	text := strings.Join(words, "; or ")
	switch {
	case len(found) > 1:
		text += "; known poses with other readings of these joints would tell which"
	case known == 1:
		text += "; a second known pose would tell whether that is so"
	}
	return text
}

// suspect is one joint that would make all known poses agree, were it otherwise.
type suspect struct {
	joint int
	words string
}

// suspects tries each joint turned round, with another zero, both, and not moving at all. What a simpler
// change of the same joint explains, a further one does not say again.
func (a *Arm) suspects() []suspect {
	var found []suspect
	for i := range a.Joints {
		for _, t := range trials {
			zero, ok := a.fits(i, t)
			if !ok {
				continue
			}
			found = append(found, suspect{i, t.words(a.cellWords(i), zero)})
			break
		}
		if n := len(found); n > 0 && found[n-1].joint == i {
			continue
		}
		if words, ok := a.alone(i); ok {
			found = append(found, suspect{i, words})
		}
	}
	return found
}

// trial is what a joint may do with its reading: it counts so many times, from a zero that is
// elsewhere or not.
type trial struct {
	times   float64
	shifted bool
	words   func(j jointWords, zero float64) string
}

var trials = []trial{
	{-1, false, func(j jointWords, _ float64) string {
		return fmt.Sprintf("the sign of %s is the other way round: %s", j.name, j.reversed)
	}},
	{1, true, func(j jointWords, zero float64) string {
		return fmt.Sprintf("the zero of %s is %s off: where it reads 0, the arm itself stands as the cell has it at %s%s", j.name, j.figure(math.Abs(zero)), j.figure(zero), j.shifted(zero))
	}},
	{-1, true, func(j jointWords, zero float64) string {
		return fmt.Sprintf("the sign of %s is the other way round, and its zero is off: where it reads 0, the arm itself stands as the cell has it at %s", j.name, j.figure(zero))
	}},
	{0, true, func(j jointWords, zero float64) string {
		return fmt.Sprintf("all agree if %s stood still at %s: was the reading of another joint written in its place?", j.name, j.figure(zero))
	}},
}

// fits reports whether all known poses agree when joint i counts as a trial says, and from where: the
// zero is the least squares of all.
func (a *Arm) fits(i int, t trial) (zero float64, ok bool) {
	if t.shifted {
		zero = a.zeroOf(i, t.times)
	}
	for _, k := range a.Known {
		k.Readings[i] = float64(t.times*k.Readings[i]) + zero
		if !a.agrees(arm.Off(a.Pose(k.Readings), k.Pose)) {
			return 0, false
		}
	}
	return zero, true
}

// alone reports whether all known poses agree where each has another reading of joint i, and says
// which.
func (a *Arm) alone(i int) (words string, ok bool) {
	if len(a.Known) < 2 {
		return "", false // of one pose that is a zero elsewhere
	}
	j := a.cellWords(i)
	var all []string
	for _, k := range a.Known {
		one := Arm{Arm: a.Arm, Known: []Known{k}, Tolerance: a.Tolerance, Turned: a.Turned}
		value, fits := one.fits(i, trial{times: 0, shifted: true})
		if !fits {
			return "", false
		}
		all = append(all, j.figure(value))
	}
	const most = 6
	if n := len(all); n > most {
		all = append(all[:most], "…")
	}
	return fmt.Sprintf("all agree if %s had read %s: its readings, or how it hangs together with the other joints, are not as the cell says", j.name, strings.Join(all, ", ")), true
}

// zeroOf is where joint i has to count from, so that the known poses are off by the least sum of
// squares, ways weighed by the tolerance of ways and turns by that of turns. For a joint that turns,
// each square is a constant less C·cos v + S·sin v of its reading v; for one that slides it is a parabola.
func (a *Arm) zeroOf(i int, times float64) float64 {
	j := &a.Joints[i]
	var cosine, sine, sum float64
	for _, k := range a.Known {
		before, behind := a.around(i, k.Readings)
		want := before.Inverse().Mul(k.Pose) // behind, moved by the joint
		v := float64(times * k.Readings[i])
		if j.Slides {
			sum += want.T.Sub(behind.T).Dot(j.Axis) - v
			continue
		}
		c, s := weighed(j, &behind, &want, a.Tolerance, a.Turned*(math.Pi/180))
		sv, cv := geom.SinCos(v)
		cosine += float64(c*cv) + float64(s*sv)
		sine += float64(s*cv) - float64(c*sv)
	}
	if j.Slides {
		return sum / float64(len(a.Known))
	}
	return geom.Atan2(sine, cosine)
}

// around is what stands before joint i, and the flange behind it, with that joint at 0.
func (a *Arm) around(i int, r arm.Readings) (before, behind geom.Pose) {
	var front arm.Readings
	copy(front[:i], r[:i])
	before = a.Pose(front).Mul(a.Flange.Inverse())
	r[i] = 0
	return before, before.Inverse().Mul(a.Pose(r))
}

// weighed is C and S for one pose: how much nearer behind comes to want as the joint turns.
func weighed(j *arm.Joint, behind, want *geom.Pose, way, turn float64) (c, s float64) {
	from, to := behind.T.Sub(j.Point), want.T.Sub(j.Point)
	along := j.Axis.Dot(from)
	across := to.Sub(j.Axis.Scale(j.Axis.Dot(to)))
	from = from.Sub(j.Axis.Scale(along))
	c, s = 2*from.Dot(across)/(way*way), 2*j.Axis.Dot(from.Cross(across))/(way*way)
	q := want.R.Mul(behind.R.T())
	trace := q[0][0] + q[1][1] + q[2][2]
	c += (trace - j.Axis.Dot(q.Apply(j.Axis))) / (turn * turn)
	s += j.Axis.Dot(geom.Vec{X: q[2][1] - q[1][2], Y: q[0][2] - q[2][0], Z: q[1][0] - q[0][1]}) / (turn * turn)
	return c, s
}
