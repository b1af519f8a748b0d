package family

// Cautions stand at the head of every program. Each line is short enough to be
// a comment on its own in the narrowest family, so that none is ever cut.
//
// The figure is the limit that ISO 10218-1 names for manual reduced speed, at
// the tool centre point.
var Cautions = []string{
	"CAUTION: this text was generated. It is no proof that a motion is safe.",
	"Before it runs: a risk assessment, guarding, and people with the right",
	"licence. Check tool, frames and load against the machine itself.",
	"Prove it out at manual reduced speed (ISO 10218-1: 250 mm/s at the tool",
	"centre point or less), empty first, a hand on the emergency stop.",
	"After a stop, check what the gripper holds before going on.",
	"Local codes and rules stand above anything written here.",
}
