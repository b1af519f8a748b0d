package check

import (
	"bufio"
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/golden/outside"
	"gridferry/plan/diag"
)

// benchArm is an arm of invented dimensions with round and square links and a box for its tool.
func benchArm() *layout.Arm {
	joint := func(axis geom.Vec, x, z float64) arm.Joint {
		return arm.Joint{Name: "J", Axis: axis, Point: geom.Vec{X: x, Z: z}, Lo: -180, Hi: 180}
	}
	x, y, z := geom.Vec{X: 1}, geom.Vec{Y: 1}, geom.Vec{Z: 1}
	a, err := arm.New([]arm.Joint{joint(z, 0, 0), joint(y, 60, 300), joint(y, 60, 620), joint(x, 60, 660), joint(y, 400, 660), joint(x, 400, 660)},
		geom.At(geom.Vec{X: 480, Z: 660}, geom.RPY{Pitch: 90}))
	if err != nil {
		panic(err)
	}
	capsule := func(x, z, toX, toZ, radius float64) layout.LinkShape {
		return layout.LinkShape{From: geom.Vec{X: x, Z: z}, To: geom.Vec{X: toX, Z: toZ}, Radius: radius}
	}
	box := func(x, z float64, half geom.Vec) layout.LinkShape {
		return layout.LinkShape{At: geom.Pose{R: geom.IdentityRot(), T: geom.Vec{X: x, Z: z}}, Half: half}
	}
	return &layout.Arm{Arm: a, Shapes: [][]layout.LinkShape{
		nil, {box(20, 220, geom.Vec{X: 70, Y: 60, Z: 90})}, {capsule(60, 300, 60, 620, 50)}, {capsule(60, 660, 200, 660, 45)},
		{capsule(200, 660, 380, 660, 35)}, nil, {box(540, 660, geom.Vec{X: 60, Y: 15, Z: 40})},
	}}
}

// TestWaysAgreeWithFCL holds ways of the joints, lines and corners, among boxes that stand anyhow, to the Flexible Collision Library
// (J. Pan, S. Chitta, D. Manocha, ICRA 2012), which looks closely at all of them: whatever it finds with limbs that are 1 mm smaller
// all around is found, and what is found collides in its eyes, too. GRIDFERRY_WAYS says how many of each; 2,000 take some minutes.
func TestWaysAgreeWithFCL(t *testing.T) {
	t.Parallel()
	outside.Short(t)
	q := &question{a: benchArm(), cases: 24, r: rand.New(rand.NewPCG(31, 7))}
	if n, err := strconv.Atoi(os.Getenv("GRIDFERRY_WAYS")); err == nil {
		q.cases = n
	}
	for range q.cases {
		q.way()
	}
	for range q.cases {
		q.line()
	}
	for range q.cases {
		q.corner(t)
	}
	answers := bufio.NewScanner(bytes.NewReader(outside.Cpp(t, "libfcl-dev", "fcl/config.h", "testdata/ways.cpp", q.text.Bytes(), "-lfcl", "-lccd")))
	answers.Scan()
	t.Log(answers.Text())
	for i, kind := range []string{"way", "line", "corner"} {
		q.judge(t, kind, q.hits[i*q.cases:][:q.cases], answers)
	}
}

// way asks about a way of the joints, looked at every 0.05 degrees.
func (q *question) way() {
	from, to := q.readings(90), q.readings(90)
	l := q.among(3, geom.Vec{Z: 500}, 550)
	look := lookAt(l)
	look.way(&from, &to)
	q.ask(l, [][3]arm.Readings{{from, to, to}}, 0.05, look.hit)
}

// line asks about a straight line, by readings every half millimetre.
func (q *question) line() {
	const apart = 0.5
	for {
		from := q.readings(100)
		tcp := q.a.Pose(from)
		way := arm.Line{From: tcp, Way: q.vec(200)}
		l := q.among(3, tcp.T.Scale(0.7), 250)
		l.Tools = []*layout.Tool{{TCP: geom.Identity}}
		look := lookAt(l)
		var on [][3]arm.Readings
		last, all := from, spread{from, from}
		end, came := look.w.c.follower(1).Follow(&way, from, from, func(p *arm.Stretch) bool {
			if (p.To-p.From)*way.Way.Norm() > apart {
				return false
			}
			on, last = append(on, [3]arm.Readings{last, p.At, p.At}), p.At
			all.widen(look.w.a, p)
			return true
		})
		if came < 1 {
			continue // the arm does not get there on a line
		}
		look.s.From, look.s.To = Station{At: tcp.T, Turn: tcp.R, Joints: &from}, Station{At: tcp.T.Add(way.Way), Turn: tcp.R, Joints: &end}
		look.s.sound = &soundLine{spread: all}
		look.line(&move.Move{ToolNumber: 1})
		q.ask(l, append(on, [3]arm.Readings{last, end, end}), 0.1, look.hit)
		return
	}
}

// corner asks about all means of three readings, looked at every tenth of a degree.
func (q *question) corner(t *testing.T) {
	at := q.readings(100)
	before, after := at, at
	for i := range q.a.Joints {
		before[i], after[i] = before[i]+q.between(-4, 4), after[i]+q.between(-4, 4)
	}
	l := q.among(3, q.a.Pose(at).T.Scale(0.7), 250)
	look := lookAt(l)
	if p := look.w.space(look.s, allLimbs); !p.corner(&before, &at, &after, 0) {
		look.triangle(&before, &at, &after)
	}
	if look.hit != nil && !isMean(&look.hit.at, &before, &at, &after) {
		t.Errorf("the readings %v are no mean of %v, %v and %v", look.hit.at, before, at, after)
	}
	q.ask(l, [][3]arm.Readings{{at, before, after}}, 0.1, look.hit)
}

// isMean says whether some readings are a mean of three others: their shares add up to 1, and none is below 0.
func isMean(r, a, b, c *arm.Readings) bool {
	dot := func(from, to, other *arm.Readings) (sum float64) {
		for i := range from {
			sum += (to[i] - from[i]) * (other[i] - from[i])
		}
		return sum
	}
	bb, cc, bc, rb, rc := dot(a, b, b), dot(a, c, c), dot(a, b, c), dot(a, r, b), dot(a, r, c)
	det := bb*cc - bc*bc
	u, v := (rb*cc-rc*bc)/det, (rc*bb-rb*bc)/det
	off := 0.0
	for i := range r {
		off = max(off, math.Abs(r[i]-a[i]-u*(b[i]-a[i])-v*(c[i]-a[i])))
	}
	const rounding = 1e-9
	return off < rounding && u > -rounding && v > -rounding && u+v < 1+rounding
}

// lookAt looks at the arm among the boxes of a layout.
func lookAt(l *layout.Layout) look {
	c := newContext(l, new(diag.List))
	return look{w: newArmWatcher(c), s: &Scene{effort: c.effort}}
}

// question is what testdata/ways.cpp is asked, and what was found here.
type question struct {
	a     *layout.Arm
	cases int
	r     *rand.Rand
	text  bytes.Buffer
	hits  []bool
}

func (q *question) between(lo, hi float64) float64 { return lo + (hi-lo)*q.r.Float64() }

func (q *question) vec(most float64) geom.Vec {
	return geom.Vec{X: q.between(-most, most), Y: q.between(-most, most), Z: q.between(-most, most)}
}

func (q *question) readings(most float64) (r arm.Readings) {
	for i := range q.a.Joints {
		r[i] = q.between(-most, most)
	}
	return r
}

// among is the arm among so many boxes around a place.
func (q *question) among(n int, middle geom.Vec, most float64) *layout.Layout {
	l := &layout.Layout{Arm: q.a}
	for range n {
		half := geom.Vec{X: q.between(5, 120), Y: q.between(5, 120), Z: q.between(5, 120)}
		at := geom.At(middle.Add(q.vec(most)), geom.RPY{Roll: q.between(0, 360), Pitch: q.between(0, 360), Yaw: q.between(0, 360)})
		l.Boxes = append(l.Boxes, &layout.Box{Frame: &layout.Frame{Base: at}, From: half.Scale(-1), To: half})
	}
	return l
}

// ask writes a case: triangles of readings, looked at every so many degrees.
func (q *question) ask(l *layout.Layout, triangles [][3]arm.Readings, step float64, found *hit) {
	q.hits = append(q.hits, found != nil)
	say := func(values ...any) { fmt.Fprintln(&q.text, values...) }
	vec := func(v geom.Vec) string { return fmt.Sprintf("%.17g %.17g %.17g", v.X, v.Y, v.Z) }
	readings := func(r *arm.Readings) {
		for i := range q.a.Joints {
			fmt.Fprintf(&q.text, "%.17g ", r[i])
		}
		say()
	}
	say(len(q.a.Joints))
	for i := range q.a.Joints {
		say(vec(q.a.Joints[i].Axis), vec(q.a.Joints[i].Point))
	}
	say(len(linksOf(q.a)))
	for behind, shapes := range q.a.Shapes {
		for _, s := range shapes {
			if s.Radius > 0 {
				say(behind, "capsule", vec(s.From), vec(s.To), s.Radius)
			} else {
				say(behind, "box", vec(s.Half.Scale(2)), vec(s.At.T))
			}
		}
	}
	say(len(l.Boxes))
	for _, b := range l.Boxes {
		say(vec(b.To.Scale(2)), vec(b.Frame.Base.R.Column(0)), vec(b.Frame.Base.R.Column(1)), vec(b.Frame.Base.R.Column(2)), vec(b.Frame.Base.T))
	}
	say(len(triangles))
	for i := range triangles {
		for k := range triangles[i] {
			readings(&triangles[i][k])
		}
	}
	say(step, deep+sure)
	at := &triangles[0][0]
	if found != nil {
		at = &found.at
	}
	readings(at)
}

// judge holds what was found to what the library says.
func (q *question) judge(t *testing.T, kind string, hits []bool, answers *bufio.Scanner) {
	found, free := 0, 0
	for i, hit := range hits {
		var on, at bool
		answers.Scan()
		if _, err := fmt.Sscan(answers.Text(), &on, &at); err != nil {
			t.Fatalf("%s %d: FCL says %q: %v", kind, i, answers.Text(), err)
		}
		switch {
		case on && !hit:
			t.Errorf("%s %d: FCL finds a collision that is deeper than %g mm, and none was found", kind, i, deep+sure)
		case hit && !at:
			t.Errorf("%s %d: at the readings at which a collision is said to be FCL finds none", kind, i)
		case hit:
			found++
		default:
			free++
		}
	}
	t.Logf("%s: %d collide, %d are free", kind, found, free)
	if found < q.cases/5 || free < q.cases/5 {
		t.Errorf("%s: the test proves little", kind)
	}
}
