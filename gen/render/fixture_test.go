package render_test

import (
	"bytes"
	"io/fs"
	"slices"
	"strings"
	"testing"

	"gridferry/gen/family"
	"gridferry/gen/family/blocks"
	"gridferry/gen/geom"
	"gridferry/gen/move"
	"gridferry/gen/render"
	"gridferry/gen/slot"
	"gridferry/plan/diag"
	"gridferry/templates"
)

// shipped loads a family that comes with Gridferry; one that fails its own lint
// is a defect.
func shipped(t testing.TB, name string) *blocks.Blocks {
	t.Helper()
	sub, err := fs.Sub(templates.FS, name)
	if err != nil {
		t.Fatal(err)
	}
	return load(t, sub, name)
}

func load(t testing.TB, fsys fs.FS, name string) *blocks.Blocks {
	t.Helper()
	var list diag.List
	f, ok := family.Load(fsys, name, &list, nil)
	if !ok {
		t.Fatalf("family %s does not load:\n%s", name, found(&list))
	}
	return f.Blocks
}

// found is a list of findings as one text, a line each.
func found(list *diag.List) string {
	var b strings.Builder
	for _, f := range list.Sorted() {
		b.WriteString(f.Place.String() + ": " + f.Message + " [" + f.Rule + "]\n")
	}
	return b.String()
}

// program writes moves and returns the text and the findings.
func program(t testing.TB, f *blocks.Blocks, job move.Job, moves ...move.Move) (string, *diag.List) {
	t.Helper()
	var out bytes.Buffer
	var list diag.List
	if err := render.Program(&out, f, job, move.Batched(slices.Values(moves)), &list); err != nil {
		t.Fatal(err)
	}
	return out.String(), &list
}

// A bench that is made up: a tray in a water bath, a balance, one tool.
func benchJob() move.Job {
	down := geom.RPY{Roll: 180}
	return move.Job{
		Title: "Mortar cubes, 28 days", Plan: "cubes.plan.yaml", Cell: "materials bench", Version: "0.0",
		Frames: []move.Frame{
			{Number: 1, Name: "base", Used: true},
			{Number: 2, Name: "bath", Base: move.Point{Vec: geom.Vec{X: 310, Y: -210, Z: 42}}, Used: true},
			{Number: 3, Name: "balance-pan", Base: move.Point{Vec: geom.Vec{X: 130, Y: 180, Z: 90}, RPY: geom.RPY{Yaw: 90}}, Used: true},
		},
		Tools: []move.Tool{{
			Number: 1, Name: "jaw", TCP: move.Point{Vec: geom.Vec{Z: 132}, RPY: down},
			Mass: 0.85, CentreOfGravity: geom.Vec{Z: 61}, Used: true,
		}},
		Acceleration: 2500, Speed: 1000, Start: "clear",
		Place: diag.Place{File: "cubes.plan.yaml", Line: 2, Col: 8},
	}
}

// benchMoves carries one cube to the balance, with one of every kind of move.
func benchMoves() []move.Move {
	tray := move.Target{Grid: "tray", Slot: slot.Slot{}}
	pan := move.Target{Grid: "balance", Slot: slot.Slot{}}
	above := func(t move.Target) move.Target { t.Approach = true; return t }
	clear := move.Target{Pose: "clear"}
	list := []move.Move{
		{Kind: move.Note, Text: "Lid of the bath off, drip tray under the balance.\nWeigh wet."},
		{Kind: move.Set, Signal: 4, Level: true},
		{Kind: move.Select, Frame: "base", FrameNumber: 1, Load: 0.85},
		motion(move.Travel, clear, geom.Vec{X: 300, Z: 420}, geom.Vec{}, 500, 15),
		{Kind: move.Release, Signal: 1, Level: false},
		{Kind: move.Dwell, Seconds: 0.3},
		{Kind: move.Select, Frame: "bath", FrameNumber: 2, Load: 0.85},
		motion(move.Travel, above(tray), geom.Vec{X: 40, Y: 40, Z: 95}, geom.Vec{X: 310, Y: -210, Z: 42}, 500, 15),
		motion(move.Straight, tray, geom.Vec{X: 40, Y: 40, Z: 25}, geom.Vec{X: 310, Y: -210, Z: 42}, 80, 0),
		{Kind: move.Grip, Target: tray, Signal: 1, Level: true},
		{Kind: move.Dwell, Seconds: 0.4},
		{Kind: move.Select, Frame: "bath", FrameNumber: 2, Load: 1.14},
		motion(move.Straight, above(tray), geom.Vec{X: 40, Y: 40, Z: 95}, geom.Vec{X: 310, Y: -210, Z: 42}, 80, 0),
		{Kind: move.Await, Signal: 2, Level: true, Seconds: 20},
		{Kind: move.Await, Signal: 3, Level: false, Seconds: 5, GoOn: true},
		{Kind: move.Await, Signal: 5, Level: false},
		motion(move.Travel, above(pan), geom.Vec{X: -0.0004, Y: 0, Z: 100}, geom.Vec{X: 130, Y: 180, Z: 90}, 500, 0),
		motion(move.Straight, pan, geom.Vec{X: 0, Y: 0, Z: 30}, geom.Vec{X: 130, Y: 180, Z: 90}, 80, 0),
		{Kind: move.Release, Target: pan, Signal: 1, Level: false},
		{Kind: move.Dwell, Seconds: 0.3},
		motion(move.Travel, clear, geom.Vec{X: 300, Z: 420}, geom.Vec{}, 500, 0),
	}
	return numberedMoves(list)
}

func numberedMoves(list []move.Move) []move.Move {
	frame := 1
	for i := range list {
		m := &list[i]
		m.N, m.Tool, m.ToolNumber = i+1, "jaw", 1
		if m.Kind == move.Select {
			frame = m.FrameNumber
		}
		m.FrameNumber, m.Frame = frame, benchJob().Frames[frame-1].Name
		if i >= 3 {
			m.Transfer, m.Leg = 1, 1
		}
		m.Place = diag.Place{File: "cubes.plan.yaml", Line: 20 + i, Col: 5}
	}
	return list
}

func motion(kind move.Kind, to move.Target, at, origin geom.Vec, speed, flyBy float64) move.Move {
	down := geom.RPY{Roll: 180}
	return move.Move{
		Kind: kind, Target: to, Speed: speed, FlyBy: flyBy,
		At: move.Point{Vec: at, RPY: down}, Base: move.Point{Vec: at.Add(origin), RPY: down},
	}
}

// without leaves out the kinds that a family does not write.
func without(f *blocks.Blocks, moves []move.Move) []move.Move {
	return slices.DeleteFunc(slices.Clone(moves), func(m move.Move) bool { _, cannot := f.Cannot[m.Kind.String()]; return cannot })
}
