package arm

import (
	"math"
	"testing"

	"gridferry/gen/geom"

	"gonum.org/v1/gonum/mat"
)

// special makes something of random axes.
type special func(dice, []Joint)

// meet lets axes meet in a point.
func meet(list ...int) special {
	return func(d dice, joints []Joint) {
		for _, i := range list[1:] {
			joints[i-1].Point = joints[list[0]-1].Point
		}
	}
}

// level makes axes parallel.
func level(list ...int) special {
	return func(d dice, joints []Joint) {
		for _, i := range list[1:] {
			joints[i-1].Axis = joints[list[0]-1].Axis
		}
	}
}

// offsetWrist lets axis 5 meet axes 4 and 6, each in a point of its own, and be square to them where right says so.
func offsetWrist(right bool) special {
	return func(d dice, joints []Joint) {
		five := &joints[4]
		joints[3].Point = five.Point
		joints[5].Point = five.Point.Add(five.Axis.Scale(200 * d.Float64()))
		if right {
			joints[3].Axis, joints[5].Axis = sideOf(five.Axis), sideOf(five.Axis)
		}
	}
}

// squareLinks puts an arm together of links that are square or parallel, some of them of length 0.
func squareLinks(d dice, joints []Joint) {
	any := func() link {
		return link{d: d.of(400, 0), a: d.of(400, 0, 25), alpha: 90 * float64(d.IntN(4))}
	}
	list, _ := d.chain(any(), any(), any(), any(), any(), any())
	copy(joints, list)
}

// kinds are arms of which each is special in its way.
var kinds = []struct {
	name    string
	special []special
}{
	{"general", nil},
	{"offset wrist", []special{offsetWrist(false)}},
	{"square offset wrist, 2 and 3 parallel", []special{offsetWrist(true), level(2, 3)}},
	{"offset wrist, all square", []special{offsetWrist(true), level(2, 3), level(3, 5), meet(1, 2)}},
	{"square links, some of length 0", []special{squareLinks}},
	{"1, 2 meet", []special{meet(1, 2)}},
	{"3, 4 meet", []special{meet(3, 4)}},
	{"5, 6 meet", []special{meet(5, 6)}},
	{"1, 2 and 4, 5 meet", []special{meet(1, 2), meet(4, 5)}},
	{"1, 2 and 3, 4 and 5, 6 parallel", []special{level(1, 2), level(3, 4), level(5, 6)}},
	{"2, 3 and 5, 6 parallel", []special{level(2, 3), level(5, 6)}},
	{"1, 2, 3 meet", []special{meet(1, 2, 3)}},
	{"2, 3, 4 meet", []special{meet(2, 3, 4)}},
	{"3, 4, 5 meet", []special{meet(3, 4, 5)}},
	{"4, 5, 6 meet", []special{meet(4, 5, 6)}},
	{"1, 2, 3 parallel", []special{level(1, 2, 3)}},
	{"2, 3, 4 parallel", []special{level(2, 3, 4)}},
	{"3, 4, 5 parallel", []special{level(3, 4, 5)}},
	{"4, 5, 6 parallel", []special{level(4, 5, 6)}},
	{"2, 3, 4 parallel, 1, 2 meet, offset wrist", []special{offsetWrist(false), level(2, 3, 4), meet(1, 2)}},
	{"4, 5, 6 and 1, 2 meet, 2, 3 parallel", []special{level(2, 3), meet(4, 5, 6), meet(1, 2)}},
}

// searched makes an arm of a kind, solved by search whatever it is.
func (d dice) searched(t testing.TB, kind []special) *Arm {
	for {
		joints := make([]Joint, 6)
		for i := range joints {
			joints[i] = Joint{Axis: d.direction(), Point: d.direction().Scale(400), Lo: -180, Hi: 180}
		}
		for _, s := range kind {
			s(d, joints)
		}
		a, err := New(joints, d.pose())
		if err != nil {
			continue // always singular
		}
		if a.solver, err = newSearched(a); err != nil {
			t.Errorf("%+v: %v", joints, err)
			continue
		}
		return a
	}
}

// ofKinds tries a law on some arms of each kind.
func ofKinds(t *testing.T, seed uint64, law func(*testing.T, dice, *Arm)) {
	for i, kind := range kinds {
		t.Run(kind.name, func(t *testing.T) {
			d := roll(seed + uint64(i))
			for range max(1, arms(t, 10)) {
				law(t, d, d.searched(t, kind.special))
				if t.Failed() {
					return
				}
			}
		})
	}
}

// Random joints of random arms, special ones too, are found again among the solutions of their pose.
func TestSearchFindsAll(t *testing.T) {
	var list []Solution
	ofKinds(t, 100, func(t *testing.T, d dice, a *Arm) {
		for range 10 {
			q := d.readings(a)
			list = a.Solve(a.Pose(q), q, list[:0])
			if found(t, a, q, list); len(list) > 16 {
				t.Errorf("%+v\n%+v\n%v: %d solutions", a.Joints, a.Flange, q, len(list))
			}
		}
	})
}

// Where joints stand square to each other, and many poses are singular, the readings that a pose was made with are
// found when they are near; to a thousandth of a radian, as where several solutions have become one rounding moves them as far.
func TestSearchAtSquarePoses(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: other searches stand for it")
	}
	var list []Solution
	ofKinds(t, 300, func(t *testing.T, d dice, a *Arm) {
		for range 5 {
			var q Readings
			step := 15 * (1 + d.IntN(6))
			for i := range a.Joints {
				q[i] = turned(float64(step * d.IntN(24)))
			}
			list = a.Solve(a.Pose(q), q, list[:0])
			found(t, a, q, list)
			nearest := math.Inf(1)
			for _, s := range list {
				nearest = min(nearest, size(a.way(s.Readings, q)))
			}
			if nearest > 1e-3 {
				t.Errorf("%+v\n%+v\n%v: the nearest of %d solutions is %g away", a.Joints, a.Flange, q, len(list), nearest)
			}
		}
	})
}

// The closed forms of arms with a spherical wrist, and with axes 2, 3, 4 parallel, find what the search
// finds.
func TestSearchAgreesWithClosedForms(t *testing.T) {
	for i, make := range []func(dice, testing.TB) *Arm{dice.spherical, dice.parallels} {
		d := roll(uint64(200 + i))
		several := 0
		for range max(1, arms(t, 60)) {
			a := make(d, t)
			closed := a.solver
			search, err := newSearched(a)
			if err != nil {
				t.Errorf("%+v: %v", a.Joints, err)
				continue
			}
			q := d.readings(a)
			one := a.Solve(a.Pose(q), q, nil)
			a.solver = search
			two := a.Solve(a.Pose(q), q, nil)
			a.solver = closed
			if len(one) > 2 {
				several++
			}
			if unlike(a, one, two) || unlike(a, two, one) {
				t.Errorf("%+v\n%+v\n%v: closed form %v\nsearch %v", a.Joints, a.Flange, q, one, two)
			}
		}
		if several == 0 && !testing.Short() {
			t.Error("no pose has more than two solutions")
		}
	}
}

// unlike reports whether one of some solutions is not among others, other than at singular poses.
func unlike(a *Arm, some, others []Solution) bool {
	for _, s := range some {
		among := s.Singular
		for _, o := range others {
			among = among || size(a.way(s.Readings, o.Readings)) < 1e-6
		}
		if !among {
			return true
		}
	}
	return false
}

// manseurDoty is an arm, and a pose of it, with as many solutions as there can be: Manseur & Doty, A robot
// manipulator with 16 real inverse kinematic solution sets, Int. J. Robotics Research 8, 1989; from memory. The lengths there
// have no unit; here one is 1000 mm.
func manseurDoty(t testing.TB) (*Arm, geom.Pose) {
	p := geom.Identity
	var joints []Joint
	for _, l := range []link{
		{a: 300, alpha: 90}, {a: 1000, alpha: 1}, {d: 200, alpha: 90},
		{a: 1500, alpha: 1}, {alpha: 90}, {alpha: 1},
	} {
		joints = append(joints, Joint{Axis: p.R.Column(2), Point: p.T, Lo: -180, Hi: 180})
		p = p.Mul(geom.Pose{R: geom.IdentityRot(), T: geom.Vec{Z: l.d}}).Mul(geom.Pose{R: geom.RotX(l.alpha), T: geom.Vec{X: l.a}})
	}
	a, err := New(joints, p)
	if err != nil {
		t.Fatal(err)
	}
	x, _ := geom.Vec{X: -0.760117, Y: 0.133333, Z: -0.635959}.Unit()
	y, _ := geom.Vec{X: -0.641689, Z: 0.766965}.Unit()
	z, _ := x.Cross(y).Unit()
	return a, geom.Pose{R: geom.FromColumns(x, z.Cross(x), z), T: geom.Vec{X: -1140.175}}
}

func TestSixteenSolutions(t *testing.T) {
	a, flange := manseurDoty(t)
	list := a.Solve(flange, Readings{}, nil)
	if len(list) != 16 {
		t.Fatalf("%d solutions, wanted 16", len(list))
	}
	for _, s := range list {
		found(t, a, s.Readings, list)
		if s.Singular {
			t.Errorf("%v is singular", s)
		}
	}
}

// The lengths of an arm, and where its base stands, change nothing.
func TestSearchScales(t *testing.T) {
	a, flange := manseurDoty(t)
	want := a.Solve(flange, Readings{}, nil)
	for _, scale := range []float64{1e-2, 10} {
		base := geom.Pose{R: geom.RotX(40).Mul(geom.RotZ(70)), T: geom.Vec{X: 5000, Y: -3000, Z: 800}.Scale(scale)}
		shift := func(p geom.Pose) geom.Pose {
			p.T = p.T.Scale(scale)
			return base.Mul(p)
		}
		var joints []Joint
		for _, j := range a.Joints {
			joints = append(joints, Joint{Axis: base.R.Apply(j.Axis), Point: base.Apply(j.Point.Scale(scale))})
		}
		b, err := New(joints, shift(a.Flange))
		if err != nil {
			t.Fatal(err)
		}
		got := b.Solve(shift(flange), Readings{}, nil)
		if len(got) != len(want) || unlike(a, got, want) {
			t.Errorf("times %g: got %v, wanted %v", scale, got, want)
		}
	}
}

// A pose out of reach has no solutions.
func TestSearchOutOfReach(t *testing.T) {
	a, flange := manseurDoty(t)
	flange.T.X -= 2000
	if list := a.Solve(flange, Readings{}, nil); len(list) != 0 {
		t.Errorf("got %v", list)
	}
}

// Close to singular poses, and at them, no solution is lost either; there two solutions may be as far from each other as
// the pivot of the Jacobian is from 0, and count as one from where nothing tells their poses apart (see found).
func TestSearchCloseToSingularPoses(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: other searches stand for it")
	}
	var list []Solution
	tried := 0
	ofKinds(t, 500, func(t *testing.T, d dice, a *Arm) {
		for range 5 {
			q, ok := d.singular(a)
			if !ok {
				continue
			}
			q[d.IntN(6)] += math.Pow(10, -1-11*d.Float64())
			tried++
			list = a.Solve(a.Pose(q), q, list[:0])
			found(t, a, q, list)
		}
	})
	if tried == 0 {
		t.Error("no singular pose")
	}
}

// singular returns readings at which the Jacobian's determinant changes its sign, one of them found by halving.
func (d dice) singular(a *Arm) (Readings, bool) {
	q := d.readings(a)
	joint := d.IntN(6)
	sign := func(degrees float64) bool {
		r := q
		r[joint] = degrees
		j := mat.NewDense(6, 6, nil)
		for i, c := range a.Jacobian(r) {
			if i < 6 {
				j.SetCol(i, []float64{c.Linear.X / a.length, c.Linear.Y / a.length, c.Linear.Z / a.length, c.Turn.X, c.Turn.Y, c.Turn.Z})
			}
		}
		return mat.Det(j) > 0
	}
	for lo := -180.0; lo < 180; lo += 5 {
		if hi := lo + 5; sign(lo) != sign(hi) {
			below := sign(lo)
			for range 60 {
				if middle := lo + (hi-lo)/2; sign(middle) == below {
					lo = middle
				} else {
					hi = middle
				}
			}
			q[joint] = lo
			return q, true
		}
	}
	return q, false
}
