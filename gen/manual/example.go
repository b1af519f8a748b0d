package manual

// Example is files, given as the lines in which they differ from those that every example
// begins with: a line behind "-" is taken out, and those behind "+" after it stand in its
// place. The changes are to ExamplePlan; behind a line "== NAME" they are to that file, which
// is begun there if it is none of them. The empty example changes nothing.
type Example string

// PlanName is what the plan of an example is called.
const PlanName = "example.plan.yaml"

// ExamplePlan is the plan that the examples of the rules change. It has no finding.
const ExamplePlan = `format: gridferry plan 1
title: Blocks from the tray to the rack
cell:
  name: example bench
  machine:
    rated_load: 3
    speed: 1000
    acceleration: 2500
    reach: {radius: [150, 600], height: [-20, 650]}
  tools:
    jaw:
      tcp: {at: [0, 0, 120]}
      mass: 0.8
      centre_of_gravity: [0, 0, 50]
      grip:    {output: 1, level: on,  settle: 0.4}
      release: {output: 1, level: off, settle: 0.3}
  frames:
    left:  {at: [250, 60, 40]}
    right: {at: [250, -260, 40]}
  poses:
    clear: {at: [330, 0, 300]}
  keep_out: {}
parts:
  block: {mass: 0.15, size: [30, 30, 30]}
  brick: {mass: 0.40, size: [30, 60, 30]}
grids:
  tray: {frame: left,  rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block, filled: all}
  rack: {frame: right, rows: 2, columns: 3, pitch: [50, 60], first: [30, 30, 15], part: block}
  pile: {frame: right, rows: 1, columns: 2, pitch: [50, 0], layers: 2, layer_pitch: 30, first: [30, 160, 15], part: block}
motion:
  tool: jaw
  approach: 60
  speed: {travel: 250, near: 50}
  fly_by: 10
  clear: clear
transfers:
  - {from: "tray A1:A3", to: "rack A1:A3"}
  - {from: "tray B1:B2", to: "pile A1.1, A1.2"}
`
