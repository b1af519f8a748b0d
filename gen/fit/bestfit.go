package fit

import (
	"math"

	"gridferry/gen/geom"
)

// Registration is the frame that fits points best, and how far it can be trusted.
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
	Centre geom.Vec    // the mean of the nominal points
	Along  [3]geom.Vec // unit vectors of the principal directions

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
// It refuses fewer than three pairs, more than MostPoints, points closer than
// MinDistance within either set (one was entered twice), sets along one line, and
// measured points that fit the mirror image better, where the nominal ones fill space.
func BestFit(nominal, measured []geom.Vec) (Registration, error) {
	if e := paired(nominal, measured); e != nil {
		return Registration{}, e
	}
	spread, along, e := spreads("nominal point", nominal)
	if e != nil {
		return Registration{}, e
	}
	if _, _, e := spreads("measured point", measured); e != nil {
		return Registration{}, e
	}
	f := Registration{Spread: spread, Along: along, Centre: centroid(nominal), Rank: 3, Shortest: shortest(nominal)}
	if flat(spread) {
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
	if e := tooMany("point", len(nominal)); e != nil {
		return e
	}
	if e := usable("nominal point", nominal); e != nil {
		return e
	}
	return usable("measured point", measured)
}

// spreads measures how far points lie about their mean, and refuses those along
// one line: any turn about that line would fit as well.
func spreads(of string, points []geom.Vec) (s [3]float64, along [3]geom.Vec, e *Error) {
	s, along = principal(about(centroid(points), points))
	for i := range s {
		s[i] /= math.Sqrt(float64(len(points)))
	}
	if oneLine(s) {
		return s, along, &Error{Kind: OneLineMany, Of: of, Got: s[1], Want: float64(minRatio * s[0]), Free: along[0]}
	}
	return s, along, nil
}

func oneLine(spread [3]float64) bool { return spread[1] < float64(minRatio*spread[0]) }

// flat reports whether points lie within one plane.
func flat(spread [3]float64) bool { return spread[2] < float64(minRatio*spread[0]) }

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
	return mirrors(left, gain)
}

// mirrors reports whether the mirror image, which leaves 2·gain less of the sum of
// squares, fits more than twice as closely: half as far is a quarter of the squares.
func mirrors(squares, gain float64) bool { return squares-2*gain < squares/4 }

// turnError returns how far off, in radians, the fit may be turned about each
// principal direction when every touch is off by touch mm along each coordinate:
// that error over the square root of the points' squared distances from the axis.
func (f Registration) turnError(touch float64) (turn [3]float64) {
	n := math.Sqrt(float64(len(f.Each)))
	for k := range turn {
		i, j := (k+1)%3, (k+2)%3
		turn[k] = touch / float64(n*math.Hypot(f.Spread[i], f.Spread[j]))
	}
	return turn
}

// Uncertainty returns how far off, in degrees, the frame may be turned about the
// direction in which the points say least, when touches are off by touch mm.
func (f Registration) Uncertainty(touch float64) float64 {
	turn := f.turnError(touch)
	return max(turn[0], turn[1], turn[2]) * (180 / math.Pi)
}

// Drift returns how far off, in mm, a place in the frame may be because the frame
// is turned by a little too much, when touches are off by touch mm. That is the
// rotational part of the target registration error of J. M. Fitzpatrick,
// J. B. West, C. R. Maurer, IEEE Trans. Medical Imaging 17(5), 1998, 694-702 (from
// memory): over the three axes, error of the turn × distance from the axis.
func (f Registration) Drift(touch float64, at geom.Vec) float64 {
	sum := 0.0
	for k, turn := range f.turnError(touch) {
		off := turn * at.Sub(f.Centre).Cross(f.Along[k]).Norm()
		sum += float64(off * off)
	}
	return math.Sqrt(sum)
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
