package readback

import (
	"gridferry/gen/family"
	"gridferry/gen/move"
)

// NewFilledReader is NewReader that also fills in what lines leave out, with the
// values that hold on from the lines before.
func NewFilledReader(f *family.Family, job move.Job, each func(*Item)) *Reader {
	state := newState(&f.Reads)
	return NewReader(f, job, func(item *Item) {
		state.complete(item)
		each(item)
	})
}
