package fit_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gridferry/gen/fit"
	"gridferry/gen/geom"

	"gonum.org/v1/gonum/mat"
)

func TestExactPointsLeaveNothing(t *testing.T) {
	r := random(1)
	for range rounds {
		p, nominal := randomPose(r), cloud(r, 3+r.IntN(6))
		f := bestFit(t, nominal, moved(p, nominal))
		nearPose(t, "pose", f.Pose, p, 1e-11, 1e-9)
		near(t, "rms", f.RMS, 0, 1e-10)
		near(t, "scale", f.Scale, 1, 1e-12)
		if len(f.Each) != len(nominal) {
			t.Fatalf("got %d residuals for %d points", len(f.Each), len(nominal))
		}
	}
}

func TestOrderDoesNotMatter(t *testing.T) {
	r := random(2)
	for range rounds {
		nominal := cloud(r, 7)
		measured := shaken(r, 0.5, moved(randomPose(r), nominal))
		f := bestFit(t, nominal, measured)
		var a, b []geom.Vec
		order := r.Perm(len(nominal))
		for _, i := range order {
			a, b = append(a, nominal[i]), append(b, measured[i])
		}
		g := bestFit(t, a, b)
		nearPose(t, "pose", g.Pose, f.Pose, 1e-12, 1e-10)
		near(t, "rms", g.RMS, f.RMS, 1e-11)
		for k, i := range order {
			nearVec(t, "residual", g.Each[k].Off, f.Each[i].Off, 1e-10)
		}
	}
}

// Moving either set moves the answer along with it.
func TestMovingTheSetsMovesTheAnswer(t *testing.T) {
	r := random(3)
	for range rounds {
		nominal := cloud(r, 6)
		measured := shaken(r, 0.5, moved(randomPose(r), nominal))
		p, q := randomPose(r), randomPose(r)
		f := bestFit(t, nominal, measured)
		g := bestFit(t, moved(q, nominal), moved(p, measured))
		nearPose(t, "pose", g.Pose, p.Mul(f.Pose).Mul(q.Inverse()), 1e-12, 1e-9)
		near(t, "rms", g.RMS, f.RMS, 1e-10)
	}
}

func TestFitAndItsInverseCancel(t *testing.T) {
	r := random(4)
	for range rounds {
		nominal := cloud(r, 6)
		measured := shaken(r, 0.5, moved(randomPose(r), nominal))
		there, back := bestFit(t, nominal, measured), bestFit(t, measured, nominal)
		nearPose(t, "pose", there.Pose.Mul(back.Pose), geom.Identity, 1e-12, 1e-9)
	}
}

// No pose nearby fits better, and the residuals are those of the pose.
func TestBestFitIsBest(t *testing.T) {
	r := random(5)
	for range rounds {
		nominal := cloud(r, 5)
		measured := shaken(r, 2, moved(randomPose(r), nominal))
		f := bestFit(t, nominal, measured)
		near(t, "rms", rms(f.Pose, nominal, measured), f.RMS, 1e-10)
		near(t, "largest", f.Each[f.Worst].Length, f.Largest, 1e-9)
		for range 10 {
			near := geom.Pose{R: geom.RotFromVector(randomVec(r).Scale(1e-3)).Mul(f.Pose.R), T: f.Pose.T.Add(randomVec(r).Scale(1e-3))}
			if got := rms(near, nominal, measured); got < f.RMS-1e-12 {
				t.Errorf("rms %v nearby, %v at the best fit", got, f.RMS)
			}
		}
	}
}

func rms(p geom.Pose, nominal, measured []geom.Vec) float64 {
	sum := 0.0
	for i := range nominal {
		d := p.Apply(nominal[i]).Dist(measured[i])
		sum += d * d
	}
	return math.Sqrt(sum / float64(len(nominal)))
}

// B. Horn, J. Optical Society of America A 4(4), 1987, 629-642 (the method, from
// memory): the turn is the eigenvector of the largest eigenvalue of a symmetric
// 4×4 matrix. It can never give a reflection, so it checks the determinant's
// correction too.
func TestBestFitAgreesWithHorn(t *testing.T) {
	r := random(6)
	for range rounds {
		nominal := cloud(r, 3+r.IntN(6))
		measured := shaken(r, 5, moved(randomPose(r), nominal))
		f := bestFit(t, nominal, measured)
		nearPose(t, "pose", f.Pose, horn(t, nominal, measured), 1e-9, 1e-7)
	}
}

func horn(t *testing.T, nominal, measured []geom.Vec) geom.Pose {
	t.Helper()
	from, to := mean(nominal), mean(measured)
	var s [3][3]float64
	for k := range nominal {
		a, b := nominal[k].Sub(from), measured[k].Sub(to)
		for i, p := range []float64{a.X, a.Y, a.Z} {
			for j, q := range []float64{b.X, b.Y, b.Z} {
				s[i][j] += p * q
			}
		}
	}
	n := mat.NewSymDense(4, []float64{
		s[0][0] + s[1][1] + s[2][2], s[1][2] - s[2][1], s[2][0] - s[0][2], s[0][1] - s[1][0],
		0, s[0][0] - s[1][1] - s[2][2], s[0][1] + s[1][0], s[2][0] + s[0][2],
		0, 0, s[1][1] - s[0][0] - s[2][2], s[1][2] + s[2][1],
		0, 0, 0, s[2][2] - s[0][0] - s[1][1],
	})
	var e mat.EigenSym
	if !e.Factorize(n, true) {
		t.Fatal("no eigenvectors")
	}
	var v mat.Dense
	e.VectorsTo(&v)
	turn, ok := geom.Quaternion(v.At(0, 3), v.At(1, 3), v.At(2, 3), v.At(3, 3))
	if !ok {
		t.Fatal("eigenvector is no unit quaternion")
	}
	return geom.Pose{R: turn, T: to.Sub(turn.Apply(from))}
}

func mean(points []geom.Vec) geom.Vec {
	var sum geom.Vec
	for _, p := range points {
		sum = sum.Add(p)
	}
	return sum.Scale(1 / float64(len(points)))
}

// Three exact points give the same frame both ways.
func TestThreePointsAgreesWithBestFit(t *testing.T) {
	r := random(7)
	for range rounds {
		p := randomPose(r)
		nominal := []geom.Vec{{}, vec(50+200*r.Float64(), 0, 0), vec(100*r.NormFloat64(), 20+200*r.Float64(), 0)}
		at := moved(p, nominal)
		f, err := fit.ThreePoints(at[0], at[1], at[2])
		if err != nil {
			t.Fatal(err)
		}
		nearPose(t, "three points", f.Pose, p, 1e-12, 1e-12)
		nearPose(t, "best fit", bestFit(t, nominal, at).Pose, p, 1e-11, 1e-9)
	}
}

// Where along X, and how far toward Y, makes no difference.
func TestThreePointsNeedsDirectionsOnly(t *testing.T) {
	r := random(8)
	for range rounds {
		o, x, y := vec(300, 100, 20), vec(450, 130, 25), vec(290, 260, 18)
		f, err := fit.ThreePoints(o, x, y)
		if err != nil {
			t.Fatal(err)
		}
		along := x.Sub(o)
		further := o.Add(along.Scale(0.1 + 3*r.Float64()))
		beside := o.Add(y.Sub(o).Scale(0.2 + r.Float64())).Add(along.Scale(r.Float64() - 0.5))
		g, err := fit.ThreePoints(o, further, beside)
		if err != nil {
			t.Fatal(err)
		}
		nearPose(t, "frame", g.Pose, f.Pose, 1e-12, 0)
	}
}

// A pivot of any tip and post comes back, also from turned and shifted bases.
func TestPivotReturns(t *testing.T) {
	r := random(9)
	for range rounds {
		tip, post := randomVec(r), randomVec(r)
		poses := pivoted(r, 4+r.IntN(6), tip, post)
		c, err := fit.Pivot(poses)
		if err != nil {
			t.Fatal(err)
		}
		nearVec(t, "tip", c.Tip, tip, 1e-8)
		nearVec(t, "post", c.Post, post, 1e-8)
		near(t, "largest", c.Largest, 0, 1e-8)

		base := randomPose(r)
		for i := range poses {
			poses[i] = base.Mul(poses[i])
		}
		d, err := fit.Pivot(poses)
		if err != nil {
			t.Fatal(err)
		}
		nearVec(t, "tip from another base", d.Tip, tip, 1e-8)
		nearVec(t, "post from another base", d.Post, base.Apply(post), 1e-8)
		near(t, "condition", d.Condition, c.Condition, 1e-9*c.Condition)
	}
}

func pivoted(r *rand.Rand, n int, tip, post geom.Vec) []geom.Pose {
	poses := make([]geom.Pose, n)
	for i := range poses {
		turn := randomPose(r).R
		poses[i] = geom.Pose{R: turn, T: post.Sub(turn.Apply(tip))}
	}
	return poses
}

// With noise the answer is the least-squares one of the whole system, all six
// unknowns together, as gonum's QR solver has it.
func TestPivotAgreesWithSolver(t *testing.T) {
	r := random(10)
	for range rounds {
		poses := pivoted(r, 6, randomVec(r), randomVec(r))
		a, b := mat.NewDense(18, 6, nil), mat.NewVecDense(18, nil)
		for i := range poses {
			poses[i].T = poses[i].T.Add(randomVec(r).Scale(1e-3))
			for k, place := range []float64{poses[i].T.X, poses[i].T.Y, poses[i].T.Z} {
				for j := range 3 {
					a.Set(3*i+k, j, poses[i].R[k][j])
				}
				a.Set(3*i+k, 3+k, -1)
				b.SetVec(3*i+k, -place)
			}
		}
		var x mat.VecDense
		if err := x.SolveVec(a, b); err != nil {
			t.Fatal(err)
		}
		c, err := fit.Pivot(poses)
		if err != nil {
			t.Fatal(err)
		}
		nearVec(t, "tip", c.Tip, vec(x.AtVec(0), x.AtVec(1), x.AtVec(2)), 1e-9)
		nearVec(t, "post", c.Post, vec(x.AtVec(3), x.AtVec(4), x.AtVec(5)), 1e-9)
		var off mat.VecDense
		off.MulVec(a, &x)
		off.SubVec(&off, b)
		near(t, "rms", c.RMS, mat.Norm(&off, 2)/math.Sqrt(6), 1e-10)
	}
}
