package render

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"gridferry/gen/arm"
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/gen/slot"
	"gridferry/plan/diag"
	"gridferry/templates"
)

var spreads = []*move.Spread{nil, {Centre: geom.Vec{Z: 40}, Inertia: geom.Vec{X: 0.1}}, {Centre: geom.Vec{Z: 50}, Inertia: geom.Vec{X: 0.2}}}

// drawn is a move of which every field is one of few, so that it is often like one before, and often but for one field.
func drawn(random *rand.Rand, at int) move.Move {
	one := func(n int) int { return max(random.IntN(20*n)-19*n, 0) } // mostly 0
	pick := func(all ...float64) float64 { return all[one(len(all))] }
	id := []string{"", "c1", "c2"}[one(3)]
	frame, tool := one(2), one(2)
	m := move.Move{
		N: at + 1, Transfer: 1, Leg: one(3), Kind: move.Kinds[random.IntN(len(move.Kinds))], First: one(2) > 0, Level: one(2) > 0, GoOn: one(2) > 0,
		Frame: []string{"base", "bath"}[frame], FrameNumber: frame + 1, Tool: []string{"jaw", "cup"}[tool], ToolNumber: tool + 1,
		Load: pick(0.85, 0.9), Speed: pick(80, 500), FlyBy: pick(0, 15), Turn: pick(0, 90), Negated: one(2) > 0,
		Signal: one(2) + 1, Seconds: pick(0.3, 0.4), Text: []string{"a remark", "another"}[one(2)], Place: diag.Place{File: "cubes.plan.yaml", Line: 30 + one(3), Col: 5},
	}
	if one(2) > 0 {
		m.Target = move.Target{Pose: "clear"}
	} else {
		m.Target = move.Target{Grid: "tray", Slot: slot.Slot{Row: int32(one(3)), Col: int32(random.IntN(4))}, Approach: one(2) > 0}
	}
	if id != "" {
		m.ID = &id
	}
	m.Spread = spreads[one(len(spreads))]
	m.Pause, m.ByHand = m.Kind == move.Note && one(2) > 0, m.Kind == move.Select && one(2) > 0
	m.At = move.Point{Vec: geom.Vec{X: float64(at) * 0.7, Y: pick(1, 2), Z: pick(20, 30)}, RPY: geom.RPY{Roll: pick(180, -180), Pitch: pick(0, 0.3), Yaw: pick(0, 90)}}
	m.Base = move.Point{Vec: m.At.Vec.Add(geom.Vec{X: 300}), RPY: geom.RPY{Roll: 180, Pitch: pick(0, 0.3), Yaw: pick(0, 90)}}
	m.Joints, m.Configuration = &arm.Readings{float64(at), pick(1, 2)}, arm.Configuration(one(2))
	return m
}

// TestAlike: a move is written the same by who wrote others before, some of them alike, and by who wrote none.
func TestAlike(t *testing.T) {
	job := move.Job{
		Title: "cubes", Plan: "cubes.plan.yaml", Speed: 1000, Turns: [2]float64{-360, 360}, Joints: make([]move.Joint, 6),
		Frames: []move.Frame{{Number: 1, Name: "base"}, {Number: 2, Name: "bath"}}, Tools: []move.Tool{{Number: 1, Name: "jaw"}, {Number: 2, Name: "cup"}},
	}
	moves := 600
	if testing.Short() {
		moves = 200
	}
	folders, err := filepath.Glob("../../testdata/families/*")
	if err != nil || len(folders) < 4 {
		t.Fatal(folders, err)
	}
	for _, name := range templates.Names() {
		folders = append(folders, filepath.Join("../../templates", name))
	}
	for _, folder := range append(folders, "quaternions") {
		f := quaternions(t)
		if folder != "quaternions" {
			f = loaded(t, os.DirFS(folder), filepath.Base(folder))
		}
		if f.Rules.Loops {
			continue
		}
		o := options{finish: !f.BlockNumbers.On(), report: true}
		before, all := newChunk(), newWorker(f, job, o)
		before.transfer = 1
		random := rand.New(rand.NewPCG(8, 9))
		for at := range moves {
			before.moves = append(before.moves, drawn(random, at))
		}
		all.write(before)
		from, now := 0, chosen{}
		for i := range before.done {
			w := &before.done[i]
			alone := newChunk()
			alone.moves, alone.transfer, alone.before = append(alone.moves, *w.move), 1, now
			newWorker(f, job, o).write(alone)
			if w.move.Kind == move.Select && w.block != "" {
				now = chosenBy(w.move)
			}
			got := fmt.Sprintf("%q %s %v %d %d", before.text[from:w.end], w.block, w.lean, w.lines, len(w.wrong))
			want := fmt.Sprintf("%q %s %v %d %d", alone.text, alone.done[0].block, alone.done[0].lean, alone.done[0].lines, len(alone.done[0].wrong))
			if from = w.end; got != want {
				t.Fatalf("%s: move %d, %+v:\n%s\nalone:\n%s", folder, i+1, *w.move, got, want)
			}
		}
		if all.kin.found < moves/4 {
			t.Errorf("%s: only %d moves were like one before", folder, all.kin.found)
		}
	}
}
