package golden

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gridferry/golden/corpus"
	st "gridferry/golden/structuredtext"
	"gridferry/golden/wordaddress"
)

// firstRuns are how the first runs below are asked for.
var firstRuns = []struct {
	speed, lift float64
	args        []string
}{
	{250, 50, []string{"--prove-out"}},
	{100, 35, []string{"--prove-out", "--speed", "100", "--lift", "35"}},
	{250, 20, []string{"--prove-out", "--lift", "20", "--gripper", "work", "--from", "2"}},
}

// TestFirstRuns runs the word-address and structured-text programs of first runs:
// no motion is faster than was asked for, none is a rapid, and every one ends where
// the motion of the whole job ends, lifted by as much as was asked for at slots and
// above them. Each plan has one of the first runs, and with GRIDFERRY_WAYS=all each of them.
func TestFirstRuns(t *testing.T) {
	t.Chdir(demoFolder)
	firstRuns, held, least := firstRuns, map[string]int{}, 8
	if testing.Short() {
		firstRuns, least = firstRuns[2:], 2
	}
	for i, plan := range corpus.Plans(t, "") {
		for k, r := range firstRuns {
			if corpus.Long(plan) && r.speed != 100 || !corpus.Long(plan) && (i+k)%len(firstRuns) != 0 && os.Getenv("GRIDFERRY_WAYS") == "" {
				continue // the plans take turns; of the long one the quickest is enough
			}
			from := r.args[min(len(r.args), indexOf(r.args, "--from")):]
			if refused := run(append([]string{"moves", plan}, from...)...); strings.Contains(refused.stderr, "[resume-in-group]") {
				continue // the transfer is not the first of its group
			}
			whole := listMoves(t, plan, from...)
			for family, deeds := range map[string]func(*testing.T, string, []listed) []deed{"iso6983": wordAddressDeeds, "st": structuredTextDeeds} {
				written := run(append([]string{"write", plan, "--family", family, "-o", "-"}, r.args...)...)
				if written.status != 0 || family == "st" && corpus.Long(plan) {
					continue // a tool that leans, lines that lead through something: the findings tell
				}
				t.Run(plan+" "+family+" "+strings.Join(r.args, " "), func(t *testing.T) {
					held[family]++
					gripper := strings.Contains(strings.Join(r.args, " "), "--gripper work")
					holdFirstRun(t, whole, deeds(t, written.stdout, listMoves(t, plan, r.args...)), r.speed, r.lift, gripper)
				})
			}
		}
	}
	for _, family := range []string{"iso6983", "st"} {
		if held[family] < least {
			t.Errorf("only %d programs of %s were held", held[family], family)
		}
	}
}

func indexOf(words []string, word string) int {
	for i, w := range words {
		if w == word {
			return i
		}
	}
	return len(words)
}

// wordAddressDeeds runs a program of blocks. A rapid is "travel", whose speed
// nobody knows.
func wordAddressDeeds(t *testing.T, program string, _ []listed) []deed {
	if !strings.Contains(program, "(PROVE-OUT: ") {
		t.Error("the head does not say that this is a prove-out")
	}
	events, err := runWordAddress(program)
	if err != nil {
		t.Fatal(err)
	}
	var deeds []deed
	for _, e := range withoutZAlone(events) {
		to := pose{at: [3]float64{e.At.X, e.At.Y, e.At.Z}}
		switch e.Kind {
		case wordaddress.Traverse:
			deeds = append(deeds, deed{what: "travel", line: e.Line, to: to, speed: math.Inf(1)})
		case wordaddress.Feed:
			deeds = append(deeds, deed{what: "straight", line: e.Line, to: to, speed: e.Rate / 60})
		case wordaddress.Clamp, wordaddress.Unclamp:
			deeds = append(deeds, deed{what: "output", line: e.Line, signal: "Outputs[1]"})
		}
	}
	return deeds
}

func structuredTextDeeds(t *testing.T, program string, moves []listed) []deed {
	if !strings.Contains(program, "(* PROVE-OUT: ") {
		t.Error("the head does not say that this is a prove-out")
	}
	parsed, faults := st.Parse(program)
	if parsed == nil {
		t.Fatal(faults)
	}
	machine, err := st.NewMachine(parsed, st.Options{Dialect: dialect, Cycles: 1})
	if err != nil {
		t.Fatal(err)
	}
	c := controller{machine: machine, moves: moves}
	if err := c.run(); err != nil {
		t.Fatal(err)
	}
	return c.deeds()
}

// holdFirstRun holds what a first run did to the list of the whole job.
func holdFirstRun(t *testing.T, whole []listed, deeds []deed, speed, lift float64, gripper bool) {
	t.Helper()
	const digit = 0.02 // mm: three decimals, and a frame's angles at two metres
	up := upward(whole)
	next := func() *deed {
		for len(deeds) > 0 {
			d := &deeds[0]
			deeds = deeds[1:]
			switch {
			case d.what == "travel" || d.what == "straight":
				return d
			case d.what == "output" && !gripper && d.signal != "Outputs[7]": // which couples the tools of one demo
				t.Fatalf("line %d: %s changes in a run that leaves outputs alone", d.line, d.signal)
			}
		}
		return nil
	}
	for i := range whole {
		m := &whole[i]
		if m.Action != "travel" && m.Action != "straight" {
			continue
		}
		d := next()
		if d == nil {
			t.Fatalf("the first run ends before move %d of the whole job", m.N)
		}
		if most := min(speed, m.Speed/4); d.speed > most+0.001 {
			t.Fatalf("line %d goes at %g mm/s, wanted %g or less: a quarter of the plan's %g, and what was asked for", d.line, d.speed, most, m.Speed)
		}
		want := m.base().at
		if grid := strings.TrimSuffix(m.Target, " approach"); up[grid] != [3]float64{} {
			for k := range want {
				want[k] += lift * up[grid][k]
			}
		} else if strings.Contains(m.Target, " ") {
			t.Fatalf("nobody knows which way is up at %q", m.Target)
		}
		if off := math.Hypot(math.Hypot(d.to.at[0]-want[0], d.to.at[1]-want[1]), d.to.at[2]-want[2]); off > digit {
			t.Fatalf("line %d (move %d, %s) ends at %v, wanted %v", d.line, m.N, m.Target, d.to.at, want)
		}
	}
	if d := next(); d != nil {
		t.Fatalf("line %d is a motion that the whole job does not make", d.line)
	}
}

// upward is, for every slot, the direction from it to the point above it.
func upward(moves []listed) map[string][3]float64 {
	at := map[string][3]float64{}
	for i := range moves {
		if m := &moves[i]; m.Action == "travel" || m.Action == "straight" {
			at[m.Target] = m.base().at
		}
	}
	up := map[string][3]float64{}
	for target, p := range at {
		above, is := at[target+" approach"]
		if !is {
			continue
		}
		way := math.Hypot(math.Hypot(above[0]-p[0], above[1]-p[1]), above[2]-p[2])
		up[target] = [3]float64{(above[0] - p[0]) / way, (above[1] - p[1]) / way, (above[2] - p[2]) / way}
	}
	return up
}

// TestFirstRunsOfEveryFamily reads the speeds in every family's program that
// writes them in mm/s, and asks for the words in its head.
func TestFirstRunsOfEveryFamily(t *testing.T) {
	t.Chdir(demoFolder)
	for family, mark := range map[string]string{"listing": " mm/s,", "starter": "speed="} {
		text := mustRun(t, "write", "tube-rack.plan.yaml", "--family", family, "--prove-out", "--speed", "90", "--lift", "40", "-o", "-")
		if !strings.Contains(text, "PROVE-OUT: a quarter of the speeds in the plan, at most 90 mm/s") {
			t.Errorf("%s: the head does not say that this is a prove-out", family)
		}
		seen := 0
		for line := range strings.Lines(text) {
			if speed, ok := speedIn(line, mark); ok {
				seen++
				if speed > 90 {
					t.Fatalf("%s: %s", family, line)
				}
			}
		}
		if seen < 100 {
			t.Errorf("%s: only %d speeds were read", family, seen)
		}
	}
}

// speedIn is the number before or behind a mark.
func speedIn(line, mark string) (float64, bool) {
	before, behind, found := strings.Cut(line, mark)
	word := before[strings.LastIndex(before, " ")+1:]
	if strings.HasSuffix(mark, "=") {
		word, _, _ = strings.Cut(behind, " ")
	}
	v, err := strconv.ParseFloat(word, 64)
	return v, found && err == nil
}

// TestRunsHaveNamesOfTheirOwn: a first run never takes the place of the whole
// job's program.
func TestRunsHaveNamesOfTheirOwn(t *testing.T) {
	t.Chdir(demoFolder)
	folder := t.TempDir()
	for _, args := range [][]string{nil, {"--prove-out"}, {"--from", "9"}, {"--from", "9", "--holding"}, {"--from", "9", "--prove-out"}} {
		mustRun(t, append([]string{"write", "tube-rack.plan.yaml", "--family", "starter", "-o", folder}, args...)...)
	}
	got, err := filepath.Glob(filepath.Join(folder, "*"))
	if err != nil {
		t.Fatal(err)
	}
	for i := range got {
		got[i] = strings.TrimSuffix(filepath.Base(got[i]), filepath.Ext(got[i]))
	}
	slices.Sort(got)
	want := "tube-rack tube-rack-from-9 tube-rack-from-9-holding tube-rack-prove-out tube-rack-prove-out-from-9"
	if strings.Join(got, " ") != want {
		t.Errorf("the files are %v, wanted %s", got, want)
	}
}

// TestFirstRunsAskTheGripper: with the gripper still, none of its outputs, pulses and questions
// remain. Where it works, it is asked at the start whether it is empty; whether it holds a part,
// only where it can hold one. The await of the plan's own steps goes by --steps.
func TestFirstRunsAskTheGripper(t *testing.T) {
	t.Chdir(demoFolder)
	for _, tt := range []struct {
		args []string
		want string // sets, questions whether it is empty, whether it holds a part, awaits of the plan
	}{
		{nil, "15 1 6 1"},
		{[]string{"--prove-out"}, "0 0 0 0"},
		{[]string{"--prove-out", "--steps", "work"}, "0 0 0 1"},
		{[]string{"--prove-out", "--gripper", "work"}, "15 1 0 0"},
		{[]string{"--prove-out", "--gripper", "work", "--lift", "0"}, "15 1 6 0"},
		{[]string{"--from", "3", "--holding"}, "3 0 2 0"}, // one question at the start, and one above the last place
	} {
		var sets, empty, held, others int
		for _, m := range listMoves(t, "panels.plan.yaml", tt.args...) {
			switch {
			case m.Action == "set":
				sets++
			case m.Action == "await" && m.Signal == 6:
				others++
			case m.Action == "await" && m.Level == "off":
				empty++
			case m.Action == "await":
				held++
			}
		}
		if got := fmt.Sprint(sets, empty, held, others); got != tt.want {
			t.Errorf("%q: %s sets, questions whether the gripper is empty, whether it holds a part, and other awaits, wanted %s", tt.args, got, tt.want)
		}
	}
}
