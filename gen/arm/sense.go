package arm

import (
	"math"
)

// sense is what is known of the arm on a line, at one place of it. The unit of joints that turn is a radian, that of those that
// slide the arm's length.
type sense struct {
	regular bool
	rate    [MaxJoints]float64 // of the readings, for the whole line
	// bends bounds E for small δ: row by row and column by column, for each joint.
	bends [MaxJoints][MaxJoints][MaxJoints]float64
	// curves bounds what E has beyond that: for half the square of the sum of |δ|.
	curves [MaxJoints][MaxJoints]float64
	// linear and turn are how long the parts of A's rows are.
	linear, turn [MaxJoints]float64
	// shears is E to first order where the readings change as they do here, for the whole line, and bow how their rate changes with that.
	shears [MaxJoints][MaxJoints]float64
	// leans is E·q₀′ to first order, column by column for each joint.
	leans [MaxJoints][MaxJoints]float64
	bow   [MaxJoints]float64
}

// sense looks at the arm at its readings.
func (f *Follower) sense(here *sense, r *Readings, l *Line) {
	a := &f.arm
	_, columns := a.stance(r)
	perLength := 1 / a.length
	for i := range a.Joints {
		if !a.Joints[i].Slides {
			columns[i].Linear = columns[i].Linear.Scale(perLength)
		}
	}
	inverse, regular := inverted(columns[:len(a.Joints)])
	here.regular = regular
	way, turn := l.Way.Scale(perLength), l.Turn.Scale(math.Pi/180)
	for i := range a.Joints {
		here.rate[i] = inverse[i].Linear.Dot(way) + inverse[i].Turn.Dot(turn)
	}
	here.shears, here.leans, here.bow = [MaxJoints][MaxJoints]float64{}, [MaxJoints][MaxJoints]float64{}, [MaxJoints]float64{}
	for k := range a.Joints {
		for j := range a.Joints {
			bend := bending(columns[:], a.Joints, k, j)
			for i := range a.Joints {
				row := &inverse[i]
				bent := row.Linear.Dot(bend.Linear) + row.Turn.Dot(bend.Turn)
				here.bends[i][k][j] = math.Abs(bent)
				here.shears[i][k] += float64(bent * here.rate[j])
				here.leans[i][j] += float64(bent * here.rate[k])
			}
		}
		for i := range a.Joints {
			here.bow[i] -= float64(here.shears[i][k] * here.rate[k])
		}
	}
	for i := range a.Joints {
		row := &inverse[i]
		here.linear[i], here.turn[i] = row.Linear.Norm(), row.Turn.Norm()
		for k := range a.Joints {
			here.curves[i][k] = float64(here.linear[i]*f.behind[k]) + here.turn[i]
		}
	}
}

// bending is how column k of the Jacobian changes with joint j.
func bending(columns []Twist, joints []Joint, k, j int) (t Twist) {
	first, last := min(j, k), max(j, k)
	if !joints[first].Slides { // a joint that slides turns nothing
		t.Linear = columns[first].Turn.Cross(columns[last].Linear)
		if j < k && !joints[k].Slides {
			t.Turn = columns[j].Turn.Cross(columns[k].Turn)
		}
	}
	return t
}

// inverted is the inverse of a Jacobian, by least squares where it has fewer than six columns: a row for each joint,
// to be multiplied with a way and a turn. It is false where the arm is singular.
func inverted(columns []Twist) (rows [MaxJoints]Twist, regular bool) {
	var m system // JᵀJ, and beside it what becomes its inverse
	n := len(columns)
	for i := range columns {
		for k := range columns {
			m[i][k] = columns[i].Linear.Dot(columns[k].Linear) + columns[i].Turn.Dot(columns[k].Turn)
		}
		m[i][n+i] = 1
	}
	if !(m.reduce(n, 2*n) >= 1e-12) { // or not a number
		return rows, false
	}
	for i := range n {
		for k := range columns {
			times := m[i][n+k] / m[i][i]
			rows[i].Linear = rows[i].Linear.Add(columns[k].Linear.Scale(times))
			rows[i].Turn = rows[i].Turn.Add(columns[k].Turn.Scale(times))
		}
	}
	return rows, true
}

// prove works out how fast each reading can change on a stretch; false if that is not certain.
func (f *Follower) prove(here *sense, s *Stretch) bool {
	const wider = 1.1
	n, length := len(f.arm.Joints), s.To-s.From
	var most, off [MaxJoints]float64
	fastest := 0.0
	for i := range n {
		fastest = max(fastest, math.Abs(here.rate[i]))
	}
	for i := range n {
		most[i] = float64(wider*math.Abs(here.rate[i])) + float64(hardly*fastest) + hardly
	}
	for range 4 {
		off = here.change(n, length, &most)
		proved := true
		for i := range n {
			bound := math.Abs(here.rate[i]) + off[i] + float64(hardly*fastest)
			proved = proved && bound < most[i]
			if bound >= most[i] {
				most[i] = float64(wider*bound) + hardly
			}
		}
		if proved {
			f.tell(here, &off, s)
			return true
		}
	}
	return false
}

// change bounds |E|·G: by how much the pace of each joint can change on a stretch on which no pace is more than most.
func (here *sense) change(n int, length float64, most *[MaxJoints]float64) (off [MaxJoints]float64) {
	sum := 0.0
	for j := range n {
		sum += float64(most[j] * length)
	}
	half := float64(sum*sum) / 2
	for i := range n {
		for k := range n {
			e := float64(here.curves[i][k] * half)
			for j := range n {
				e += float64(here.bends[i][k][j] * most[j] * length)
			}
			off[i] += float64(e * most[k])
		}
	}
	return off
}

// stride works out the same with the signs of δ, which is t·q₀′ + ε after a time t, where |ε| ≤ t·Off. So E is t·S + X: S is the sum of all
// bends times their rates, in which much cancels out, and X has what bends with ε, as in change, and what is of the second order. Of X·q₀′, too, what
// bends with ε is summed up with its signs: leans. As
//
//	|q′ - q₀′| = |E·q₀′ + E·(q′ - q₀′)| ≤ t·|S·q₀′| + |X·q₀′| + (t·|S| + |X|)·Off,
//
// no pace can have gone off by Off where that is less, and nor can the arm have been singular, because |E|·Off < Off.
func (f *Follower) stride(here *sense, s *Stretch) bool {
	const likely, shorter, tries = 1.1, 0.75, 4
	bent := hardly
	for i := range f.arm.Joints {
		for k := range f.arm.Joints {
			bent += math.Abs(here.shears[i][k]) + math.Abs(here.leans[i][k])
		}
	}
	// Where no longer stretch could be proved of some approaches, that was 1.1 to 1.3.
	length := s.To - s.From
	length /= math.Ceil(length * bent / likely)
	for n := 0; n < tries && length >= shortest/2; n++ {
		if off, ok := f.drifts(here, length); ok {
			s.To = s.From + length
			f.tell(here, &off, s)
			return true
		}
		length *= shorter
	}
	return false
}

// hardly is what a pace is off at least.
const hardly = 1e-9

// drifts works out by how much the pace of each joint can come off; false if that is not certain.
func (f *Follower) drifts(here *sense, length float64) (off [MaxJoints]float64, ok bool) {
	const wider, rounds, hopeless = 1.1, 12, 2
	fastest := 0.0
	for i := range f.arm.Joints {
		off[i] = float64(wider*length*math.Abs(here.bow[i])) + hardly
		fastest = max(fastest, math.Abs(here.rate[i]))
	}
	for range rounds {
		next, proved := f.drift(here, length, &off), true
		for i := range f.arm.Joints {
			bound := next[i] + hardly/2
			if !(bound <= hopeless*fastest+hardly) { // or not a number
				return off, false
			}
			if !(bound < off[i]) {
				proved, off[i] = false, float64(wider*bound)+hardly
			}
		}
		if proved {
			return off, true
		}
	}
	return off, false
}

// drift bounds by how much the pace of each joint can come off, where it is no more than off.
func (f *Follower) drift(here *sense, length float64, off *[MaxJoints]float64) (drift [MaxJoints]float64) {
	n := len(f.arm.Joints)
	var most, way [MaxJoints]float64 // of δ, and of ε
	for j := range n {
		way[j] = float64(off[j] * length)
		most[j] = float64(math.Abs(here.rate[j])*length) + way[j]
	}
	turned := 0.0
	for k := range n {
		linear, turn := f.second(&most, k, n), float64(turned*turned)
		turned += most[k]
		for i := range n {
			x := float64((float64(here.linear[i]*linear) + float64(here.turn[i]*turn)) / 2)
			drift[i] += float64(x * math.Abs(here.rate[k]))
			bends := here.bends[i][k][:n]
			for j, bend := range bends {
				x += float64(bend * way[j])
			}
			drift[i] += float64((x+float64(length*math.Abs(here.shears[i][k])))*off[k]) + float64(math.Abs(here.leans[i][k])*way[k])
		}
	}
	for i := range n {
		drift[i] += float64(length * math.Abs(here.bow[i]))
	}
	return drift
}

// second bounds the second derivatives of the way of joint k, in all: each is such a way about the outermost of the joints. Its axis is turned by the
// joints before it alone.
func (f *Follower) second(most *[MaxJoints]float64, k, n int) (sum float64) {
	before := 0.0
	for j := range n {
		sum += float64(f.far[max(j, k)] * most[j] * (most[j] + 2*before))
		before += most[j]
	}
	return sum
}

// tell writes what was proved, in degrees and mm.
func (f *Follower) tell(here *sense, off *[MaxJoints]float64, s *Stretch) {
	for i := range f.arm.Joints {
		unit := 180 / math.Pi
		if f.arm.Joints[i].Slides {
			unit = f.arm.length
		}
		s.Rate[i], s.Off[i] = float64(here.rate[i]*unit), float64(off[i]*unit)
	}
}
