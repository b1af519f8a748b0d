package family

import (
	"gridferry/gen/family/rules"
	"gridferry/gen/move"
	"gridferry/plan/diag"
)

// RuleFrame is a program that selects frames although its points are all in the base.
const RuleFrame = "frame-beside-base"

// WarnFrames warns where the block "select" puts the frame into the program outside of
// comments while every point is written in the base: a controller that obeys it takes
// the points in that frame, and drives to the wrong place.
func (f *Family) WarnFrames(list *diag.List) {
	frame := []string{"Frame", "FrameNumber", "FramePlace", "FrameLabel", "FrameChanged"}
	if !f.BaseCoordinates || f.Loops || f.Comment.Form == rules.Plain || !f.Has(move.Select.String()) {
		return // no machine obeys a plain text
	}
	at, asks := f.Asks(move.Select.String(), frame...)
	if !asks || !newOutputProbe(f).affects(move.Select, frame...) {
		return
	}
	list.Warnf(RuleFrame, at, "the block \"select\" puts the frame into the program, but \"coordinates: base\" writes every point in the base").
		WithHint("a controller that selects this frame takes the points in it and drives to the wrong place: write \"coordinates: frame\" in %s, or leave the frame out of \"select\"", rules.File).
		WithNote(f.CoordinatesAt, "the coordinates")
}
