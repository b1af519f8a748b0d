package kinematics

import (
	"math"
	"math/rand/v2"
	"slices"
)

// object is one of JSON, which is YAML as well: so the scripts read plans without any of the project's code.
type object = map[string]any

// drawer makes random plans with random arms; of one seed they are always the same. All dimensions are invented.
type drawer struct{ *rand.Rand }

func (d drawer) between(lo, hi float64) float64 {
	return math.Round(1000*(lo+float64((hi-lo)*d.Float64()))) / 1000
}

func one[T any](d drawer, of ...T) T { return of[d.IntN(len(of))] }

// machine is an arm and how it is used.
type machine struct {
	joints []object
	flange object
	clear  []float64 // readings at which it stands over its bench
	tilt   float64   // degrees, how far frames and tools may lean
}

// class is a kind of arm.
type class struct {
	name string
	draw func(drawer) machine
}

var classes = []class{
	{"spherical wrist", drawer.spherical},
	{"three parallel axes", drawer.parallel},
	{"four axes", drawer.fourAxes},
	{"gantry", drawer.gantry},
	{"rail under six axes", drawer.onRail},
}

type vec = [3]float64

// revolute is a joint that turns, in either sense; its readings go with it.
func (d drawer) revolute(m *machine, axis, point vec, lo, hi, clear float64) {
	if d.IntN(2) == 0 {
		for i := range axis {
			axis[i] = -axis[i] + 0 // no negative zero
		}
		lo, hi, clear = -hi, -lo, -clear
	}
	m.joints = append(m.joints, object{"axis": axis, "point": point, "range": [2]float64{lo, hi}})
	m.clear = append(m.clear, clear)
}

func (d drawer) sliding(m *machine, along vec, lo, hi, clear float64) {
	m.joints = append(m.joints, object{"slides": along, "range": [2]float64{lo, hi}})
	m.clear = append(m.clear, clear)
}

func (d drawer) spherical() (m machine) {
	out, base, upper := d.between(0, 100), d.between(250, 360), d.between(260, 360)
	rise, fore, hand := d.between(0, 60), d.between(280, 380), d.between(60, 110)
	elbow, wrist := base+upper, base+upper+rise
	d.revolute(&m, vec{0, 0, 1}, vec{0, 0, 0}, -170, d.between(120, 170), 0)
	d.revolute(&m, vec{0, 1, 0}, vec{out, 0, base}, -110, 130, 0)
	d.revolute(&m, vec{0, 1, 0}, vec{out, 0, elbow}, -200, d.between(70, 90), 0)
	d.revolute(&m, vec{1, 0, 0}, vec{out, 0, wrist}, d.between(-200, -170), 185, 0)
	d.revolute(&m, vec{0, 1, 0}, vec{out + fore, 0, wrist}, -125, 125, 90)
	d.revolute(&m, vec{1, 0, 0}, vec{0, 0, wrist}, d.between(-400, -350), d.between(350, 400), 0)
	m.flange = object{"at": vec{out + fore + hand, 0, wrist}, "rpy": vec{0, 90, 0}}
	m.tilt = 10
	return m
}

func (d drawer) parallel() (m machine) {
	base, upper, fore := d.between(120, 220), d.between(320, 420), d.between(300, 400)
	side, drop, hand := d.between(90, 130), d.between(70, 110), d.between(60, 110)
	x := upper + fore
	d.revolute(&m, vec{0, 0, 1}, vec{0, 0, 0}, -360, 360, 0)
	d.revolute(&m, vec{0, 1, 0}, vec{0, 0, base}, -200, 200, -80)
	d.revolute(&m, vec{0, 1, 0}, vec{upper, 0, base}, -170, 170, 90)
	d.revolute(&m, vec{0, 1, 0}, vec{x, 0, base}, -360, 360, -100)
	d.revolute(&m, vec{0, 0, -1}, vec{x, side, base}, -360, 360, -90)
	d.revolute(&m, vec{0, 1, 0}, vec{x, side, base - drop}, -360, 360, 0)
	m.flange = object{"at": vec{x, side + hand, base - drop}, "rpy": vec{-90, 0, 0}}
	m.tilt = 10
	return m
}

func (d drawer) fourAxes() (m machine) {
	inner, outer := d.between(260, 340), d.between(260, 340)
	d.revolute(&m, vec{0, 0, 1}, vec{0, 0, 0}, -170, 170, 20)
	d.revolute(&m, vec{0, 0, 1}, vec{inner, 0, 0}, -150, 150, 60)
	d.sliding(&m, vec{0, 0, 1}, -450, 100, -100)
	d.revolute(&m, vec{0, 0, 1}, vec{inner + outer, 0, 0}, d.between(-400, -300), d.between(300, 400), 10)
	m.flange = object{"at": vec{inner + outer, 0, 550}, "rpy": vec{180, 0, 0}}
	return m
}

func (d drawer) gantry() (m machine) {
	d.sliding(&m, vec{1, 0, 0}, -700, 900, 300)
	d.sliding(&m, vec{0, 1, 0}, -900, 900, 0)
	d.sliding(&m, vec{0, 0, 1}, -500, 100, 0)
	d.revolute(&m, vec{0, 0, 1}, vec{0, 0, 0}, d.between(-250, -190), d.between(190, 250), 10)
	m.flange = object{"at": vec{d.between(-50, 50), 0, 550}, "rpy": vec{180, 0, 0}}
	return m
}

func (d drawer) onRail() machine {
	var m machine
	d.sliding(&m, vec{0, 1, 0}, -500, 500, 100)
	six := d.spherical()
	m.joints, m.clear = append(m.joints, six.joints...), append(m.clear, six.clear...)
	m.flange, m.tilt = six.flange, six.tilt
	return m
}

// plan is one with two tools, one of which takes two parts, and grids of several kinds, somewhere before the arm, which stands anyhow.
func (d drawer) plan(m machine) object {
	lean := func() float64 { return d.between(-m.tilt, m.tilt) }
	rpy := func() vec { return vec{180 - math.Abs(lean()), lean(), d.between(-180, 180)} }
	stand := object{"at": vec{d.between(-300, 300), d.between(-300, 300), d.between(0, 50)}, "rpy": vec{0, 0, d.between(-180, 180)}}
	frame := func() object {
		far, way := d.between(330, 480), d.between(-50, 50)*math.Pi/180
		return object{"parent": "stand", "at": vec{math.Round(far * math.Cos(way)), math.Round(far * math.Sin(way)), d.between(60, 140)}, "rpy": vec{lean(), lean(), d.between(-180, 180)}}
	}
	readings := func() object {
		r := slices.Clone(m.clear)
		for i := range r {
			r[i] += d.between(-10, 10)
		}
		return object{"joints": r}
	}
	arm := object{"at": stand["at"], "rpy": stand["rpy"], "joints": m.joints, "flange": m.flange}
	grip := func(output int) (grip, release object) {
		return object{"output": output, "level": "on"}, object{"output": output, "level": "off"}
	}
	zone := func(x, turned float64, output int) object {
		on, off := grip(output)
		return object{"at": vec{x, 0, 0}, "rpy": vec{0, 0, turned}, "grip": on, "release": off}
	}
	on, off := grip(1)
	tools := object{
		"jaw": object{"tcp": object{"at": vec{d.between(-5, 5), 0, d.between(70, 110)}, "rpy": vec{0, 0, d.between(-180, 180)}}, "mass": 0.5, "grip": on, "release": off},
		"twin": object{"tcp": object{"at": vec{0, 0, d.between(90, 130)}, "rpy": vec{lean(), lean(), 0}}, "mass": 0.7,
			"zones": object{"left": zone(-20, 0, 2), "right": zone(20, 30, 3)}},
	}
	poses := object{"clear": readings(), "door": readings(), "post": object{"frame": "near", "at": vec{20, 20, 160}, "rpy": rpy()}}
	full := func(g object) object { g["filled"] = "all"; return g }
	grid := func(frame string, rows, columns int, motion object) object {
		return object{"frame": frame, "rows": rows, "columns": columns, "pitch": [2]float64{d.between(30, 45), d.between(30, 45)},
			"first": vec{d.between(-60, 0), d.between(-60, 0), 10}, "rpy": rpy(), "part": "peg", "motion": motion}
	}
	along := func() string { return one(d, "tool", "frame") }
	return object{
		"format": "gridferry plan 1",
		"cell": object{"format": "gridferry cell 1", "name": "bench", "arm": arm, "tools": tools, "poses": poses,
			"frames": object{"stand": stand, "near": frame(), "far": frame(), "table": frame()}},
		"parts": object{"peg": object{"mass": 0.1}}, // of a size that nobody knows: nothing is in the way but the arm itself
		"grids": object{
			"here":  full(grid("near", 2, 3, object{})),
			"there": grid("far", 2, 3, object{"along": along(), "entry": []string{"door", "post"}}),
			"rotor": object{"frame": "table", "ring": object{"radius": 60, "places": 6, "start": d.between(-180, 180), "turned": one(d, "radial", "fixed")},
				"first": vec{0, 0, 10}, "rpy": rpy(), "part": "peg", "motion": object{"tool": "twin", "along": along()}},
			"tray": full(grid("table", 1, 4, object{"tool": "twin"})),
		},
		"motion": object{"tool": "jaw", "approach": d.between(30, 90), "speed": object{"travel": 500, "near": 60}, "fly_by": 5, "clear": "clear"},
		"transfers": []object{
			{"from": "here", "to": "there"},
			{"from": "tray", "to": "rotor", "at_once": d.IntN(2) + 1},
			{"from": "there", "to": "here"},
		},
	}
}
