package render

import (
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// The rules that only writing can find broken.
const (
	ruleKind     = "kind-not-possible"     // the family has no words for this kind of move
	ruleTilted   = "tool-tilted"           // the family writes a turn about the vertical only
	ruleNumber   = "number-not-finite"     // a figure is NaN, infinite or absurdly large
	ruleLong     = "line-too-long"         // longer than the family's longest line
	ruleLetter   = "not-in-encoding"       // a character that the family's encoding lacks
	ruleControl  = "control-character"     // a character that would change what the lines mean
	ruleAllowed  = "letter-not-allowed"    // a character that the family's "letters" lack
	ruleWide     = "figure-too-wide"       // a figure has more characters than the family's field
	ruleNothing  = "rounds-to-nothing"     // a speed or a wait that the family's decimals make 0 of
	rulePercent  = "machine-speed-unknown" // percent of a speed that the cell does not give
	ruleOutput   = "output-too-large"      // more bytes than --max-output
	ruleTransfer = "transfer-too-long"     // a transfer alone has more lines than a file may have
	ruleParts    = "too-many-parts"        // the calls alone have more lines than a file may have
	ruleTemplate = "template-failed"       // a template stopped while running
)

// findings says the same thing about the same spot once, however many moves it
// is true of.
type findings struct {
	list *diag.List
	seen map[finding]bool
}

type finding struct {
	rule  string
	place diag.Place
	about string
}

func (f *findings) errorf(rule string, at diag.Place, about, format string, args ...any) *diag.Finding {
	if !f.isNew(finding{rule, at, about}) {
		return new(diag.Finding)
	}
	return f.list.Errorf(rule, at, format, args...)
}

// isNew tells whether this was not found before, and remembers it.
func (f *findings) isNew(key finding) bool {
	before := f.seen[key]
	f.seen[key] = true
	return !before
}

// How far a tool may lean, in degrees, where only a turn about the vertical can
// be written: up to upright nobody says anything (0.01° moves the tip of a 200 mm
// tool by 0.03 mm); up to touched it is worth a warning, since a frame that was
// touched with a tool tip is never quite level (0.1 mm over a baseline of 100 mm
// is 0.06°, common practice, no source); beyond, the pose is another one than the
// plan asks for.
const (
	upright = 0.01
	touched = 0.5
)

// checkUpright finds targets that need a tilted tool, each grid and waypoint once.
func (p *program) checkUpright(m move.Move) {
	lean := m.Base.RPY.Rot().Column(2).AngleTo(geom.Vec{Z: -1})
	name := m.Target.Waypoint
	if m.Target.Grid != "" {
		name = m.Target.Grid
	}
	if lean <= upright || !p.found.isNew(finding{ruleTilted, diag.Place{}, name}) {
		return
	}
	if lean <= touched {
		p.found.list.Warnf(ruleTilted, m.Place, "at %q the tool leans %.2f degrees from straight down, and this family writes it as upright", name, lean).
			WithHint("the tool centre point stays where the plan puts it; choose a family that writes whole orientations if the lean matters")
		return
	}
	p.found.list.Errorf(ruleTilted, m.Place, "at %q the tool leans %.2f degrees from straight down, and this family writes only the turn about the vertical", name, lean).
		WithHint("point the tool down there (rpy: [180, 0, YAW] in a level frame) or choose a family that writes whole orientations")
}
