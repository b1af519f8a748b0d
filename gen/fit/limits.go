package fit

const (
	// MinDistance is how far apart two touched points have to lie, in mm. A
	// touch by hand is good to some tenths of a millimetre, so that across less
	// than this it says nothing about a direction.
	MinDistance = 1.0

	// MinAngle is how far off one line three points have to be, in degrees.
	// Below it an error across the line is magnified more than 57 times
	// (1/sin 1°).
	MinAngle = 1.0

	// minRatio is MinAngle as a ratio of spreads, sin 1°. It serves where there
	// is no corner to measure an angle at: many points, or many poses.
	minRatio = 0.017452406437283512

	// Farthest is the largest coordinate taken for a length in mm: beyond it,
	// a thousand kilometres, a value is a mistake, and squares lose their meaning.
	Farthest = 1e9

	// MostPoints is how many points, or poses, one fit takes: every two of them are
	// looked at. Nobody touches as many, and more than some dozens say nothing new.
	MostPoints = 1000

	// WideSpread is the angle, in degrees, that the two most different poses of a
	// tool centre measurement should reach; below it the figure deserves a
	// warning. Common practice, no source.
	WideSpread = 60.0

	// sameFit is the difference, in mm, below which one fit is not better than
	// another: a choice between two must not hang on rounding.
	sameFit = 1e-9
)
