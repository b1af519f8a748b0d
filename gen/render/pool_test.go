package render

import (
	"bytes"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"testing"
	"testing/fstest"
	"time"

	"gridferry/gen/family"
	"gridferry/gen/family/blocks"
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/gen/slot"
	"gridferry/plan/diag"
	"gridferry/templates"
)

// laidOut is what comes out: the text, who made which lines, which blocks were run and
// what was found.
func laidOut(t *testing.T, f *blocks.Blocks, moves []move.Move, whole, watched bool) string {
	var text, trace bytes.Buffer
	var list diag.List
	job := move.Job{
		Title: "cubes", Plan: "cubes.plan.yaml", Place: diag.Place{File: "cubes.plan.yaml", Line: 1, Col: 1}, Speed: 1000, Turns: [2]float64{-360, 360},
		Frames: []move.Frame{{Number: 1, Name: "base"}, {Number: 2, Name: "bath"}}, Tools: []move.Tool{{Number: 1, Name: "jaw"}},
	}
	p := newProgram(f, job, &list, Options{
		Trace: func(m move.Move, _ string, first, last int) {
			fmt.Fprintln(&trace, m.N, m.Transfer, m.Kind, first, last)
		},
		Used: func(block string) { fmt.Fprintln(&trace, block) },
	})
	p.lines = newLines(&text, f, p.budget)
	if whole {
		c := newChunk()
		c.moves = slices.Clone(moves)
		winding := f.NewWinding(job.Turns)
		for i := range c.moves {
			winding.Follow(&c.moves[i])
		}
		newWorker(f, job, options{report: true}).write(c)
		p.lay(c)
	} else {
		p.all(move.Batched(slices.Values(moves)))
	}
	if err := p.lines.flush(); err != nil {
		t.Fatal(err)
	}
	for _, found := range list.Sorted() {
		fmt.Fprintln(&trace, found.Place, found.Severity, found.Rule, found.Message)
	}
	return text.String() + "\n---\n" + trace.String()
}

// long is some thousand moves in transfers of very different lengths.
func long(seed uint64) []move.Move {
	random := rand.New(rand.NewPCG(seed, 0))
	lengths := []int{1, 3, 10, 12, 12, 12, mostAhead - 1, mostAhead, mostAhead + 1, chunkSize, 2 * chunkSize}
	var moves []move.Move
	for transfer := range 60 {
		n := lengths[random.IntN(len(lengths))]
		for i := range n {
			moves = append(moves, stretch(len(moves), transfer, i, n))
		}
	}
	return moves
}

// stretch is one move of a transfer of n.
func stretch(at, transfer, i, n int) move.Move {
	kinds := []move.Kind{move.Travel, move.Straight, move.Grip, move.Dwell, move.Select, move.Straight, move.Note, move.Travel, move.Straight, move.Release, move.Select}
	down := geom.RPY{Roll: 180, Yaw: []float64{0, 180, -179.9, 90}[transfer%4]} // about half a turn, where signs change
	if transfer%7 == 3 {
		down.Pitch = 0.3 // leans a little, which some families warn of
	}
	m := move.Move{
		N: at + 1, Transfer: transfer, Leg: 1, Kind: kinds[i*len(kinds)/n], Target: move.Target{Grid: "tray", Slot: slot.Slot{Row: int32(transfer % 26), Col: int32(i % 12)}},
		Frame: "bath", FrameNumber: 2 - at%2, Tool: "jaw", ToolNumber: 1, Load: 0.85 + float64(at%2)/10, Speed: 500, Seconds: 0.3, Signal: 1,
		Level: i%2 == 0, Text: "a remark", Place: diag.Place{File: "cubes.plan.yaml", Line: 30 + transfer, Col: 5},
	}
	switch transfer % 6 { // some are carried at once: the first is begun, then the second, and the first goes on
	case 3, 4:
		m.Group = transfer - transfer%6 + 3
	case 5:
		m.Transfer, m.Group = transfer-2, transfer-2
	}
	m.At = move.Point{Vec: geom.Vec{X: float64(at) * 0.7, Y: float64(transfer), Z: 20}, RPY: down}
	m.Base = m.At
	return m
}

// TestChunksDoNotShow: whatever the number of cores, what comes out is what one worker
// writes of the whole list in one go.
func TestChunksDoNotShow(t *testing.T) {
	cores := []int{1, 2, 5}
	if testing.Short() {
		cores = cores[1:2]
	}
	lists, ways := []uint64{0, 1}, []bool{false, true}
	if testing.Short() {
		lists, ways = lists[1:], ways[1:]
	}
	for _, name := range append(templates.Names(), "../testdata/families/slipway", "quaternions") {
		f := quaternions(t)
		if name != "quaternions" {
			f = loaded(t, os.DirFS(filepath.Join("../../templates", name)), name)
		}
		if f.Rules.Loops {
			continue
		}
		t.Run(name, func(t *testing.T) {
			defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
			short := *f
			short.LongestLine = 30 // so that many lines are too long, which is found
			for _, seed := range lists {
				moves, f := long(seed), []*blocks.Blocks{f, &short}[seed]
				for _, watched := range ways {
					want := laidOut(t, f, moves, true, watched)
					for _, cores := range cores {
						runtime.GOMAXPROCS(cores)
						if got := laidOut(t, f, moves, false, watched); got != want {
							t.Fatalf("list %d on %d cores is not what it is in one go: %s", seed, cores, parting(got, want))
						}
					}
				}
			}
		})
	}
}

// quaternions is a family that writes nothing but them.
func quaternions(t *testing.T) *blocks.Blocks {
	return loaded(t, fstest.MapFS{
		"family.yaml": {Data: []byte("format: gridferry family 1\ntitle: t\nextension: .t\ndecimals: {length: 1, angle: 1, time: 2, speed: 1, mass: 1}\nspeed_unit: mm/s\ncomment: none\n" +
			"coordinates: frame\nrotation: quaternion\ncannot: {grip: no, release: no, set: no, await: no, dwell: no}\n")},
		"a.tmpl": {Data: []byte(`{{define "begin"}}{{end}}{{define "travel"}}{{.QW}} {{.QX}} {{.QY}} {{.QZ}}{{end}}{{define "straight"}}{{template "travel" .}}{{end}}` +
			`{{define "select"}}{{end}}{{define "note"}}{{end}}{{define "end"}}{{end}}`)},
	}, "quaternions")
}

// parting is where two texts part.
func parting(got, want string) string {
	at := 0
	for at < min(len(got), len(want)) && got[at] == want[at] {
		at++
	}
	cut := func(s string) string { return s[max(at-100, 0):min(at+100, len(s))] }
	return fmt.Sprintf("\n%s\ninstead of\n%s", cut(got), cut(want))
}

// TestPoolEndsEarly: nobody goes on with a program that has grown too long, or whose
// template ran away, and no worker stays behind.
func TestPoolEndsEarly(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	several := []int{1, 4}
	if testing.Short() {
		several = several[1:]
	}
	for _, cores := range several {
		runtime.GOMAXPROCS(cores)
		for name, rule := range map[string]string{"../../templates/starter": ruleOutput, "../../testdata/hostile-families/slow-moves": ruleTemplate} {
			f := loaded(t, os.DirFS(name), "f")
			before, made := runtime.NumGoroutine(), 0
			endless := func(yield func(move.Move) bool) {
				for yield(stretch(made, made/10, made%10, 10)) {
					made++
				}
			}
			var list diag.List
			p := newProgram(f, move.Job{}, &list, Options{MostBytes: 100_000})
			p.lines = newLines(io.Discard, f, p.budget)
			p.all(move.Batched(endless))
			if found := list.Sorted(); len(found) == 0 || found[0].Rule != rule || found[0].Severity != diag.Error {
				t.Errorf("%s: %v", name, found)
			}
			if made > 30*chunkSize {
				t.Errorf("%s: %d moves are made for 100 kB", name, made)
			}
			for range 100 { // one that is done may need a moment to be gone
				if runtime.NumGoroutine() > before {
					time.Sleep(10 * time.Millisecond)
				}
			}
			if after := runtime.NumGoroutine(); after > before {
				t.Errorf("%s: %d goroutines before and %d after", name, before, after)
			}
		}
	}
}

// TestBoundsDoNotDependOnCores: what a template may do in the last block is what it may do
// there on any machine, however much the blocks before it did.
func TestBoundsDoNotDependOnCores(t *testing.T) {
	text, err := os.ReadFile("../../templates/starter/program.tmpl")
	if err != nil {
		t.Fatal(err)
	}
	rules, err := os.ReadFile("../../templates/starter/family.yaml")
	if err != nil {
		t.Fatal(err)
	}
	text = bytes.Replace(text, []byte(`{{define "await"}}`), []byte(`{{define "await"}}{{range 120000}}{{end}}`), 1)
	text = bytes.Replace(text, []byte(`{{define "end"}}`), []byte(`{{define "end"}}{{range 240000}}{{end}}`), 1)
	f := loaded(t, fstest.MapFS{"family.yaml": {Data: rules}, "program.tmpl": {Data: text}}, "f")
	moves := long(0)[:chunkSize+100]
	for i := range 4 { // the last ones use up what there is
		moves[len(moves)-1-i].Kind = move.Await
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	found := map[string]int{}
	step := 1
	if testing.Short() {
		step = 2
	}
	for cores := 1; cores <= 3; cores += step {
		runtime.GOMAXPROCS(cores)
		var list diag.List
		job := move.Job{Frames: []move.Frame{{Number: 1, Name: "base"}, {Number: 2, Name: "bath"}}, Tools: []move.Tool{{Number: 1, Name: "jaw"}}}
		if err := Program(io.Discard, f, job, move.Batched(slices.Values(moves)), &list); err != nil {
			t.Fatal(err)
		}
		found[fmt.Sprint(list.Sorted())]++
	}
	if len(found) != 1 {
		t.Errorf("on one to three cores there is found %v", found)
	}
}

// TestChunksHoldLittle: a template that writes a great deal is laid out in time.
func TestChunksHoldLittle(t *testing.T) {
	f := loaded(t, os.DirFS("../../templates/starter"), "starter")
	p := newProgram(f, move.Job{}, new(diag.List), Options{})
	p.lines = newLines(io.Discard, f, p.budget)
	s := newWorker(f, move.Job{}, options{most: 1000})
	c := newChunk()
	c.moves = long(0)[:1000]
	for pieces := 0; ; pieces++ {
		s.write(c)
		if len(c.text) > 1200 {
			t.Fatalf("a chunk that may hold 1000 bytes holds %d", len(c.text))
		}
		if p.lay(c); c.next == len(c.moves) {
			if pieces < 10 {
				t.Errorf("1000 moves come in %d pieces", pieces)
			}
			return
		}
	}
}

func loaded(t *testing.T, folder fs.FS, name string) *blocks.Blocks {
	t.Helper()
	var list diag.List
	f, ok := family.Load(folder, name, &list, nil)
	if !ok {
		t.Fatal(list.Sorted())
	}
	return f.Blocks
}
