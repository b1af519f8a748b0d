package move

// Path is what lies between the two ends of a travel. Which it is, a family says: the
// list leaves it to the controller.
type Path uint8

const (
	JointPath Path = iota // every joint goes evenly: nothing here knows where that leads
	LinePath              // a straight line, as of a straight
	AxesPath              // each axis moves for itself: any place between the ends' least and greatest X, Y and Z
)
