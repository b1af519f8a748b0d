package check

import (
	"bufio"
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/layout"
	"gridferry/golden/outside"
	"gridferry/plan/diag"
)

// benchArm is an arm of invented dimensions with round and square links and a box for its tool.
func benchArm(t *testing.T) *layout.Arm {
	joint := func(axis geom.Vec, x, z float64) arm.Joint {
		return arm.Joint{Name: "J", Axis: axis, Point: geom.Vec{X: x, Z: z}, Lo: -180, Hi: 180}
	}
	x, y, z := geom.Vec{X: 1}, geom.Vec{Y: 1}, geom.Vec{Z: 1}
	a, err := arm.New([]arm.Joint{joint(z, 0, 0), joint(y, 60, 300), joint(y, 60, 620), joint(x, 60, 660), joint(y, 400, 660), joint(x, 400, 660)},
		geom.At(geom.Vec{X: 480, Z: 660}, geom.RPY{Pitch: 90}))
	if err != nil {
		t.Fatal(err)
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

// TestWaysAgreeWithFCL holds ways of the joints, among boxes that stand anyhow, to the Flexible Collision Library (J. Pan, S.
// Chitta, D. Manocha, ICRA 2012), which looks every 0.05 degrees: whatever it finds with limbs that are 1 mm smaller all around is
// found, and what is found collides in its eyes, too. GRIDFERRY_WAYS says how many ways; 2,000 take some minutes.
func TestWaysAgreeWithFCL(t *testing.T) {
	t.Parallel()
	ways := 24
	if n, err := strconv.Atoi(os.Getenv("GRIDFERRY_WAYS")); err == nil {
		ways = n
	}
	a := benchArm(t)
	r := rand.New(rand.NewPCG(31, 7))
	between := func(lo, hi float64) float64 { return lo + float64((hi-lo)*r.Float64()) }
	var question bytes.Buffer
	say := func(values ...any) { fmt.Fprintln(&question, values...) }
	vec := func(v geom.Vec) string { return fmt.Sprintf("%.17g %.17g %.17g", v.X, v.Y, v.Z) }
	var hits []bool
	for range ways {
		var from, to arm.Readings
		for i := range a.Joints {
			from[i], to[i] = between(-90, 90), between(-90, 90)
		}
		l := &layout.Layout{Arm: a}
		for range 3 {
			half := geom.Vec{X: between(5, 120), Y: between(5, 120), Z: between(5, 120)}
			at := geom.At(geom.Vec{X: between(-700, 700), Y: between(-700, 700), Z: between(0, 1000)}, geom.RPY{Roll: between(0, 360), Pitch: between(0, 360), Yaw: between(0, 360)})
			l.Boxes = append(l.Boxes, &layout.Box{Frame: &layout.Frame{Base: at}, From: half.Scale(-1), To: half})
		}
		hit := walked(l, &from, &to)
		hits = append(hits, hit != nil)
		say(len(a.Joints))
		for i := range a.Joints {
			say(vec(a.Joints[i].Axis), vec(a.Joints[i].Point))
		}
		limbs := linksOf(a)
		say(len(limbs))
		for behind, shapes := range a.Shapes {
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
		at := from
		if hit != nil {
			at = hit.at
		}
		for _, q := range []*arm.Readings{&from, &to, nil, &at} {
			if q == nil {
				say(deep + sure)
				continue
			}
			for i := range a.Joints {
				fmt.Fprintf(&question, "%.17g ", q[i])
			}
			say()
		}
	}
	answers := bufio.NewScanner(bytes.NewReader(outside.Cpp(t, "libfcl-dev", "fcl/config.h", "testdata/ways.cpp", question.Bytes(), "-lfcl", "-lccd")))
	answers.Scan()
	t.Log(answers.Text())
	found, free := 0, 0
	for i, hit := range hits {
		var on, at bool
		answers.Scan()
		if _, err := fmt.Sscan(answers.Text(), &on, &at); err != nil {
			t.Fatalf("way %d: FCL says %q: %v", i, answers.Text(), err)
		}
		switch {
		case on && !hit:
			t.Errorf("way %d: FCL finds a collision that is deeper than %g mm, and none was found", i, deep+sure)
		case hit && !at:
			t.Errorf("way %d: at the readings at which a collision is said to be FCL finds none", i)
		case hit:
			found++
		default:
			free++
		}
	}
	t.Logf("%d collide, %d are free", found, free)
	if found < ways/5 || free < ways/5 {
		t.Errorf("the test proves little")
	}
}

// walked is what the links hit between two readings.
func walked(l *layout.Layout, from, to *arm.Readings) *hit {
	c := newContext(l, new(diag.List))
	w := newArmWatcher(c)
	look := look{w: w, s: &Scene{effort: c.effort}}
	look.halves(from, to, 0, 1)
	return look.hit
}
