package wordaddress

// A Kind says what an event does.
type Kind string

// The kinds of event, in the words of NISTIR 6556 and ISO 6983-1.
const (
	Traverse Kind = "traverse" // G0
	Feed     Kind = "feed"     // G1
	Arc      Kind = "arc"      // G2, G3
	Dwell    Kind = "dwell"    // G4
	Stop     Kind = "stop"     // M0: cycle start goes on
	Clamp    Kind = "clamp"    // M10
	Unclamp  Kind = "unclamp"  // M11
	End      Kind = "end"      // M2, M30
)

// An Event is one thing that the machine does, with the state that is in force.
type Event struct {
	Line int // of the program
	Kind Kind

	// At is where the axes stand after the event, in the coordinate system in
	// force; Machine is the same place without work and G92 offsets.
	At, Machine Position
	Unknown     string // letters of the axes that no block has placed yet; they read 0
	System      int    // 1 for G54 … 9 for G59.3
	ExactPath   bool   // G61; false is G64, and the state before either is written

	// Rate is for Feed and Arc: mm/min, or deg/min where only rotary axes turn
	// (2.1.2.5). 0 for the others.
	Rate   float64
	Rotary bool // Rate is in deg/min
	// Seconds is how long a Feed, Arc or Dwell takes at that rate; NaN where the
	// move starts from an axis of unknown place.
	Seconds float64

	// Center, Plane and Clockwise are for Arc; the axis normal to the plane
	// keeps its starting value in Center.
	Center    Position
	Plane     int // 17 XY, 18 XZ, 19 YZ
	Clockwise bool

	Tool    int     // the last T, 0 when none
	Spindle float64 // the last S, 0 when none
}
