package verify

// What it is worth to lay two lines beside each other. Where many lines changed,
// the motions that are still the same must show where a line is missing, not the
// dwells that stand everywhere.
const (
	worthMotion  = 40 // the same motion, or the same entry of a table
	worthOther   = 5  // the same line of another kind
	worthChanged = 3  // two lines of the same kind that differ
)

func same(x, y *node) bool { return x.key == y.key }

// value is what it is worth to lay two lines beside each other; 0 for lines that
// have nothing in common.
func value(x, y *node) float32 {
	if same(x, y) {
		if x.item.Kind.IsMotion() || x.item.IsEntry() {
			return worthMotion
		}
		return worthOther
	}
	if x.item.Kind == y.item.Kind && x.item.IsMove() == y.item.IsMove() && x.item.IsEntry() == y.item.IsEntry() {
		return worthChanged
	}
	return 0
}
