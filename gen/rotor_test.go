package gen_test

import (
	"fmt"
	"math"
	"math/bits"
	"math/cmplx"
	"math/rand/v2"
	"strings"
	"testing"

	"gridferry/gen/geom"
)

// spinner is a plan with a rotor of two rings, the second one of heavier parts, and a rack; and the places and
// masses worked out beside it: textbook static balance, by complex numbers.
type spinner struct {
	text    string
	at      map[string]complex128 // by slot, "ring A1": mass times position, g·mm
	full    map[string]bool
	choices []string // slots that the entry may choose among
	sign    float64  // of what the entry does to a slot
	parts   int
}

func spin(random *rand.Rand) *spinner {
	s := &spinner{at: map[string]complex128{}, full: map[string]bool{}, sign: 1}
	places, others := 2+random.IntN(11), 1+random.IntN(6)
	start, emptied := float64(random.IntN(360)), random.IntN(2) == 0
	var filled, missing []string
	for k := range places {
		name := fmt.Sprintf("ring A%d", k+1)
		s.at[name] = cmplx.Rect(12*80, (start+360*float64(k)/float64(places))*math.Pi/180)
		switch kind := random.IntN(6); {
		case kind == 0 && len(missing) < places-1:
			missing = append(missing, name[5:])
		case kind < 3 || emptied:
			filled = append(filled, name[5:])
			s.full[name] = true
		}
		if s.full[name] == emptied && !contains(missing, name[5:]) {
			s.choices = append(s.choices, name)
		}
	}
	var heavy []string
	for k := range others {
		name := fmt.Sprintf("heavy A%d", k+1)
		s.at[name] = cmplx.Rect(30*40, (2*math.Pi*float64(k))/float64(others))
		if random.IntN(2) == 0 {
			heavy = append(heavy, name[6:])
			s.full[name] = true
		}
	}
	if len(s.choices) == 0 {
		return spin(random)
	}
	s.parts = 1 + random.IntN(len(s.choices))
	from, to := "rack", "ring"
	if emptied {
		from, to, s.sign = to, from, -1
	}
	s.text = strings.NewReplacer("PLACES", fmt.Sprint(places), "START", fmt.Sprint(start), "OTHERS", fmt.Sprint(others), "FILLED", selection(filled),
		"MISSING", "["+strings.Join(missing, ", ")+"]", "HEAVY", selection(heavy), "RACK", map[bool]string{true: "none", false: "all"}[emptied],
		"FROM", from, "TO", to, "TAKE", fmt.Sprint(s.parts)).Replace(spinPlan)
	return s
}

const spinPlan = `format: gridferry plan 1
cell:
  format: gridferry cell 1
  name: bench
  machine: {reach: {radius: [50, 900], height: [0, 400]}}
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 0.5, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  poses: {clear: {at: [300, 0, 300]}}
parts: {tube: {mass: 12 g}, can: {mass: 30 g}}
grids:
  rack: {frame: base, rows: 1, columns: 20, pitch: [30, 0], first: [100, -200, 20], part: tube, filled: RACK}
  ring: {frame: base, first: [400, 200, 20], ring: {radius: 80, places: PLACES, start: START}, part: tube, filled: FILLED, missing: MISSING}
  heavy: {frame: base, first: [400, 200, 20], ring: {radius: 40, places: OTHERS, balance: 0}, part: can, filled: HEAVY}
motion: {tool: jaw, approach: 50, speed: {travel: 500, near: 60}, clear: clear}
transfers:
  - {from: FROM, to: TO, order: balanced, take: TAKE}
`

func contains(list []string, text string) bool {
	return strings.Contains(" "+strings.Join(list, " ")+" ", " "+text+" ")
}

func selection(slots []string) string {
	if len(slots) == 0 {
		return "none"
	}
	return "[" + strings.Join(slots, ", ") + "]"
}

// sum is how the rotor stands with some more slots filled, or emptied.
func (s *spinner) sum(changed ...string) complex128 {
	sum := complex(0, 0)
	for name, m := range s.at {
		if s.full[name] {
			sum += m
		}
	}
	for _, name := range changed {
		sum += complex(s.sign, 0) * s.at[name]
	}
	return sum
}

// best is the least that any choice comes to.
func (s *spinner) best() float64 {
	best := math.Inf(1)
	for set := range 1 << len(s.choices) {
		if bits.OnesCount(uint(set)) != s.parts {
			continue
		}
		var changed []string
		for i, name := range s.choices {
			if set>>i&1 == 1 {
				changed = append(changed, name)
			}
		}
		best = min(best, cmplx.Abs(s.sum(changed...)))
	}
	return best
}

// What the arm does to a rotor is what balances it best, of all that it could do, and the finding at the end of the job says how far
// that is off, if it is.
func TestRotorsAreBalanced(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	rounds, even, odd := 250, 0, 0
	if testing.Short() {
		rounds = 60
	}
	for round := range rounds {
		s := spin(random)
		j := jobOf(t, s.text)
		if !j.Check() {
			t.Fatalf("round %d: %s\n%s", round, errorsOf(j), s.text)
		}
		var changed []string
		worst := 0.0
		for m := range j.Moves() {
			if (m.Takes() || m.Puts()) && m.Target.Grid == "ring" {
				changed = append(changed, "ring "+m.Target.Slot.Label(false))
				worst = max(worst, cmplx.Abs(s.sum(changed...)))
			}
		}
		end, best := cmplx.Abs(s.sum(changed...)), s.best()
		if len(changed) != s.parts || math.Abs(end-best) > 0.01 {
			t.Errorf("round %d: %v leaves %g g·mm, and the best is %g\n%s", round, changed, end, best, s.text)
		}
		found := errorsOf(j)
		told := strings.Contains(found, "rotor-unbalanced")
		if out := end > 0.01; out {
			odd++
			if said := fmt.Sprintf("out of balance by %.6g g·mm", end); !strings.Contains(found, said) {
				t.Errorf("round %d: %s does not say %q", round, found, said)
			}
		} else if even++; told != (worst > 12*80+0.01) {
			t.Errorf("round %d: it is up to %g out of balance on the way, and in the end in balance: %s", round, worst, found)
		}
	}
	if even < rounds/20 || odd < rounds/20 {
		t.Errorf("%d end in balance, %d do not: too few to tell", even, odd)
	}
}

// A part that is taken out of a place with the tool turned one way, and put into one with the tool turned another
// way, lies turned there by the difference, however the two places are turned themselves: the tool at a slot is
// Rz(turned) · rpy, so part = tool₂ · tool₁⁻¹ · Rz(turned₁) = Rz(turned₂ + yaw₂ − yaw₁). Turns that make no
// difference to the part are left aside, and from half a degree on there is a warning.
func TestHowPartsLieInRingsAndPlaces(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 10))
	period := map[string]float64{"round": 0, "quarter": 90, "half": 180, "none": 360}
	warned := 0
	for round := range 150 {
		symmetry := []string{"round", "quarter", "half", "none"}[random.IntN(4)]
		yaw := [2]float64{float64(random.IntN(24) * 15), float64(random.IntN(24) * 15)}
		if random.IntN(2) == 0 {
			yaw[1] = yaw[0] + float64(random.IntN(5))*90
		}
		turns, frame := [2]float64{float64(random.IntN(720) - 360), 0}, float64(random.IntN(360))
		text := strings.NewReplacer("SYMMETRY", symmetry, "YAW1", fmt.Sprint(yaw[0]), "YAW2", fmt.Sprint(yaw[1]), "TURNED", fmt.Sprint(turns[0]),
			"FRAME", fmt.Sprint(frame), "START", fmt.Sprint(random.IntN(360))).Replace(liePlan)
		j := jobOf(t, text)
		if !j.Check() {
			t.Fatalf("round %d: %s\n%s", round, errorsOf(j), text)
		}
		last := j.Layout.Grids[1]
		follower := j.Layout.Follow()
		for m := range j.Moves() {
			follower.See(&m)
		}
		for i := range last.Size() {
			_, turned := last.Pattern.At(last.Slot(i))
			lies := follower.Lies(last)
			got := last.Frame.Base.R.Mul(last.Pose(last.Slot(i), j.Layout.Parts[0], lies.Way(lies.At(i))).R)
			off := got.T().Mul(geom.RotZ(frame + turned + yaw[1] - yaw[0])).Angle()
			if same := period[symmetry]; same == 0 {
				off = 0
			} else {
				off = math.Abs(off - same*math.Round(off/same))
			}
			if off > 1e-6 {
				t.Errorf("round %d: the part in %s is off by %g°\n%s", round, last.Label(last.Slot(i)), off, text)
			}
		}
		turn := yaw[1] - yaw[0]
		if same := period[symmetry]; same == 0 {
			turn = 0
		} else {
			turn -= same * math.Round(turn/same)
		}
		if told := strings.Contains(errorsOf(j), "part-turned"); told != (math.Abs(turn) >= 0.5) {
			t.Errorf("round %d: turned by %g°, told: %v\n%s", round, turn, told, text)
		} else if told {
			warned++
		}
	}
	if warned < 20 {
		t.Errorf("%d rounds were warned of: too few to tell", warned)
	}
}

const liePlan = `format: gridferry plan 1
cell:
  format: gridferry cell 1
  name: bench
  machine: {reach: {radius: [50, 900], height: [0, 400]}}
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 0.5, grip: {output: 1, level: on}, release: {output: 1, level: off}}}
  frames: {spin: {at: [300, 200, 0], rpy: [0, 0, FRAME]}}
  poses: {clear: {at: [300, 0, 300]}}
parts: {block: {mass: 0.2, size: [20, 20, 20], symmetry: SYMMETRY}}
grids:
  odd: {frame: base, places: {A: [[200, -200, 20], {at: [300, -180, 20], turned: TURNED}], B: [{at: [250, -300, 20], turned: 75}]}, rpy: [180, 0, YAW1], part: block, filled: all}
  ring: {frame: spin, first: [0, 0, 20], ring: {radius: 80, places: 3, start: START, turned: radial}, rpy: [180, 0, YAW2], part: block}
motion: {tool: jaw, approach: 50, speed: {travel: 500, near: 60}, clear: clear}
transfers:
  - {from: odd, to: ring}
`

// A part that would fit lies across its slot where the tool is turned, and then does not fit: in a ring, turned or not.
func TestTurnedPartsDoNotFitInRings(t *testing.T) {
	text := strings.NewReplacer("SYMMETRY", "half", "size: [20, 20, 20]", "size: [20, 60, 20]", "YAW1", "0", "TURNED", "0", "FRAME", "30", "START", "0",
		"places: 3,", "places: 3, step: 40,").Replace(liePlan)
	for yaw, want := range map[string]string{"90": "", "0": "error part-"} {
		j := jobOf(t, strings.ReplaceAll(text, "YAW2", yaw))
		j.Check()
		if got := errorsOf(j); strings.Contains(got, "error part-") != (want != "") {
			t.Errorf("turned by %s°: %q, wanted %q", yaw, got, want)
		}
	}
}

// Of two parts above each other only one has its opposite: the other is named.
func TestPartsWithNoneOppositeInLayers(t *testing.T) {
	text := strings.NewReplacer("PLACES", "6", "START", "0", "OTHERS", "1", "FILLED", "[A1.1, A4.1]", "MISSING", "[]", "HEAVY", "none", "RACK", "all",
		"FROM", "rack", "TO", "ring A4.2", ", order: balanced", "", "TAKE", "1", "places: PLACES, start: START}", "places: 6}, layers: 2, layer_pitch: 20").Replace(spinPlan)
	j := jobOf(t, text)
	j.Check()
	if found, want := errorsOf(j), "3 parts stand in it, with none opposite ring A4.2"; !strings.Contains(found, want) {
		t.Errorf("%s does not say %q", found, want)
	}
}
