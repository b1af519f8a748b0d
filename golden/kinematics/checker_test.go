// Package kinematics holds what the project says of arms to scripts in Python with kinematics of their own: they read plans,
// which are written as JSON, and the list of moves as the command prints it.
package kinematics

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"gridferry/cmd/cli"
	"gridferry/golden/outside"
)

//go:embed chain.py
var chainScript string

//go:embed checker.py
var checkerScript string

// listed is a plan with its list, as the checker gets it.
type listed struct {
	Plan    object `json:"plan"`
	Moves   []move `json:"moves"`
	Checked bool   `json:"checked"` // check passes it
	Worded  bool   `json:"worded"`  // the checker knows the words of its configurations
}

// move is a line of the list.
type move object

// fault is what the checker finds: at which move, what, and how much: mm or degrees.
type fault struct {
	Move float64
	What string
	Much float64
}

func (f *fault) UnmarshalJSON(text []byte) error {
	return json.Unmarshal(text, &[]any{&f.Move, &f.What, &f.Much})
}

// plans is how many random plans are taken.
func plans(t testing.TB, otherwise int) int {
	if n, err := strconv.Atoi(os.Getenv("GRIDFERRY_PLANS")); err == nil {
		return n
	}
	return otherwise
}

// gridferry runs the command on a plan at standard input.
func gridferry(text []byte, args ...string) (status int, stdout []byte) {
	var out, said bytes.Buffer
	status = cli.Main(args, bytes.NewReader(text), &out, &said)
	return status, out.Bytes()
}

func written(t testing.TB, plan object) []byte {
	text, err := json.Marshal(plan)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// list is the list of moves of a plan.
func list(t testing.TB, plan object) listed {
	t.Helper()
	text := written(t, plan)
	l := listed{Plan: plan}
	status, lines := gridferry(text, "moves", "-", "--format", "jsonl")
	if status != 0 {
		t.Fatalf("status %d for\n%s", status, text)
	}
	for line := range bytes.Lines(lines) {
		var m move
		if err := json.Unmarshal(line, &m); err != nil {
			t.Fatal(err)
		}
		l.Moves = append(l.Moves, m)
	}
	status, _ = gridferry(text, "check", "-")
	l.Checked = status == 0
	return l
}

// random is the list of a random plan with an arm of some class.
func random(t testing.TB, seed int) listed {
	d := drawer{rand.New(rand.NewPCG(uint64(seed), 19))}
	k := seed % len(classes)
	l := list(t, d.plan(classes[k].draw(d)))
	l.Worded = k == 0
	return l
}

func ask(t testing.TB, lists []listed) [][]fault {
	t.Helper()
	var found [][]fault
	outside.Python(t, chainScript+checkerScript, lists, &found)
	if len(found) != len(lists) {
		t.Fatalf("%d answers for %d plans", len(found), len(lists))
	}
	return found
}

// TestJointsAgreeWithPython: the joints of every motion bring the TCP to its pose and lie in their ranges, they go on without a jump
// along every straight, in one configuration, and turn no more than they must. GRIDFERRY_PLANS says how many random plans are taken.
func TestJointsAgreeWithPython(t *testing.T) {
	t.Parallel()
	outside.Short(t)
	var lists []listed
	passed := map[string]int{}
	for seed := range plans(t, 30) {
		lists = append(lists, random(t, seed))
		if lists[seed].Checked {
			passed[classes[seed%len(classes)].name]++
		}
	}
	for seed, faults := range ask(t, lists) {
		if len(faults) > 0 {
			t.Errorf("plan %d: %v\n%s", seed, faults, written(t, lists[seed].Plan))
		}
	}
	t.Logf("of %d plans check passes: %v", len(lists), passed)
	for _, k := range classes {
		if n := passed[k.name]; n < len(lists)/len(classes)/4 {
			t.Errorf("of %s check passes %d: the test proves little", k.name, n)
		}
	}
}
