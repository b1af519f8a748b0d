package expand_test

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"testing"

	"gridferry/gen/expand"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/golden/simulate"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// TestAgainstSimulator makes random plans with all keys together, and holds the findings, every move
// in order, and what stands where in the end to the simulator's. GRIDFERRY_PLANS says how many.
func TestAgainstSimulator(t *testing.T) {
	outcomes, moves := map[string]int{}, map[string]int{}
	var faults []string
	folder := t.TempDir()
	for seed := range simulate.Plans(t) {
		drawn := simulate.Draw(seed)
		if fault := holdPlan(drawn.Source(t, folder), outcomes, moves); fault != "" {
			faults = append(faults, fmt.Sprintf("plan %d: %s\n%s", seed, fault, drawn))
		}
	}
	if faults != nil {
		t.Errorf("%d plans differ; the shortest is %s", len(faults), slices.MinFunc(faults, func(a, b string) int { return len(a) - len(b) }))
	}
	t.Logf("ends of plans: %v; moves with something rare: %v", outcomes, moves)
	if simulate.Plans(t) < 2000 {
		return // a handful of plans need not be varied
	}
	for _, rule := range []string{"", "count-mismatch", "count-unknown", "id-mismatch", "single-slot-stop", "nothing-to-move", "change-without-clear", "two-tools", "against-flow", "slot-repeated", "slot-missing"} {
		if outcomes[rule] == 0 {
			t.Errorf("no random plan ended with %q: the plans are not as varied as they should be (%v)", rule, outcomes)
		}
	}
	for _, what := range []string{"zones at once", "another zone", "another tool", "by hand", "optional stop", "fly-by", "pulse", "await", "inertia"} {
		if moves[what] == 0 {
			t.Errorf("no random plan has a move with %s (%v)", what, moves)
		}
	}
}

// holdPlan says where a plan and the simulator part; "" if they do not.
func holdPlan(source plan.Source, outcomes, moves map[string]int) string {
	p, l, findings := resolve(source)
	if p == nil {
		return fmt.Sprintf("it cannot be read: %+v", findings)
	}
	want := simulate.Play(p)
	outcomes[want.Refused]++
	if fault := holdFindings(want, findings); fault != "" || want.Refused != "" {
		return fault
	}
	for i := range want.Moves {
		count(moves, &want.Moves[i])
	}
	if fault := compare(want, expand.Moves(l)); fault != "" || want.Wrong != "" {
		return fault
	}
	if end := followed(l, want.Start); !maps.Equal(end, want.End) {
		return fmt.Sprintf("the moves end with %v, wanted %v", end, want.End)
	}
	return ""
}

// followed is which part stands where in the end, by nothing but what the moves grip and release.
func followed(l *layout.Layout, start map[string]string) map[string]string {
	now, held := maps.Clone(start), map[string]string{}
	for m := range expand.Moves(l) {
		at := m.Target.String()
		feeder := slices.ContainsFunc(l.Grids, func(g *layout.Grid) bool { return g.Name == m.Target.Grid && g.Feeder() })
		switch {
		case m.Kind == move.Grip:
			if held[m.Tool] = now[at]; !feeder {
				delete(now, at)
			}
		case m.Kind == move.Release && at != "" && !feeder:
			now[at] = held[m.Tool]
		}
	}
	return now
}

// count notes what is rare in a move.
func count(moves map[string]int, m *simulate.Move) {
	for what, has := range map[string]bool{
		"zones at once": m.Zones > 1, "another zone": m.Shifts && m.Group > 0, "another tool": m.Shifts && m.Group == 0,
		"by hand": m.ByHand, "optional stop": m.Pause, "fly-by": m.FlyBy > 0, "pulse": m.Pulse, "await": m.Action == "await", "inertia": m.Inertia[0] > 0,
	} {
		if has {
			moves[what]++
		}
	}
}

// holdFindings: the plan is refused where the simulator says so, for what it says, or not at all.
func holdFindings(want *simulate.Job, errors []diag.Finding) string {
	switch {
	case want.Refused == "" && len(errors) > 0:
		return fmt.Sprintf("unexpected %+v", errors)
	case want.Refused != "" && !slices.ContainsFunc(errors, func(f diag.Finding) bool {
		return f.Rule == want.Refused && (f.Place.File != "random" || want.Lines[0] <= f.Place.Line && f.Place.Line <= want.Lines[1])
	}):
		return fmt.Sprintf("wanted %s in the lines %d to %d, got %+v", want.Refused, want.Lines[0], want.Lines[1], errors)
	}
	return ""
}

// resolve takes a plan to its layout, or to its errors in order of place.
func resolve(source plan.Source) (*plan.Plan, *layout.Layout, []diag.Finding) {
	var list diag.List
	p := plan.Read(source, nil, &list, new(diag.Sources))
	if list.HasErrors() {
		return nil, nil, list.Sorted()
	}
	l := layout.Resolve(p, layout.Options{}, &list)
	return p, l, slices.DeleteFunc(list.Sorted(), func(f diag.Finding) bool { return f.Severity != diag.Error })
}

// compare says where two lists part, "" if they do not.
func compare(job *simulate.Job, got move.Seq) string {
	want, n := job.Moves, 0
	for m := range got {
		if n++; m.N != n {
			return fmt.Sprintf("move %d is numbered %d", n, m.N)
		}
		if n > len(want) {
			return fmt.Sprintf("move %d is one too many: %s", n, m.Describe())
		}
		if w, g := toldOf(&want[n-1]), told(&m); w != g || !near(&want[n-1], &m) || n <= job.Sound && !nearLoad(&want[n-1], &m) {
			return fmt.Sprintf("move %d is %s at %v %v, centre %v, inertia %v\nwanted  %s at %v %v, centre %v, inertia %v", n, g, m.At, m.Base, m.Centre(), m.Inertia(),
				w, want[n-1].At, want[n-1].Base, want[n-1].Centre, want[n-1].Inertia)
		}
	}
	if n < len(want) {
		return fmt.Sprintf("%d moves, wanted %d, next %s", n, len(want), toldOf(&want[n]))
	}
	return ""
}

// told is all of a move that has to be equal.
func told(m *move.Move) string {
	id := ""
	if m.ID != nil {
		id = *m.ID
	}
	return fmt.Sprintf("%s %d.%d %v %v frame %s %d tool %s %d, %g mm/s fly-by %g, signal %d %t %t, %g s, %q line %d, first %t after hand %t shifts %t pulse %t pause %t by hand %t, zones %d group %d behind %d",
		id, m.Transfer, m.Leg, m.Kind, m.Target, m.Frame, m.FrameNumber, m.Tool, m.ToolNumber, m.Speed, m.FlyBy, m.Signal, m.Level, m.GoOn, m.Seconds, m.Text, cmp.Or(m.ListedAt, m.Place.Line),
		m.First, m.AfterHand, m.Shifts, m.Pulse, m.Pause, m.ByHand, m.Zones, m.Group, m.Behind)
}

func toldOf(m *simulate.Move) string {
	return fmt.Sprintf("%s %d.%d %v %v frame %s %d tool %s %d, %g mm/s fly-by %g, signal %d %t %t, %g s, %q line %d, first %t after hand %t shifts %t pulse %t pause %t by hand %t, zones %d group %d behind %d",
		m.ID, m.Transfer, m.Leg, m.Action, m.Target, m.Frame, m.FrameNumber, m.Tool, m.ToolNumber, m.Speed, m.FlyBy, m.Signal, m.Level, m.GoOn, m.Seconds, m.Text, m.Line,
		m.First, m.AfterHand, m.Shifts, m.Pulse, m.Pause, m.ByHand, m.Zones, m.Group, m.Behind)
}

// near compares poses that were worked out.
func near(want *simulate.Move, m *move.Move) bool {
	const mm, degrees = 1e-8, 1e-8
	return !(m.Kind.IsMotion() && !(want.At.Near(poseOf(&m.At), mm, degrees) && inRange(&m.At)) || (m.Kind.IsMotion() || m.Shifts) && !(want.Base.Near(poseOf(&m.Base), mm, degrees) && inRange(&m.Base)))
}

// nearLoad compares masses, centres of gravity and moments of inertia.
func nearLoad(want *simulate.Move, m *move.Move) bool {
	const mm, kg = 1e-8, 1e-12
	for i, c := range []float64{m.Centre().X, m.Centre().Y, m.Centre().Z, m.Inertia().X * 1e3, m.Inertia().Y * 1e3, m.Inertia().Z * 1e3} {
		w := want.Centre[i%3]
		if i > 2 {
			w = want.Inertia[i%3] * 1e3
		}
		if math.Abs(c-w) > mm {
			return false
		}
	}
	return math.Abs(m.Load-want.Load) < kg
}

func poseOf(p *move.Point) simulate.Pose {
	return simulate.Pose{R: simulate.RPY(simulate.Vec{p.Roll, p.Pitch, p.Yaw}), At: simulate.Vec{p.X, p.Y, p.Z}}
}

// inRange: roll and yaw go from −180, not included, to 180.
func inRange(p *move.Point) bool {
	return p.Roll > -180 && p.Roll <= 180 && p.Yaw > -180 && p.Yaw <= 180
}
