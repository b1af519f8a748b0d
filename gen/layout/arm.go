package layout

import (
	"gridferry/gen/arm"
	"gridferry/plan/diag"
)

// Arm is the arm as far as the cell says what it is.
type Arm struct {
	*arm.Arm
	Place  diag.Place
	Prefer arm.Configuration // of several that serve as well
}
