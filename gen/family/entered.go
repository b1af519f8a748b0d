package family

import (
	"reflect"

	"gridferry/gen/family/blocks"
)

// FramesAreEntered reports whether somebody has to enter the frames at the controller:
// points are written in them, and no block writes where they are.
func (f *Family) FramesAreEntered() bool {
	return !f.BaseCoordinates && !f.Loops && !newOutputProbe(f).writesPosesOf("Frames")
}

// ToolsAreEntered reports the same of the tools' centre points.
func (f *Family) ToolsAreEntered() bool {
	return !f.Loops && !newOutputProbe(f).writesPosesOf("Tools")
}

// writesPosesOf reports whether the head or the end of a program shows, comments aside,
// where the items of one of its lists are.
func (p *outputProbe) writesPosesOf(list string) bool {
	for _, block := range []string{blocks.Begin, blocks.End} {
		for _, holds := range []bool{true, false} {
			view := reflect.New(reflect.TypeFor[blocks.Head]()).Elem()
			fill(view, holds)
			items := view.FieldByName(list)
			items.Set(reflect.MakeSlice(items.Type(), 1, 1))
			fill(items.Index(0), true)
			before := p.obeyed(block, view)
			for _, axis := range []string{"X", "Y", "Z"} {
				change(items.Index(0), axis)
			}
			if p.obeyed(block, view) != before {
				return true
			}
		}
	}
	return false
}
