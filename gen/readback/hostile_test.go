package readback_test

import (
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/layout"
	"gridferry/plan"
)

// hostilePlan moves two parts; TEXT stands wherever a plan takes free text.
const hostilePlan = `format: gridferry plan 1
title: TEXT
cell:
  format: gridferry cell 1
  name: TEXT
  tools:
    jaw: {mass: 1, tcp: {at: [0, 0, 100]}, grip: {output: 1, level: on, settle: 0.4}, release: {output: 1, level: off, settle: 0.3}}
  frames:
    left: {at: [100, 0, 0]}
  poses:
    clear: {at: [300, 0, 300], rpy: [180, 0, 0]}
parts:
  peg: {mass: 0.2}
grids:
  from: {frame: left, rows: 1, columns: 2, pitch: [30, 30], first: [10, 10, 10], part: peg, filled: all}
  to: {frame: left, rows: 1, columns: 2, pitch: [30, 30], first: [10, 100, 10], part: peg}
motion: {tool: jaw, approach: 50, speed: {travel: 200, near: 50}, fly_by: 5, clear: clear}
begin:
  - note: TEXT
transfers:
  - {from: from, to: to}
`

func hostileJob(t *testing.T, text string) *gen.Job {
	t.Helper()
	quoted := `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`).Replace(text) + `"`
	data := []byte(strings.ReplaceAll(hostilePlan, "TEXT", quoted))
	j := new(gen.Job)
	if !j.Read(plan.Source{File: "hostile.plan.yaml", Data: data, Dir: "."}, nil, layout.Options{Slots: layout.DefaultSlots}) {
		t.Fatalf("%q:\n%s", text, told(&j.Findings))
	}
	return j
}
