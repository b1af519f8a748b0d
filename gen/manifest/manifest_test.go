package manifest_test

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/gen/manifest"
	"gridferry/gen/move"
	"gridferry/gen/resume"
	"gridferry/gen/timing"
	"gridferry/plan"
	"gridferry/plan/wording"
)

// world is a bench as a person would keep track of it on paper: which part is in which slot,
// and where each has been. It shares nothing with the flow.
type world struct {
	r      *rand.Rand
	grids  []*simGrid
	at     map[string]*token // by slot, such as "a A1"
	tokens []*token          // those that moved, or move
	next   int               // the number of the next transfer
	plan   strings.Builder   // its transfers
	events []event
	first  map[*token]string // where those with ids stand at the start
	unused []string          // ids
	dir    string            // for its tables
	tables int
}

type simGrid struct {
	contents         bool // a table says what it holds
	name, kind, flow string
	named            bool // the plan says what it holds
	slots            []string
	rows, columns    int
	x, y             int
	missing          []string
}

type token struct {
	id       string
	kind     string
	been     []string
	transfer int
}

// ids that somebody may write, some of which tables have to quote, or spreadsheets take for formulas.
var ids = []string{"S1", "2", "=1+1", "-x", "a,b", "Ä 7", "q\"t", "'w", "+49", "@home", "x;y", "003", "1,5", "S 2", "#3"}

// event is one transfer, in the order in which they are made.
type event struct {
	t            *token
	from, to, id string
}

const bench = `format: gridferry plan 1
cell:
  format: gridferry cell 1
  name: bench
  machine: {rated_load: 5, acceleration: 1500}
  tools:
    twin:
      tcp: {at: [0, 0, 100]}
      mass: 0.5
      zones:
        left: {at: [-10, 0, 0], grip: {output: 1, level: on, settle: 0.2}, release: {output: 1, level: off, settle: 0.1}}
        right: {at: [10, 0, 0], grip: {output: 2, level: on, settle: 0.3}, release: {output: 2, level: off, settle: 0.1}}
  poses: {clear: {at: [300, 0, 300]}}
parts: {cube: {mass: 0.2}, ball: {mass: 0.1}}
motion: {tool: twin, approach: 50, speed: {travel: 500, near: 60}, fly_by: 5, clear: clear}
`

func newWorld(dir string, seed uint64) *world {
	w := &world{r: rand.New(rand.NewPCG(16, seed)), at: map[string]*token{}, next: 1, first: map[*token]string{}, unused: slices.Clone(ids), dir: dir}
	w.r.Shuffle(len(ids), func(i, j int) { w.unused[i], w.unused[j] = w.unused[j], w.unused[i] })
	for i, name := range []string{"a", "b", "c", "d", "e", "f"} {
		g := w.grid(name, []string{"cube", "ball"}[i%2], i)
		if g.named = i < 4; i < 2 { // a and b are filled, c and d may be
			w.fill(g)
		} else if g.named && w.r.IntN(2) == 0 {
			w.fill(g)
		}
	}
	for i, kind := range []string{"cube", "ball"} {
		w.single("scale-"+kind, kind, "", 6+i)
		w.single("in-"+kind, kind, "in", 8+i)
		w.single("out-"+kind, kind, "out", 10+i)
	}
	return w
}

func (w *world) grid(name, kind string, i int) *simGrid {
	g := &simGrid{name: name, kind: kind, rows: 1 + w.r.IntN(3), columns: 2 + w.r.IntN(4), x: 200, y: 100 * i}
	for row := range g.rows {
		for column := range g.columns {
			s := fmt.Sprintf("%c%d", 'A'+row, column+1)
			if len(g.slots) > 1 && w.r.IntN(8) == 0 {
				g.missing = append(g.missing, s)
				continue
			}
			g.slots = append(g.slots, s)
		}
	}
	w.grids = append(w.grids, g)
	return g
}

func (w *world) single(name, kind, flow string, i int) {
	w.grids = append(w.grids, &simGrid{name: name, kind: kind, flow: flow, named: true, rows: 1, columns: 1, slots: []string{"A1"}, x: -200, y: 100 * i})
}

func (w *world) fill(g *simGrid) {
	g.contents = w.r.IntN(2) == 0
	for _, s := range g.slots {
		if w.r.IntN(3) == 0 || g.contents && len(w.unused) == 0 {
			continue
		}
		t := &token{kind: g.kind, been: []string{g.name + " " + s}}
		if g.contents {
			t.id = w.newID()
			w.first[t] = g.name + " " + s
		}
		w.at[g.name+" "+s] = t
	}
}

func (w *world) newID() string {
	last := len(w.unused) - 1
	id := w.unused[last]
	w.unused = w.unused[:last]
	return id
}

// table writes a table beside the plan, and gives its name.
func (w *world) table(t *testing.T, rows [][]string) string {
	w.tables++
	name := fmt.Sprintf("t%d.csv", w.tables)
	var text bytes.Buffer
	out := csv.NewWriter(&text)
	out.Comma = []rune{',', ';'}[w.r.IntN(2)]
	if err := cmp.Or(out.WriteAll(rows), os.WriteFile(filepath.Join(w.dir, name), text.Bytes(), 0o666)); err != nil {
		t.Fatal(err)
	}
	return name
}

// text is the plan.
func (w *world) text(filled map[string]string) string {
	var b strings.Builder
	b.WriteString(bench + "grids:\n")
	for _, g := range w.grids {
		fmt.Fprintf(&b, "  %s: {frame: base, rows: %d, columns: %d, pitch: [20, 20], first: [%d, %d, 20]", g.name, g.rows, g.columns, g.x, g.y)
		if g.named {
			b.WriteString(", part: " + g.kind)
		}
		if g.flow != "" {
			b.WriteString(", flow: " + g.flow)
		}
		if g.missing != nil {
			fmt.Fprintf(&b, ", missing: [%s]", strings.Join(g.missing, ", "))
		}
		b.WriteString(filled[g.name] + "}\n")
	}
	return b.String() + "transfers:\n" + w.plan.String()
}

// filled is how the plan says what each grid holds, as it is now.
func (w *world) filled(t *testing.T) map[string]string {
	full := map[string]string{}
	for _, g := range w.grids {
		rows := [][]string{{"slot", "id"}}
		slots := w.slots(g, true)
		for _, s := range slots {
			if g.contents {
				rows = append(rows, []string{s, wording.Inert(w.at[g.name+" "+s].id)})
			}
		}
		switch {
		case len(rows) > 1:
			full[g.name] = ", contents: " + w.table(t, rows)
		case len(slots) > 0:
			full[g.name] = fmt.Sprintf(", filled: [%s]", strings.Join(slots, ", "))
		}
	}
	return full
}

// slots are those of a grid that hold a part, or hold none, in random order.
func (w *world) slots(g *simGrid, full bool) []string {
	var all []string
	for _, s := range g.slots {
		if (w.at[g.name+" "+s] != nil) == full {
			all = append(all, s)
		}
	}
	w.r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	return all
}

// entry adds a random entry of transfers, slot by slot, and plays it.
func (w *world) entry() {
	kind := []string{"cube", "ball"}[w.r.IntN(2)]
	var still []*simGrid
	var scale, in, out *simGrid
	for _, g := range w.grids {
		switch {
		case g.kind != kind:
		case strings.HasPrefix(g.name, "scale-"):
			scale = g
		case g.flow == "in":
			in = g
		case g.flow == "out":
			out = g
		default:
			still = append(still, g)
		}
	}
	w.r.Shuffle(len(still), func(i, j int) { still[i], still[j] = still[j], still[i] })
	stops := still[:2+w.r.IntN(2)]
	fed := w.r.IntN(5) == 0
	if fed {
		stops = append([]*simGrid{in}, stops[1:]...)
	} else if w.r.IntN(5) == 0 {
		stops = append(slices.Clone(stops[:len(stops)-1]), out)
	}
	feeder := fed || stops[len(stops)-1] == out
	byPart := len(stops) > 2 && w.r.IntN(2) == 0
	if w.r.IntN(3) == 0 {
		stops, byPart = slices.Insert(slices.Clone(stops), 1, scale), true
	}
	n := 1 + w.r.IntN(5)
	lists := make([][]string, len(stops))
	for i, g := range stops {
		if g.flow == "" && g != scale {
			lists[i] = w.slots(g, i == 0)
			n = min(n, len(lists[i]))
		}
	}
	if n == 0 {
		return
	}
	atOnce := 1
	if !feeder && !slices.Contains(stops, scale) && w.r.IntN(2) == 0 {
		atOnce = 2
	}
	var words []string
	for i, g := range stops {
		if lists[i] == nil {
			lists[i] = slices.Repeat([]string{"A1"}, n)
			words = append(words, g.name)
			continue
		}
		lists[i] = lists[i][:n]
		words = append(words, fmt.Sprintf("%q", g.name+" "+strings.Join(lists[i], ", ")))
	}
	fmt.Fprintf(&w.plan, "  - {chain: [%s]", strings.Join(words, ", "))
	if byPart {
		w.plan.WriteString(", advance: part")
	}
	if atOnce > 1 {
		w.plan.WriteString(", at_once: 2")
	}
	fmt.Fprintf(&w.plan, ", take: %d}\n", n)
	w.play(stops, lists, n, atOnce, byPart)
}

// worklist adds an entry that is a table of transfers, of any parts to any free slots that fit.
func (w *world) worklist(t *testing.T) {
	rows := [][]string{{"from", "to", "id"}}
	for range 1 + w.r.IntN(6) {
		var from, to []string
		grids := map[string]*simGrid{}
		kind := []string{"cube", "ball"}[w.r.IntN(2)]
		for _, g := range w.grids {
			grids[g.name] = g
			for _, s := range g.slots {
				switch here := g.name + " " + s; {
				case g.kind != kind || strings.HasPrefix(g.name, "scale-"):
				case g.flow == "in" || g.flow == "" && w.at[here] != nil:
					from = append(from, here)
				default:
					to = append(to, here)
				}
			}
		}
		if len(to) == 0 || len(from) == 0 {
			continue
		}
		here, there := from[w.r.IntN(len(from))], to[w.r.IntN(len(to))]
		id := ""
		if part := w.at[here]; part != nil && w.r.IntN(2) == 0 {
			if part.id == "" && len(w.unused) > 0 {
				part.id = w.newID()
			}
			id = part.id
		}
		rows = append(rows, []string{here, there, wording.Inert(id)})
		fromName, fromSlot, _ := strings.Cut(here, " ")
		toName, toSlot, _ := strings.Cut(there, " ")
		w.carry(grids[fromName], grids[toName], fromSlot, toSlot)
	}
	if len(rows) > 1 {
		fmt.Fprintf(&w.plan, "  - {list: %s}\n", w.table(t, rows))
	}
}

// play moves the parts: all of them leg after leg, or group after group leg after leg.
func (w *world) play(stops []*simGrid, lists [][]string, n, atOnce int, byPart bool) {
	step := n
	if byPart {
		step = atOnce
	}
	for first := 0; first < n; first += step {
		for leg := range len(stops) - 1 {
			for i := first; i < min(first+step, n); i++ {
				w.carry(stops[leg], stops[leg+1], lists[leg][i], lists[leg+1][i])
			}
		}
	}
}

func (w *world) carry(from, to *simGrid, fromSlot, toSlot string) {
	here, there := from.name+" "+fromSlot, to.name+" "+toSlot
	t := w.at[here]
	if from.flow == "in" {
		t = &token{kind: from.kind, been: []string{here}}
	}
	delete(w.at, here)
	if t.transfer == 0 {
		w.tokens = append(w.tokens, t)
	}
	t.been, t.transfer = append(t.been, there), w.next
	w.events = append(w.events, event{t, here, there, t.id})
	w.next++
	if to.flow == "" {
		w.at[there] = t
	}
}

// lines is what the manifest has to say, without times.
func (w *world) lines(from int) []string {
	since := map[*token][]string{}
	last := map[*token]int{}
	stays := maps.Clone(w.first)
	named := map[*token]string{}
	for i, e := range w.events {
		named[e.t] = e.id
		if stays[e.t] = e.to; strings.HasPrefix(e.to, "out-") || e.id == "" {
			delete(stays, e.t)
		}
		if i+1 < from {
			continue
		}
		delete(stays, e.t)
		if since[e.t] == nil {
			since[e.t] = []string{e.from}
		}
		since[e.t] = append(since[e.t], e.to)
		last[e.t] = i + 1
	}
	moved := slices.DeleteFunc(slices.Clone(w.tokens), func(t *token) bool { return since[t] == nil })
	slices.SortFunc(moved, func(a, b *token) int { return cmp.Compare(last[a], last[b]) })
	var all []string
	for _, t := range moved {
		been := since[t]
		end := len(been) - 1
		all = append(all, fmt.Sprintf("%q %s %s > %s via %v by %d", named[t], t.kind, been[0], been[end], been[1:end], last[t]))
	}
	for _, g := range w.grids {
		for row := range g.rows {
			for column := range g.columns {
				for t, at := range stays {
					if at == fmt.Sprintf("%s %c%d", g.name, 'A'+row, column+1) {
						all = append(all, fmt.Sprintf("%q %s %s > %s via [] by 0", t.id, t.kind, at, at))
					}
				}
			}
		}
	}
	return all
}

func shown(m *manifest.Manifest) []string {
	var all []string
	for l := range m.Lines {
		all = append(all, fmt.Sprintf("%q %s %s > %s via %v by %d", l.ID, l.Part, l.From, l.To, l.Via, l.Transfer))
	}
	return all
}

func jobOf(t *testing.T, dir, text string) *gen.Job {
	t.Helper()
	j := new(gen.Job)
	if !j.Read(plan.Source{File: "p.plan.yaml", Data: []byte(text), Dir: dir}, nil, layout.Options{}) {
		t.Fatalf("%v\n%s", j.Findings.Sorted(), text)
	}
	return j
}

// TestAgainstSimulator: of random plans with chains, groups, stations and feeders the manifest
// says what a simulator says that moves tokens from slot to slot; of a job that is resumed
// anywhere, too. Some grids say in tables which part is which, some entries are tables of transfers.
func TestAgainstSimulator(t *testing.T) {
	plans := 2000
	if testing.Short() {
		plans = 60
	}
	lines, chained, resumed, stay, named := 0, 0, 0, 0, 0
	dir := t.TempDir()
	for seed := range uint64(plans) {
		w := newWorld(dir, seed)
		filled := w.filled(t)
		for range 1 + w.r.IntN(5) {
			if w.r.IntN(4) == 0 {
				w.worklist(t)
			} else {
				w.entry()
			}
		}
		if len(w.events) == 0 {
			continue
		}
		text := w.text(filled)
		job := jobOf(t, w.dir, text)
		want := w.lines(1)
		if got := shown(job.Manifest(nil)); !slices.Equal(got, want) {
			t.Fatalf("seed %d:\n%s\nwanted\n%s\n%s", seed, strings.Join(got, "\n"), strings.Join(want, "\n"), text)
		}
		timesOf(t, job)
		lines += len(want)
		said := strings.Join(want, "\n")
		stay, named = stay+strings.Count(said, " by 0"), named+len(want)-strings.Count("\n"+said, "\n\"\"")
		chained += strings.Count(said, "via [") - strings.Count(said, "via []")
		if strings.Contains(text, "at_once") {
			continue // such a job resumes at some of its transfers only
		}
		from := 1 + w.r.IntN(len(w.events))
		rest := jobOf(t, w.dir, text)
		if !rest.Prepare(gen.Run{Resume: &resume.Request{Transfer: from, Holding: w.r.IntN(2) == 0}}) {
			t.Fatalf("seed %d from %d: %v\n%s", seed, from, rest.Findings.Sorted(), text)
		}
		if got, want := shown(rest.Manifest(nil)), w.lines(from); !slices.Equal(got, want) {
			t.Fatalf("seed %d from %d:\n%s\nwanted\n%s\n%s", seed, from, strings.Join(got, "\n"), strings.Join(want, "\n"), text)
		}
		resumed++
	}
	if min(lines/2, chained*4, resumed*4, stay, named) < plans {
		t.Errorf("only %d lines, %d of them with slots between, %d with ids, %d of these of parts that stay, %d jobs resumed", lines, chained, named, stay, resumed)
	}
}

// timesOf holds the times to the sum of all moves up to the one that lets go.
func timesOf(t *testing.T, job *gen.Job) {
	t.Helper()
	at, sum := map[int]float64{}, 0.0
	for timed := range timing.Times(job.Batches(), timing.Machine{Acceleration: 1500}) {
		sum += timed.Seconds
		if timed.Move.Role == move.LetGo {
			at[timed.Move.Carries()] = sum
		}
	}
	for l := range job.Manifest(nil).Lines {
		if off := l.PlacedAt - at[l.Transfer]; off < -0.0006 || off > 0.0006 {
			t.Fatalf("%+v is placed at %g s, wanted %g", *l, l.PlacedAt, at[l.Transfer])
		}
	}
}

// TestTimeByHand: without accelerations, and with stops alone, a motion takes its way over its speed.
func TestTimeByHand(t *testing.T) {
	job := jobOf(t, ".", `format: gridferry plan 1
cell:
  format: gridferry cell 1
  name: bench
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 0.5, grip: {output: 1, level: on, settle: 0.5}, release: {output: 1, level: off, settle: 0.25}}}
  poses: {clear: {at: [0, 0, 120]}}
parts: {cube: {mass: 0.2}}
grids:
  here: {frame: base, rows: 1, columns: 1, first: [0, 0, 20], part: cube, filled: all}
  there: {frame: base, rows: 1, columns: 1, first: [300, 0, 20]}
motion: {tool: jaw, approach: 100, speed: {travel: 100, near: 50}, clear: none, start: clear}
transfers:
  - {from: here, to: there}
`)
	// The arm starts at the approach point, so that the first motion has no way. It opens (0.25 s),
	// 100 mm down at 50 mm/s, grips (0.5 s), 100 mm up, 300 mm at 100 mm/s, 100 mm down.
	const want = 0.25 + 2 + 0.5 + 2 + 3 + 2
	var out bytes.Buffer
	if err := job.Manifest(nil).WriteCSV(&out); err != nil || out.String() != fmt.Sprintf("id,part,from,to,via,transfer,placed_at\n,cube,here A1,there A1,,1,%g\n", want) {
		t.Errorf("%v, %s, wanted %g s", err, out.String(), want)
	}
	out.Reset()
	if err := job.Manifest(nil).WriteJSON(&out, "<p>"); err != nil || out.String() != `{"plan": "<p>", "estimate": true, "parts": [
{"part":"cube","from":"here A1","to":"there A1","transfer":1,"placed_at":9.75}
]}
` {
		t.Errorf("%v, %s", err, out.String())
	}
}
