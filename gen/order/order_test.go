package order_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gridferry/gen/expand"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/gen/order"
	"gridferry/plan"
	"gridferry/plan/diag"
)

const folder = "../../testdata/order"

func read(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(folder, name))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func resolve(t *testing.T, text string) *layout.Layout {
	t.Helper()
	var list diag.List
	p := plan.Read(plan.Source{File: "test", Data: []byte(text), Dir: folder}, nil, &list, new(diag.Sources))
	l := layout.Resolve(p, layout.Options{}, &list)
	if list.HasErrors() {
		t.Fatalf("%v\n%s", list.Sorted(), text)
	}
	return l
}

// moves is the move list without the columns that say where in the plan a move
// comes from: line, and leg, since a chain by legs is pasted as an entry a leg.
func moves(t *testing.T, l *layout.Layout) string {
	t.Helper()
	var b bytes.Buffer
	if err := move.WriteCSV(&b, 0, expand.Batches(l, expand.Whole)); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	leg, line := slices.Index(rows[0], "leg"), slices.Index(rows[0], "line")
	if leg < 0 || line < 0 {
		t.Fatalf("no leg or no line in %v", rows[0])
	}
	var out strings.Builder
	for _, row := range rows {
		row[leg], row[line] = "", ""
		out.WriteString(strings.Join(row, ",") + "\n")
	}
	return out.String()
}

func head(t *testing.T, text string) string {
	t.Helper()
	before, _, found := strings.Cut(text, "\ntransfers:\n")
	if !found {
		t.Fatal("the plan has no transfers")
	}
	return before + "\n"
}

func proposed(t *testing.T, p *order.Proposal) string {
	t.Helper()
	var b bytes.Buffer
	if err := p.WriteText(&b, "test"); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

var plans = []string{"scattered.plan.yaml", "two-racks.plan.yaml", "layers.plan.yaml", "chain-by-part.plan.yaml", "own-motion.plan.yaml"}

// The proposal pasted into the plan gives the proposal's own moves, and
// "order: shortest" without any list gives them too.
func TestPastedProposalGivesTheSameMoves(t *testing.T) {
	t.Parallel()
	plans := plans
	if testing.Short() {
		plans = plans[2:]
	}
	for _, name := range plans {
		text := read(t, name)
		p := order.Propose(resolve(t, text), layout.ByLength)
		want := moves(t, p.Layout)
		pasted := resolve(t, head(t, text)+"\n"+proposed(t, p))
		if got := moves(t, pasted); got != want {
			t.Errorf("%s: pasted, it gives other moves: %s", name, firstDifference(got, want))
		}
		if want == moves(t, resolve(t, text)) {
			t.Errorf("%s: the order did not change, so that nothing was tried", name)
		}
		if got := moves(t, resolve(t, asking(text))); got != want {
			t.Errorf("%s: \"order: shortest\" gives other moves: %s", name, firstDifference(got, want))
		}
	}
}

// asking is the plan with "order: shortest" in every entry.
func asking(text string) string {
	before, entries, _ := strings.Cut(text, "\ntransfers:\n")
	entries = "\n" + entries
	entries = strings.ReplaceAll(entries, "\n  - {", "\n  - {order: shortest, ")
	entries = strings.ReplaceAll(entries, "\n  - chain:", "\n  - order: shortest\n    chain:")
	entries = strings.ReplaceAll(entries, "\n  - from:", "\n  - order: shortest\n    from:")
	return before + "\ntransfers:" + entries
}

func firstDifference(got, want string) string {
	a, b := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return "line " + a[i] + "\nwanted " + b[i]
		}
	}
	return "one of them is longer"
}

// On the scattered job of 96 tubes the new order saves three quarters of the way
// between slots against by-row; the job's whole time is another matter, since going
// up and down is the same in every order.
func TestScatteredJobSaves(t *testing.T) {
	t.Parallel()
	p := order.Propose(resolve(t, read(t, "scattered.plan.yaml")), layout.ByLength)
	e := p.Entries[0]
	if e.Parts != 96 {
		t.Fatalf("%d parts, wanted 96", e.Parts)
	}
	const wantByRow, wantShortest = 7412.0, 1738.0 // mm, as first measured
	if d := e.ByRow.Length - wantByRow; d < -1 || d > 1 {
		t.Errorf("by row it is %.1f mm, wanted about %g", e.ByRow.Length, wantByRow)
	}
	if e.Found.Length > wantShortest+1 {
		t.Errorf("the shortest is %.1f mm, wanted %g or less", e.Found.Length, wantShortest)
	}
	if saved := 1 - e.Found.Length/e.ByRow.Length; saved < 0.765 {
		t.Errorf("it saves %.3f against by-row, wanted 0.765 or more", saved)
	}
	if above := e.Found.Length/e.Found.Least - 1; above < 0 || above > 0.01 {
		t.Errorf("it is %.4f above the bound, wanted 0.01 at most", above)
	}
}

// Two racks side by side have nothing to gain but a hair, and no more is claimed.
func TestTwoRacksClaimLittle(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped, as -short asks: a scattered job stands for it")
	}
	t.Parallel()
	e := order.Propose(resolve(t, read(t, "two-racks.plan.yaml")), layout.ByLength).Entries[0]
	if e.Found.Least < 0.98*e.ByRow.Length {
		t.Errorf("by row is %.1f mm and the bound %.1f: wanted them within 2 %%", e.ByRow.Length, e.Found.Least)
	}
	if e.Found.Length > e.ByRow.Length || e.Found.Length > e.Serpentine.Length || e.Found.Length > e.Written.Length {
		t.Errorf("longer than an order with a name: %+v", e)
	}
}

// Over a clear pose nothing is proposed, and the reason is given.
func TestClearPoseHasNothingToGain(t *testing.T) {
	text := strings.Replace(read(t, "scattered.plan.yaml"), "  fly_by: 2", "  clear: high\n  fly_by: 2", 1)
	text = strings.Replace(text, "  keep_out: {}", "  keep_out: {}\n  poses: {high: {at: [300, 0, 300]}}", 1)
	p := order.Propose(resolve(t, text), layout.ByLength)
	if p.Changed() || p.Entries[0].Kept != layout.ByClear {
		t.Errorf("kept because of %q", p.Entries[0].Kept)
	}
	said := proposed(t, p)
	if strings.Contains(said, "transfers:") || !strings.Contains(said, `passes the pose "high"`) {
		t.Errorf("said:\n%s", said)
	}
}

func TestProposalAsData(t *testing.T) {
	t.Parallel()
	p := order.Propose(resolve(t, read(t, "layers.plan.yaml")), layout.ByLength)
	var b bytes.Buffer
	if err := p.WriteJSON(&b, "test"); err != nil {
		t.Fatal(err)
	}
	var back struct {
		Changed bool
		Entries []struct {
			Shortest float64
			Legs     []struct {
				FromSlots []string `json:"from_slots"`
			}
		}
	}
	if err := json.Unmarshal(b.Bytes(), &back); err != nil {
		t.Fatal(err)
	}
	if !back.Changed || len(back.Entries) != 4 || len(back.Entries[1].Legs) != 2 || len(back.Entries[1].Legs[0].FromSlots) != 12 {
		t.Errorf("%s", b.String())
	}
}
