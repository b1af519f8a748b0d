package family

import (
	"reflect"
	"sync"

	"gridferry/gen/family/blocks"
)

// entered is what has to be entered at the controller, as soon as somebody has asked: to
// find it out, blocks are run.
type entered struct {
	once          sync.Once
	frames, tools bool
}

// Entered reports whether somebody has to enter the frames at the controller, because
// points are written in them and no block writes where they are; and whether the tools'
// centre points, which no block writes.
func (f *Family) Entered() (frames, tools bool) {
	e := &f.entered
	e.once.Do(func() {
		e.frames = !f.BaseCoordinates && !f.Loops && !newOutputProbe(f).writesPosesOf("Frames")
		e.tools = !f.Loops && !newOutputProbe(f).writesPosesOf("Tools")
	})
	return e.frames, e.tools
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
