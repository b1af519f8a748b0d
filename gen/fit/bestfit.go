package fit

import (
	"math"

	"gridferry/gen/geom"
)

// Registration is the frame that fits points best, and what it is worth.
type Registration struct {
	Pose      geom.Pose // of the nominal points' frame in the measured points' frame
	Residuals           // measured - Pose·nominal, along the measured points' axes

	// Scale is the size of the measured set over that of the nominal one, by
	// which a fit with a free scale would stretch it. 1.000 for honest
	// millimetres; near 25.4 or 0.0394 somebody mixed in inches.
	Scale float64

	// Spread is how far the nominal points lie about their mean, root mean
	// square, in mm, along their three principal directions, largest first.
	Spread [3]float64

	// Rank is 3 for points that fill space and 2 for points within one plane.
	// Points in one plane cannot show that they were mirrored: seen from below,
	// the mirror image is a proper rotation that fits just as well, with Z the
	// wrong way round. Whoever knows which way Z should point has to look.
	Rank int

	Shortest Baseline // the closest two nominal points
}

// BestFit returns the pose with the least squared distance between the measured
// points and the nominal points placed by it. It never mirrors and never scales.
//
// It refuses fewer than three pairs, points closer than MinDistance within either
// set (one was entered twice), sets along one line, and measured points that fit
// the mirror image better, where the nominal ones fill space.
func BestFit(nominal, measured []geom.Vec) (Registration, error) {
	if e := paired(nominal, measured); e != nil {
		return Registration{}, e
	}
	spread, e := spreads("nominal point", nominal)
	if e != nil {
		return Registration{}, e
	}
	if _, e := spreads("measured point", measured); e != nil {
		return Registration{}, e
	}
	f := Registration{Spread: spread, Rank: 3, Shortest: shortest(nominal)}
	if spread[2] < float64(minRatio*spread[0]) {
		f.Rank = 2
	}
	if f.solve(nominal, measured) && f.Rank == 3 {
		return Registration{}, &Error{Kind: Mirrored, Of: "measured point"}
	}
	return f, nil
}

// paired refuses sets that do not go together point by point.
func paired(nominal, measured []geom.Vec) *Error {
	if len(nominal) != len(measured) {
		return &Error{Kind: Unequal, Of: "point", Got: float64(len(measured)), Want: float64(len(nominal))}
	}
	if len(nominal) < 3 {
		return &Error{Kind: TooFew, Of: "point", Got: float64(len(nominal)), Want: 3}
	}
	if e := usable("nominal point", nominal); e != nil {
		return e
	}
	return usable("measured point", measured)
}

// spreads measures how far points lie about their mean, and refuses those along
// one line: any turn about that line would fit as well.
func spreads(of string, points []geom.Vec) ([3]float64, *Error) {
	s, along := principal(about(centroid(points), points))
	for i := range s {
		s[i] /= math.Sqrt(float64(len(points)))
	}
	if want := float64(minRatio * s[0]); s[1] < want {
		return s, &Error{Kind: OneLineMany, Of: of, Got: s[1], Want: want, Free: along[0]}
	}
	return s, nil
}

// solve fills in the pose, the scale and the residuals, and reports whether the
// mirror image fits more than twice as closely. Less than that is noise across a
// set that is nearly flat.
func (f *Registration) solve(nominal, measured []geom.Vec) (mirrored bool) {
	from, to := centroid(nominal), centroid(measured)
	a, b := about(from, nominal), about(to, measured)
	r, trace, gain := nearestRotation(products(b, a))
	f.Pose = geom.Pose{R: r, T: to.Sub(r.Apply(from))}
	size, left := 0.0, 0.0
	off := make([]geom.Vec, len(a))
	for i := range a {
		off[i] = b[i].Sub(r.Apply(a[i])) // about the means: small numbers, small rounding
		size += a[i].Dot(a[i])
		left += off[i].Dot(off[i])
	}
	f.Scale = trace / size
	f.Residuals = summarise(off)
	return left-2*gain < left/4 // squares, so that half as far is a quarter
}

// products returns the sum of the outer products to·fromᵀ.
func products(to, from []geom.Vec) (h geom.Rot) {
	for k := range to {
		row := [3]float64{to[k].X, to[k].Y, to[k].Z}
		for i := range h {
			h[i][0] += float64(row[i] * from[k].X)
			h[i][1] += float64(row[i] * from[k].Y)
			h[i][2] += float64(row[i] * from[k].Z)
		}
	}
	return h
}
