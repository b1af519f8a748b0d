package draw

import "testing"

// TestLabelsStandBesideTheirThings: a label without a leader stands above, below or beside
// its thing, though a place at its corner is a little freer.
func TestLabelsStandBesideTheirThings(t *testing.T) {
	pallet := box(100, 40, 50, 40)
	for _, l := range []leader{{}, {to: pallet.corners()[0]}} {
		p := placer{in: box(0, 0, 200, 100), soft: []rect{box(100, 38.5, 50, 0.05), box(150, 0, 50, 100), box(0, 42, 150, 58)}}
		r := p.near(pallet, 40, 3, func(rect) leader { return l })
		if aslant(pallet, r) != (l != leader{}) {
			t.Errorf("with the leader %v the label is at %v, its thing at %v", l, r, pallet)
		}
	}
}
