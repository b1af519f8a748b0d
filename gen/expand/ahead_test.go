package expand_test

import (
	"iter"
	"strconv"
	"strings"
	"testing"

	"gridferry/gen/expand"
	"gridferry/gen/layout"
	"gridferry/gen/move"
)

// manyParts is the layout of twoParts for many more.
func manyParts(t *testing.T, rows int) *layout.Layout {
	t.Helper()
	return laidOut(t, strings.ReplaceAll(twoParts, "rows: 1", "rows: "+strconv.Itoa(rows)))
}

// TestAheadIsTheSameList: made on another core or not, left early or not.
func TestAheadIsTheSameList(t *testing.T) {
	l := manyParts(t, 2000)
	for _, most := range []int{1, 100, 30_000, 1 << 30} {
		n := 0
		next, stop := iter.Pull(expand.Moves(l))
		for m := range move.Single(expand.Ahead(l, expand.Whole)) {
			want, ok := next()
			if !ok || m != want {
				t.Fatalf("move %d is %+v, wanted %+v", n, m, want)
			}
			if n++; n == most {
				break
			}
		}
		if _, more := next(); more != (n == most) {
			t.Errorf("after %d moves: %v", n, more)
		}
		stop()
	}
}
