package layout

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// armPlan is orderPlan with an arm of the textbook kind: six axes with a spherical wrist, and speeds and
// accelerations of its joints.
func armPlan(entry, motion string, speeds [6]int) string {
	arm := "  machine: {acceleration: 3000}\n  arm:\n    joints:\n"
	for i, at := range []string{
		"axis: [0, 0, 1], point: [0, 0, 0]", "axis: [0, 1, 0], point: [70, 0, 345]", "axis: [0, 1, 0], point: [70, 0, 735]",
		"axis: [1, 0, 0], point: [70, 0, 775]", "axis: [0, 1, 0], point: [480, 0, 775]", "axis: [1, 0, 0], point: [480, 0, 775]",
	} {
		arm += fmt.Sprintf("      - {%s, range: [-190, 190], speed: %d, acceleration: %d}\n", at, speeds[i], 4*speeds[i])
	}
	arm += "    flange: {at: [560, 0, 775], rpy: [0, 90, 0]}\nparts:"
	grid := "rows: 2, columns: 3, pitch: [60, 50], rpy: [180, 0, %d]"
	text := strings.Replace(orderPlan(fmt.Sprintf(grid, 0), fmt.Sprintf(grid, 35), motion, entry), "\nparts:", "\n"+strings.TrimSuffix(arm, "parts:")+"parts:", 1)
	return strings.NewReplacer("first: [200, -100, 20]", "first: [330, -260, 120]", "first: [260, 100, 20]", "first: [300, 120, 150]").Replace(text)
}

// The quickest order is never slower than the shortest, nor than any order that has a name, and the shortest never longer
// than the quickest; both are the same every time. Six slots on either side are few enough for the best of all.
func TestQuickestIsNeverSlower(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 5))
	other := 0
	for range 12 {
		speeds := [6]int{}
		for i := range speeds {
			speeds[i] = 10 + r.IntN(150)
		}
		order := []string{"%s", "{from: by-row, to: %s}", "{from: %s, to: serpentine}"}[r.IntN(3)]
		text := armPlan("{from: a, to: b, order: "+order+"}", "", speeds)
		short, _ := resolved(t, fmt.Sprintf(text, "shortest"))
		quick, _ := resolved(t, fmt.Sprintf(text, "quickest"))
		again, _ := resolved(t, fmt.Sprintf(text, "quickest"))
		s, q := short.Entries[0], quick.Entries[0]
		if fmt.Sprint(slotsIn(&q.Legs[0].From), slotsIn(&q.Legs[0].To)) != fmt.Sprint(slotsIn(&again.Entries[0].Legs[0].From), slotsIn(&again.Entries[0].Legs[0].To)) {
			t.Error("another order the second time")
		}
		least, length := quick.TravelOf(q, nil, ByTime).Length, short.TravelOf(s, nil, ByLength).Length
		if time := short.TravelOf(s, nil, ByTime).Length; time < least {
			t.Errorf("the shortest order takes %g ms, the quickest %g ms", time, least)
		} else if time > least {
			other++
		}
		if long := quick.TravelOf(q, nil, ByLength).Length; long < length {
			t.Errorf("the quickest order has %g mm, the shortest %g mm", long, length)
		}
		if order != "%s" {
			continue
		}
		for _, o := range []Order{ByRow, ByColumn, Serpentine} {
			if time := quick.TravelOf(quick.InOrder(q, o), nil, ByTime).Length; time < least {
				t.Errorf("order %d takes %g ms, the quickest %g ms", o, time, least)
			}
		}
	}
	if other < 3 {
		t.Errorf("in %d of 12 plans the shortest order was not the quickest: too few to say anything", other)
	}
}

// Above sixteen slots the order is searched for, and the search begins with the shortest.
func TestQuickestThatIsSearched(t *testing.T) {
	text := strings.ReplaceAll(armPlan("{from: a, to: b, order: %s}", "", [6]int{20, 90, 90, 200, 60, 40}), "rows: 2, columns: 3", "rows: 3, columns: 4")
	short, _ := resolved(t, strings.Replace(text, "%s", "shortest", 1))
	quick, _ := resolved(t, strings.Replace(text, "%s", "quickest", 1))
	slow, least := short.TravelOf(short.Entries[0], nil, ByTime).Length, quick.TravelOf(quick.Entries[0], nil, ByTime).Length
	if least > slow || least == 0 {
		t.Errorf("the shortest order takes %g ms, the quickest %g ms", slow, least)
	}
}

// Without an arm the time is that of the TCP, from stop to stop: by h/v + v/a, or 2·√(h/a) where the way is too short for
// that (Lynch & Park, Modern Robotics, 9.2.2.2, from memory). A and B lie 200 mm and 60 mm apart, at 200 mm/s and 3000 mm/s²; with a
// part the arm goes at half the speed, which is counted as the mean of both ways.
func TestTimeWithoutAnArm(t *testing.T) {
	one := "rows: 1, columns: 2, pitch: [60, 60]"
	text := strings.Replace(orderPlan(one, one, "", "{from: a, to: b, order: quickest}"), "\nparts:", "\n  machine: {acceleration: 3000}\nparts:", 1)
	text = strings.Replace(text, "first: [260, 100, 20]", "first: [200, 100, 20]", 1)
	for loaded, want := range map[string]float64{"": 2*(1+0.2/3) + 1.044030650891055 + 0.2/3, ", loaded: 100": 2*(1+0.2/3+2+0.1/3)/2 + (1.044030650891055+0.2/3+2*1.044030650891055+0.1/3)/2} {
		l, _ := resolved(t, strings.Replace(text, "near: 40", "near: 40"+loaded, 1))
		if got := l.TravelOf(l.Entries[0], nil, ByTime).Length / 1000; got < want-3e-6 || got > want+3e-6 {
			t.Errorf("%q: %g s, wanted %g", loaded, got, want)
		}
	}
}

// Over a clear pose no order is quicker, and that is said so.
func TestQuickestOverAClearPose(t *testing.T) {
	_, found := resolved(t, orderPlan(flat, flat, ", clear: high", "{from: a, to: b, order: quickest}"))
	if len(found) == 0 || !strings.Contains(found[0].Message, "no order is quicker than another") {
		t.Errorf("found %v", found)
	}
}
