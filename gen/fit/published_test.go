package fit_test

import (
	"math"
	"testing"

	"gridferry/gen/fit"
	"gridferry/gen/geom"

	"gonum.org/v1/gonum/mat"
)

// How each source was used is said beside the figures. "Read": read in the source
// itself or in an open copy. "Secondary": read in a source that quotes it.
// "Recomputed": worked out from the published inputs by another method, which
// proves the arithmetic and not that a source prints it. "Constructed": exact by
// construction.

// The points of a calibration grid as a tracker saw them, frame 1. Course
// 600.455/655 of Johns Hopkins University (R. Taylor), programming assignment 1,
// data set debug-a, noise-free and rounded to 0.01 mm, in the open repository
// ahundt/cis at commit 6822fc51, data/PA1-2/pa1-debug-a-output1.txt: read.
// The order is z fastest, then y, then x.
var trackedGrid = []geom.Vec{
	vec(208.01, 209.60, 209.48), vec(208.61, 211.44, 334.46), vec(209.21, 213.28, 459.45),
	vec(207.24, 334.58, 207.64), vec(207.84, 336.42, 332.63), vec(208.45, 338.26, 457.61),
	vec(206.47, 459.57, 205.80), vec(207.08, 461.41, 330.79), vec(207.68, 463.25, 455.77),
	vec(333.00, 210.35, 208.87), vec(333.61, 212.20, 333.85), vec(334.21, 214.04, 458.84),
	vec(332.24, 335.34, 207.03), vec(332.84, 337.18, 332.01), vec(333.44, 339.02, 457.00),
	vec(331.47, 460.32, 205.19), vec(332.07, 462.16, 330.18), vec(332.67, 464.01, 455.16),
	vec(458.00, 211.11, 208.25), vec(458.60, 212.95, 333.24), vec(459.20, 214.80, 458.22),
	vec(457.23, 336.10, 206.41), vec(457.84, 337.94, 331.40), vec(458.44, 339.78, 456.38),
	vec(456.47, 461.08, 204.58), vec(457.07, 462.92, 329.56), vec(457.67, 464.76, 454.55),
}

// nominalGrid is the same grid in its own frame: 125 mm from point to point,
// pa1-debug-a-calbody.txt of the same data set: read.
func nominalGrid() []geom.Vec {
	var points []geom.Vec
	for i := range 27 {
		points = append(points, vec(float64(i/9), float64(i/3%3), float64(i%3)).Scale(125))
	}
	return points
}

// The answer for the data set above: recomputed with Horn's quaternion method.
var trackedRot = geom.Rot{
	{0.999970, -0.006131, 0.004817},
	{0.006060, 0.999873, 0.014733},
	{-0.004907, -0.014703, 0.999880},
}

func TestBestFitOfTrackedGrid(t *testing.T) {
	f := bestFit(t, nominalGrid(), trackedGrid)
	nearRot(t, "turn", f.Pose.R, trackedRot, 3e-6)
	nearVec(t, "place", f.Pose.T, vec(208.0073, 209.5972, 209.4792), 1e-4)
	// Rounding three coordinates to 0.01 leaves 0.01·√(3/12) = 0.0050.
	near(t, "rms", f.RMS, 0.00505, 5e-6)
	near(t, "scale", f.Scale, 1, 1e-4)
	near(t, "shortest", f.Shortest.Length, 125, 0)
	if f.Rank != 3 {
		t.Errorf("rank: got %d, want 3", f.Rank)
	}
	// A line of three points 125 mm apart has the variance 125²·2/3 about its middle.
	for _, s := range f.Spread {
		near(t, "spread", s, 125*math.Sqrt(2.0/3), 1e-9)
	}
	w, x, y, z := f.Pose.R.Quaternion()
	nearVec(t, "quaternion", vec(x, y, z), vec(-0.0073592, 0.0024312, 0.0030479), 2e-7)
	near(t, "quaternion w", w, 0.9999653, 1e-7)
}

func TestBestFitOfTrackedCorners(t *testing.T) {
	var nominal, measured []geom.Vec
	for _, i := range []int{0, 2, 6, 18} {
		nominal, measured = append(nominal, nominalGrid()[i]), append(measured, trackedGrid[i])
	}
	f := bestFit(t, nominal, measured)
	nearRot(t, "turn", f.Pose.R, trackedRot, 1e-4)
	nearVec(t, "place", f.Pose.T, vec(208.0065, 209.5982, 209.4784), 1e-4)
	near(t, "rms", f.RMS, 0.0041, 5e-5)
}

// Three corners of the tracked grid as a frame; the axes are recomputed, the place
// of a fourth corner that they predict is the published one.
func TestThreePointsOfTrackedGrid(t *testing.T) {
	f, err := fit.ThreePoints(trackedGrid[0], trackedGrid[18], trackedGrid[6])
	if err != nil {
		t.Fatal(err)
	}
	nearVec(t, "x", f.Pose.R.Column(0), vec(0.999970, 0.006040, -0.004920), 1e-6)
	nearVec(t, "y", f.Pose.R.Column(1), vec(-0.006112, 0.999873, -0.014720), 1e-6)
	nearVec(t, "z", f.Pose.R.Column(2), vec(0.004831, 0.014750, 0.999880), 1e-6)
	nearVec(t, "recomputed corner", f.Pose.Apply(vec(0, 0, 250)), vec(209.2176, 213.2874, 459.4499), 1e-4)
	nearVec(t, "published corner", f.Pose.Apply(vec(0, 0, 250)), trackedGrid[2], 0.01)
}

// Constructed: axes of exact thirds, (2,1,-2)/3, (-2,2,-1)/3, (1,2,2)/3.
func TestThreePointsRational(t *testing.T) {
	f, err := fit.ThreePoints(vec(100, 200, 50), vec(300, 300, -150), vec(60, 330, -60))
	if err != nil {
		t.Fatal(err)
	}
	third := 1.0 / 3
	nearPose(t, "frame", f.Pose, geom.Pose{
		R: geom.FromColumns(vec(2, 1, -2).Scale(third), vec(-2, 2, -1).Scale(third), vec(1, 2, 2).Scale(third)),
		T: vec(100, 200, 50),
	}, 1e-15, 0)
	a := f.Pose.R.RPY()
	nearVec(t, "rpy", vec(a.Roll, a.Pitch, a.Yaw), vec(-26.5650512, 41.8103149, 26.5650512), 1e-7)
	near(t, "baseline x", f.AlongX, 300, 1e-12)
	near(t, "baseline y", f.TowardY, math.Hypot(90, 150), 1e-12)
	near(t, "angle", f.Angle, math.Atan2(150, 90)*180/math.Pi, 1e-12)
}

// Error over baseline: 0.1 mm over 100 mm is 0.057°. Common practice, no source.
func TestThreePointsUncertainty(t *testing.T) {
	f, err := fit.ThreePoints(vec(0, 0, 0), vec(100, 0, 0), vec(70, 200, 0))
	if err != nil {
		t.Fatal(err)
	}
	direction, plane := f.Uncertainty(0.1)
	near(t, "direction", direction, 0.057, 5e-4)
	near(t, "plane", plane, 0.057/2, 5e-4)
}

// IOGP Guidance Note 7-2, position vector transformation (EPSG 9606), WGS 72 to
// WGS 84: read. A positive rotation about Z turns a point counter-clockwise; the
// coordinate frame twin (EPSG 9607) has the other sign. The guidance note's own
// small-angle formula moves the points here; metres stand in for millimetres.
func TestBestFitSignOfTurn(t *testing.T) {
	const arcSecond = 1.0 / 3600
	const rz, ppm, dz = 0.554 * arcSecond * math.Pi / 180, 0.219e-6, 4.5
	toWGS84 := func(p geom.Vec) geom.Vec {
		return vec(p.X-rz*p.Y, rz*p.X+p.Y, p.Z).Scale(1 + ppm).Add(vec(0, 0, dz))
	}
	published := vec(3657660.66, 255768.55, 5201382.11)
	nearVec(t, "published point", toWGS84(published), vec(3657660.78, 255778.43, 5201387.75), 0.006)

	nominal := []geom.Vec{published, vec(-2e6, 5e6, 3e6), vec(1e6, -4e6, -4e6), vec(-5e6, -3e6, 1e6)}
	measured := make([]geom.Vec, len(nominal))
	for i, p := range nominal {
		measured[i] = toWGS84(p)
	}
	f := bestFit(t, nominal, measured)
	a := f.Pose.R.RPY()
	near(t, "yaw in seconds of arc", a.Yaw/arcSecond, 0.554, 1e-5)
	near(t, "roll in seconds of arc", a.Roll/arcSecond, 0, 1e-5)
	near(t, "pitch in seconds of arc", a.Pitch/arcSecond, 0, 1e-5)
	near(t, "scale in ppm", (f.Scale-1)*1e6, 0.219, 1e-4)
	nearVec(t, "place", f.Pose.Apply(published), toWGS84(published), 2)
}

// Poses of a pointer whose tip stands in a dimple, worked out from the marker
// positions of the same course's data set pa1-debug-a-empivot.txt: recomputed.
// Each row is x y z in mm, then roll pitch yaw in degrees.
var pointerPoses = [][6]float64{
	{201.648, 256.812, 269.025, 0, 0, 0},
	{241.577, 262.862, 248.090, 89.3414, -35.3411, 171.7319},
	{286.778, 218.735, 156.640, 152.1147, -12.6181, 98.4124},
	{207.365, 283.605, 232.775, 72.8086, -64.4040, -132.7648},
	{100.962, 192.865, 219.907, 106.7257, -52.7112, -72.8204},
	{264.838, 252.980, 150.282, -137.3937, -62.4361, 38.7462},
	{251.087, 160.465, 270.213, 1.2779, 2.1494, -114.0128},
	{188.155, 289.513, 169.143, -71.8386, -44.4310, 22.7523},
	{239.227, 195.560, 101.783, -130.3784, -20.4954, -19.5343},
	{211.145, 271.527, 252.320, -11.7131, 11.3058, 1.8707},
	{168.165, 269.555, 135.415, -125.2116, -51.1647, 92.4793},
	{290.395, 223.760, 210.670, 117.8391, -43.8914, 114.9999},
}

func posesOf(rows [][6]float64) []geom.Pose {
	var poses []geom.Pose
	for _, p := range rows {
		poses = append(poses, geom.At(vec(p[0], p[1], p[2]), geom.RPY{Roll: p[3], Pitch: p[4], Yaw: p[5]}))
	}
	return poses
}

func TestPivotOfPointer(t *testing.T) {
	c, err := fit.Pivot(posesOf(pointerPoses))
	if err != nil {
		t.Fatal(err)
	}
	// The data set's own answer, second line of pa1-debug-a-output1.txt: read.
	nearVec(t, "published post", c.Post, vec(197.11, 192.68, 192.44), 0.006)
	// A solved example in the same repository, second method: read.
	nearVec(t, "post of the solved example", c.Post, vec(197.113, 192.677, 192.434), 0.003)
	nearVec(t, "recomputed post", c.Post, vec(197.1146, 192.6773, 192.4365), 1e-4)
	nearVec(t, "recomputed tip", c.Tip, vec(-4.5349, -64.1346, -76.5905), 1e-4)
	near(t, "length by design", c.Tip.Norm(), 100, 1e-3)
	// The source's rms is over coordinates, ours over poses.
	near(t, "rms", c.RMS/math.Sqrt(3), 0.0019, 5e-5)
	if c.Widest < fit.WideSpread || c.Condition > 2 {
		t.Errorf("a good set of poses reads widest %v, condition %v", c.Widest, c.Condition)
	}
}

// The flange of a pivot moves on a sphere about the post. A sphere fitted to the
// places alone, which knows nothing of how the flange was turned, must agree:
// |p|² = 2·centre·p + (radius² - |centre|²).
func TestPivotAgreesWithSphere(t *testing.T) {
	poses := posesOf(pointerPoses)
	a, b := mat.NewDense(len(poses), 4, nil), mat.NewVecDense(len(poses), nil)
	for i, p := range poses {
		a.SetRow(i, []float64{2 * p.T.X, 2 * p.T.Y, 2 * p.T.Z, 1})
		b.SetVec(i, p.T.Dot(p.T))
	}
	var x mat.VecDense
	if err := x.SolveVec(a, b); err != nil {
		t.Fatal(err)
	}
	centre := vec(x.AtVec(0), x.AtVec(1), x.AtVec(2))
	radius := math.Sqrt(x.AtVec(3) + centre.Dot(centre))
	nearVec(t, "recomputed centre", centre, vec(197.1146, 192.6779, 192.4368), 5e-4)
	near(t, "recomputed radius", radius, 99.9993, 5e-4)
	c, err := fit.Pivot(poses)
	if err != nil {
		t.Fatal(err)
	}
	nearVec(t, "post", c.Post, centre, 2e-3)
	near(t, "length of the tip", c.Tip.Norm(), radius, 2e-3)
}

// Constructed: post (500, 200, 300), tip (30, -20, 150).
var squarePoses = [][6]float64{
	{470, 220, 150, 0, 0, 0},
	{470, 350, 320, 90, 0, 0},
	{350, 220, 330, 0, 90, 0},
	{480, 170, 150, 0, 0, 90},
	{470, 50, 280, -90, 0, 0},
}

func TestPivotConstructed(t *testing.T) {
	c, err := fit.Pivot(posesOf(squarePoses))
	if err != nil {
		t.Fatal(err)
	}
	nearVec(t, "tip", c.Tip, vec(30, -20, 150), 1e-10)
	nearVec(t, "post", c.Post, vec(500, 200, 300), 1e-10)
	near(t, "largest residual", c.Largest, 0, 1e-10)
	near(t, "widest", c.Widest, 180, 1e-9)
	if c.WidestPair != [2]int{1, 4} {
		t.Errorf("widest pair: got %v, want poses 1 and 4", c.WidestPair)
	}
}

// A plate of 96 wells touched at its corner wells, in the plate's own frame with
// the origin at the bottom left corner and Y up. ANSI/SLAS 4-2004: A1 is 14.38 mm
// from the left edge and 11.24 mm from the top edge, pitch 9 mm; ANSI/SLAS 1-2004:
// 127.76 × 85.48 mm. Secondary.
func TestCornersOfWellPlate(t *testing.T) {
	const length, width, left, top = 127.76, 85.48, 14.38, 11.24
	all := []fit.Corner{
		{Row: 0, Col: 0, At: vec(left, width-top, 0)},
		{Row: 0, Col: 11, At: vec(length-left, width-top, 0)},
		{Row: 7, Col: 0, At: vec(left, top, 0)},
		{Row: 7, Col: 11, At: vec(length-left, top, 0)},
	}
	for _, n := range []int{3, 4} {
		g, err := fit.Corners(all[:n])
		if err != nil {
			t.Fatal(err)
		}
		for i := range 2 {
			near(t, "pitch along columns", g.ColPitch[i], 9, 1e-12)
			near(t, "pitch along rows", g.RowPitch[i], 9, 1e-12)
		}
		near(t, "skew", g.Skew, 0, 1e-12)
		near(t, "miss", g.Miss.Norm(), 0, 1e-12)
		nearVec(t, "D7", g.At(3, 6), vec(14.38+6*9, 74.24-3*9, 0), 1e-12)
		nearVec(t, "H12", g.At(7, 11), vec(113.38, 85.48-74.24, 0), 1e-12)
		// Rows step along -Y, so that columns × rows points down.
		nearVec(t, "normal", g.Normal(2, 2), vec(0, 0, -1), 1e-12)
	}
}
