package expand_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gridferry/gen/expand"
	"gridferry/gen/layout"
	"gridferry/gen/move"
	"gridferry/plan"
	"gridferry/plan/diag"
)

// shelf is a plain simulator of which part is where: a map from slots, such as "a B2", to ids, "" for a part
// without one. It knows nothing of the project but the plan's own text, which it writes as it goes.
type shelf struct {
	r       *rand.Rand
	folder  string
	at      map[string]string
	slots   []string // of the grids that hold what is put there
	plan    strings.Builder
	carried []string // the ids of the parts that were carried, in the order of the transfers
	names   int
	files   int
}

const shelfHead = `format: gridferry plan 1
cell:
  tools:
    twin:
      tcp: {at: [0, 0, 100]}
      mass: 0.5
      zones:
        left: {at: [-10, 0, 0], grip: {output: 1, level: on}, release: {output: 1, level: off}}
        right: {at: [10, 0, 0], grip: {output: 2, level: on}, release: {output: 2, level: off}}
  poses: {clear: {at: [300, 0, 300]}}
parts: {p: {mass: 0.2}}
motion: {tool: twin, approach: 50, speed: {travel: 500, near: 60}, clear: clear}
grids:
`

func newShelf(t *testing.T, seed uint64) *shelf {
	s := &shelf{r: rand.New(rand.NewPCG(8, seed)), folder: t.TempDir(), at: map[string]string{}}
	s.plan.WriteString(shelfHead)
	for i, name := range []string{"a", "b", "c"} {
		rows, columns := 1+s.r.IntN(3), 2+s.r.IntN(4)
		var lines, filled []string
		for row := range rows {
			for col := range columns {
				label := fmt.Sprintf("%c%d", 'A'+row, col+1)
				at := name + " " + label
				s.slots = append(s.slots, at)
				if s.r.IntN(3) > 0 {
					continue
				}
				if i == 2 {
					s.at[at], filled = "", append(filled, label)
				} else {
					s.at[at] = s.newID()
					lines = append(lines, label+","+s.at[at])
				}
			}
		}
		fmt.Fprintf(&s.plan, "  %s: {frame: base, rows: %d, columns: %d, pitch: [20, 20], first: [200, %d, 50], part: p", name, rows, columns, 100*i)
		switch {
		case i < 2:
			s.plan.WriteString(", contents: " + s.keep("slot,id", lines))
		case filled != nil:
			fmt.Fprintf(&s.plan, ", filled: %q", strings.Join(filled, ", "))
		}
		s.plan.WriteString("}\n")
	}
	s.plan.WriteString("  in: {frame: base, rows: 1, columns: 1, first: [200, 500, 50], part: p, flow: in}\n" +
		"  out: {frame: base, rows: 1, columns: 1, first: [200, 600, 50], flow: out}\ntransfers:\n")
	return s
}

func (s *shelf) newID() string {
	s.names++
	return fmt.Sprintf("S-%03d", s.names)
}

// keep writes a table beside the plan.
func (s *shelf) keep(header string, lines []string) string {
	s.files++
	name := fmt.Sprintf("t%d.csv", s.files)
	if err := os.WriteFile(filepath.Join(s.folder, name), []byte(strings.Join(append([]string{header}, lines...), "\n")), 0o666); err != nil {
		panic(err)
	}
	return name
}

// some is n slots in any order that are full, or free; nil where there are not so many. Those of a grid only, if one is named.
func (s *shelf) some(n int, full bool, grid string, but ...string) []string {
	var all []string
	for _, at := range s.slots {
		if _, is := s.at[at]; is == full && (grid == "" || strings.HasPrefix(at, grid+" ")) && !slices.Contains(but, at) {
			all = append(all, at)
		}
	}
	if len(all) < n {
		return nil
	}
	s.r.Shuffle(len(all), func(i, k int) { all[i], all[k] = all[k], all[i] })
	return all[:n]
}

func (s *shelf) carry(from, to string) {
	id := s.at[from]
	delete(s.at, from)
	s.at[to] = id
	s.carried = append(s.carried, id)
}

// chain is an entry through two or three stops, with slots written out.
func (s *shelf) chain() {
	n, atOnce, byPart := 1+s.r.IntN(3), 1+s.r.IntN(2), s.r.IntN(2) == 0
	grids := []string{"a", "b", "c"}
	var stops [][]string
	var used []string
	for i := range 2 + s.r.IntN(2) {
		slots := s.some(n, i == 0, grids[s.r.IntN(3)], used...)
		if slots == nil {
			return
		}
		stops, used = append(stops, slots), append(used, slots...)
	}
	var texts []string
	for _, slots := range stops {
		text := slots[0]
		for _, at := range slots[1:] {
			text += "," + strings.TrimPrefix(at, at[:1])
		}
		texts = append(texts, fmt.Sprintf("%q", text))
	}
	advance := "leg"
	if byPart {
		advance = "part"
	}
	fmt.Fprintf(&s.plan, "  - {chain: [%s], at_once: %d, advance: %s}\n", strings.Join(texts, ", "), atOnce, advance)
	if byPart {
		for first := 0; first < n; first += atOnce {
			for leg := range len(stops) - 1 {
				for k := first; k < min(n, first+atOnce); k++ {
					s.carry(stops[leg][k], stops[leg+1][k])
				}
			}
		}
		return
	}
	for leg := range len(stops) - 1 {
		for k := range n {
			s.carry(stops[leg][k], stops[leg+1][k])
		}
	}
}

// worklist is a few lines between any grids, feeders among them, some with ids.
func (s *shelf) worklist() {
	var lines []string
	for range 1 + s.r.IntN(5) {
		from, to := s.some(1, true, ""), s.some(1, false, "")
		if from == nil || to == nil {
			continue
		}
		id, write := s.at[from[0]], s.r.IntN(2) == 0
		switch s.r.IntN(4) {
		case 0: // a new part, which may get an id
			from = []string{"in"}
			if id = ""; write {
				id = s.newID()
			}
			s.at["in"] = id
			s.carry("in", to[0])
		case 1:
			to = []string{"out A1"}
			s.carry(from[0], to[0])
			delete(s.at, to[0])
		default:
			if id == "" && write {
				id = s.newID()
				s.at[from[0]] = id
			}
			s.carry(from[0], to[0])
		}
		if !write {
			id = ""
		}
		lines = append(lines, fmt.Sprintf("%s,%s,%s", from[0], to[0], id))
	}
	if lines != nil {
		fmt.Fprintf(&s.plan, "  - list: %s\n", s.keep("from,to,id", lines))
	}
}

// feed is an entry out of the infeed, whose parts have no ids, or into the chute.
func (s *shelf) feed() {
	if to := s.some(1, false, ""); to != nil && s.r.IntN(2) == 0 {
		fmt.Fprintf(&s.plan, "  - {from: in, to: %q}\n", to[0])
		s.at["in"] = ""
		s.carry("in", to[0])
	} else if from := s.some(1, true, ""); from != nil {
		fmt.Fprintf(&s.plan, "  - {from: %q, to: out}\n", from[0])
		s.carry(from[0], "out A1")
		delete(s.at, "out A1")
	}
}

// Every part goes with its id, whatever carries it: through chains, groups, feeders and worklists, and where a job is
// begun in its midst.
func TestIDsGoWithTheirParts(t *testing.T) {
	plans, transfers := 400, 0
	if testing.Short() {
		plans = 60
	}
	for seed := range plans {
		s := newShelf(t, uint64(seed))
		for range 2 + s.r.IntN(4) {
			[]func(){s.chain, s.worklist, s.feed}[s.r.IntN(3)]()
		}
		if len(s.carried) == 0 {
			continue
		}
		transfers += len(s.carried)
		var list diag.List
		l := layout.Resolve(plan.Read(plan.Source{File: "p", Data: []byte(s.plan.String()), Dir: s.folder}, nil, &list, new(diag.Sources)), layout.Options{}, &list)
		if list.HasErrors() {
			t.Fatalf("%v\n%s", list.Sorted(), s.plan.String())
		}
		start := 1 + s.r.IntN(len(s.carried))
		if e, _ := l.EntryOf(start); e != nil {
			start, _ = e.Group(start)
		}
		for _, from := range []int{1, start} {
			now := map[string]string{}
			for m := range expand.Rest(l, expand.Start{Transfer: from, Begin: true}) {
				id := ""
				if m.ID != nil {
					id = *m.ID
				}
				if want := said(s, &m); id != want {
					t.Fatalf("%d: transfer %d, %s %s: the id %q, wanted %q\n%s", seed, m.Transfer, m.Kind, m.Target, id, want, s.plan.String())
				}
				switch {
				case m.Takes():
					delete(now, m.Target.String())
				case m.Puts() && m.Target.Grid != "out":
					now[m.Target.String()] = id
				}
			}
			for at, id := range now {
				if is, full := s.at[at]; from == 1 && (!full || is != id) {
					t.Fatalf("%d: %q ends with %q, wanted %q (%t)\n%s", seed, at, id, is, full, s.plan.String())
				}
			}
		}
	}
	if transfers < 3*plans {
		t.Errorf("only %d transfers in %d plans", transfers, plans)
	}
}

// said is the id that a move should have.
func said(s *shelf, m *move.Move) string {
	if m.Transfer == 0 {
		return ""
	}
	return s.carried[m.Carries()-1]
}
