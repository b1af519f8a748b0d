package timing_test

import (
	"bytes"
	"strings"
	"testing"

	"gridferry/gen/timing"
)

// TestChangeByHandIsTold: a person who changes the tool takes a time that nobody knows. Whoever reads how long the
// job takes reads that with it, not only far below.
func TestChangeByHandIsTold(t *testing.T) {
	moves, machine := demoMoves(t, "two-jaws.plan.yaml")
	r := timing.Measure(moves, machine)
	var table bytes.Buffer
	if err := r.WriteTable(&table, "two-jaws.plan.yaml"); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		", and 1 change of tool by hand (an estimate)\n",
		"parts per hour, since nobody knows how long people take,",
		"  - 1 change of tool by hand, unknown and counted as nothing\n",
	} {
		if !strings.Contains(table.String(), want) {
			t.Errorf("%q is not said:\n%s", want, table.String())
		}
	}
	if r.Hands != 1 || r.Waits.Count != 0 {
		t.Errorf("%d changes by hand and %d waits, wanted 1 and none", r.Hands, r.Waits.Count)
	}
}

// TestChangeByTheArmIsCounted: the way to the stands and back is motions like any others, with their dwells and
// waits. The lids are put on with a cup that the arm fetches and brings back; of the third change the person's half
// alone is unknown.
func TestChangeByTheArmIsCounted(t *testing.T) {
	moves, machine := demoMoves(t, "lids.plan.yaml")
	hands, atStands := 0, map[int]float64{} // s, by transfer
	for s := range timing.Times(moves, machine) {
		if s.Unknown == timing.Hand {
			hands++
		}
		if s.Move.Role.Changing() {
			if atStands[s.Move.Transfer] += s.Seconds; s.Move.Kind.IsMotion() && s.Seconds <= 0 {
				t.Errorf("move %d, %s at a stand, takes no time", s.Move.N, s.Move.Kind)
			}
		}
	}
	if len(atStands) != 3 || atStands[4]*atStands[6]*atStands[7] == 0 || hands != 1 {
		t.Fatalf("seconds at stands by transfer %v and %d changes by hand, wanted those of the transfers 4, 6 and 7, and 1", atStands, hands)
	}
	r := timing.Measure(moves, machine)
	lids := r.Legs[1] // of two, with the change before the first
	if lids.Slowest != 4 || lids.Most-lids.Least < atStands[4]/2 {
		t.Errorf("transfer %d is the slowest of the lids, by %.2f s; wanted 4, which spends %.2f s at the stands", lids.Slowest, lids.Most-lids.Least, atStands[4])
	}
	if said := r.Clock(); !strings.HasSuffix(said, " of unknown length, and 1 change of tool by hand") {
		t.Errorf("it takes %q", said)
	}
}

// TestNoChangeIsToldOfNone: a job with one tool has nobody change it.
func TestNoChangeIsToldOfNone(t *testing.T) {
	moves, machine := demoMoves(t, "mortar-cubes.plan.yaml")
	r := timing.Measure(moves, machine)
	if said := r.Clock() + "\n" + strings.Join(r.LeftOut(), "\n"); r.Hands != 0 || strings.Contains(said, "by hand, unknown") || strings.Contains(said, "change of tool") {
		t.Errorf("%d changes by hand:\n%s", r.Hands, said)
	}
}
