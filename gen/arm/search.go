package arm

import (
	"cmp"
	"errors"
	"slices"

	"gridferry/gen/geom"
)

// searched is an arm of any six joints that turn, in whatever position; up to 16 solutions.
//
// With the flange held at a pose it is a closed chain, a ring. One joint is looked at, as if it were the third of the ring
// (Raghavan & Roth, J. Mech. Design 115, 1993; from memory):
//
//  1. elimination.go: the two joints before it and the last are eliminated, and equations are left that are linear in 1, cosine
//     and sine of each of the other three. Every solution fulfils them.
//  2. determinant.go: of the two joints behind it they make a matrix that is singular wherever there is a solution. Its
//     determinant is a series of the angle of the joint looked at, of a known degree: samples round the circle give it exactly.
//  3. sieve.go: all real roots of a series, by bounds that let none through.
//  4. hunt.go: at each root all values of the next joint, then of the next but one and so on, each again from a series. There
//     a solution is where a sum of squares is 0, so that it is among the minima, however many solutions share the
//     root. All are polished, and proved by going forward.
//
// So no solution is missed but for rounding, and samples show what that is: beyond its degree a series has nothing else. Where
// it hides a part of the circle, a lens looks at that part alone. A hunt is clear if the determinant stands out of
// rounding, no roots are so close that it hides how many they are, each root is that of a solution, and the number of
// solutions is even, as it is away from singular poses. There are twelve views of a ring, six joints and two ways
// round: of two clear ones the second must find nothing new, or others follow. Where views are not clear, at singular poses
// above all, what each finds is put together.
//
// In special arms the determinant of some views is 0 at every pose, or pairs of solutions share a root at every
// pose; [newSearched] tries which views serve, and gives an error where none does.
type searched struct {
	arm   *Arm
	axes  [6]axis // in lengths, from the middle
	views []view  // those that serve, the best first

	middle geom.Vec
	length float64 // mm
}

func (s *searched) class() string { return "six axes that turn, by search" }

// mostViews is how many views of an arm are kept.
const mostViews = 6

// newSearched tries all views at some poses and keeps those that find the readings that the poses were made with, those
// that are clear most often first.
func newSearched(a *Arm) (*searched, error) {
	const tries = 5
	s := &searched{arm: a}
	for i := range s.axes {
		s.axes[i] = axis{a.Joints[i].Axis, a.Joints[i].Point}
	}
	s.scale()
	type tried struct {
		view
		finds, clear int
		rounding     float64
	}
	var list []tried
	for i := range 12 {
		v := tried{view: view{start: i % 6, backwards: i >= 6}}
		for k := range tries {
			finds, clear, rounding := s.try(v.view, nowhere(k))
			v.finds += finds
			v.clear += clear
			v.rounding = max(v.rounding, rounding)
		}
		if v.finds == tries {
			list = append(list, v)
		}
	}
	slices.SortStableFunc(list, func(a, b tried) int {
		return cmp.Or(cmp.Compare(b.clear, a.clear), cmp.Compare(a.rounding, b.rounding))
	})
	for _, v := range list[:min(len(list), mostViews)] {
		s.views = append(s.views, v.view)
	}
	if len(s.views) == 0 {
		return nil, errors.New("no search tells the solutions of these six axes apart: whichever joint it begins with, it misses some")
	}
	return s, nil
}

// nowhere returns readings in no special place, others for each i.
func nowhere(i int) (r Readings) {
	for k := range r {
		r[k] = turned(float64(float64((i*MaxJoints+k+1)*(k+2)) * 222.492235949962)) // the golden section of a turn
	}
	return r
}

// try counts whether a view finds readings from their pose, and whether it is clear; and what rounding does to it.
func (s *searched) try(v view, r Readings) (finds, clear int, rounding float64) {
	flange := s.arm.Pose(r)
	h := s.hunt(v, flange, r, solutions{arm: s.arm, flange: flange})
	for i := range h.found.list {
		if size(s.arm.way(r, h.found.list[i].Readings)) < 1e-6 {
			finds = 1
		}
	}
	if h.clear {
		clear = 1
	}
	return finds, clear, h.rounding
}

// scale moves points of the axes to the middle of all, and makes the farthest one's distance from it 1.
func (s *searched) scale() {
	for range 3 {
		var sum geom.Vec
		for _, a := range s.axes {
			sum = sum.Add(a.point)
		}
		s.middle = sum.Scale(1.0 / 6)
		for i, a := range s.axes {
			s.axes[i].point = a.point.Add(a.along.Scale(a.along.Dot(s.middle.Sub(a.point))))
		}
	}
	for _, a := range s.axes {
		s.length = max(s.length, a.point.Dist(s.middle))
	}
	if s.length < touch { // all axes meet
		s.length = 1
	}
	for i, a := range s.axes {
		s.axes[i].point = a.point.Sub(s.middle).Scale(1 / s.length)
	}
}

// ring returns the arm closed by a pose.
func (s *searched) ring(flange geom.Pose) ring {
	end := flange.Mul(s.arm.Flange.Inverse())
	end.T = end.Apply(s.middle).Sub(s.middle).Scale(1 / s.length)
	return ring{s.axes, end}
}

// hunt searches by one view; what it finds stands behind what is listed already.
func (s *searched) hunt(v view, flange geom.Pose, near Readings, found solutions) hunt {
	c := s.ring(flange)
	found.start = len(found.list)
	h := hunt{ring: c.seen(v), view: v, near: near, found: found}
	h.run()
	return h
}

func (s *searched) solve(flange geom.Pose, near Readings, found solutions) solutions {
	clear := 0
	for _, v := range s.views {
		before := len(found.list)
		h := s.hunt(v, flange, near, found)
		found = found.merged(h.found.list)
		if h.clear {
			clear++
		}
		if clear > 1 && len(found.list) == before {
			break
		}
	}
	return found
}

// merged returns the collection with those of a longer list that are not listed yet.
func (s solutions) merged(longer []Solution) solutions {
	n := len(s.list)
	s.list = longer[:n]
	for _, one := range longer[n:] {
		if !s.listed(one) {
			s.list = append(s.list, one) // never beyond the one that was read
		}
	}
	return s
}
