package kinematics

import (
	"math"
	"slices"
	"testing"

	"gridferry/golden/outside"
)

// planting puts a fault into a list which is right.
type planting struct {
	name, class string
	plant       func(l *listed) (at float64, ok bool) // the move at which it is to be found; false where the list has no room for it
	want        string
}

var plantings = []planting{
	{"a joint off by a thousandth of a degree", "three parallel axes", anywhere("travel", func(m, _ move) bool { return m.turn(3, 0.001) }), "the pose in the base"},
	{"an axis off by a hundredth of a mm", "gantry", anywhere("straight", func(m, _ move) bool { return m.turn(0, 0.01) }), "the pose in the base"},
	{"another place in the frame", "four axes", anywhere("straight", func(m, _ move) bool { return m.add("y", 0.01) }), "the pose in the frame"},
	{"another place in the base", "four axes", anywhere("straight", func(m, _ move) bool { return m.add("base_yaw", 0.3) }), "the pose in the base"},
	{"a whole turn out of the range", "spherical wrist", anywhere("travel", func(m, _ move) bool { return m.turn(1, 360) }), "range"},
	{"a whole turn on a straight", "spherical wrist", anywhere("straight", func(m, _ move) bool { return m.turn(5, 360) }), "jump"},
	{"the wrist flips on a straight", "rail under six axes", anywhere("straight", func(m, _ move) bool {
		return m.turn(4, 180) && m.turn(5, -2*m.joint(5)) && m.turn(6, 180)
	}), "jump"},
	{"the wrist is called otherwise", "spherical wrist", anywhere("travel", func(m, _ move) bool { return m.call("front up") }), "configuration"},
	{"another configuration along a straight", "three parallel axes", anywhere("straight", func(m, _ move) bool { return m.call("back up up") }), "configuration changes"},
	{"a motion without joints", "gantry", anywhere("straight", func(m, _ move) bool { delete(m, "joints"); return true }), "no joints"},
	{"a detour of a whole turn", "spherical wrist", windUp, "winding"},
}

// TestCheckerFindsPlantedFaults shows that the checker can fail: each fault, put into a list that check passes, is found.
func TestCheckerFindsPlantedFaults(t *testing.T) {
	t.Parallel()
	outside.Short(t)
	var lists []listed
	var at []float64
	for _, p := range plantings {
		l, n := plant(t, &p)
		lists, at = append(lists, l), append(at, n)
	}
	l, n := leftOnTheWay(t)
	lists, at = append(lists, l), append(at, n)
	all := append(slices.Clone(plantings), planting{name: "a range that is left between the ends of a straight", want: "range on the way"})
	for i, faults := range ask(t, lists) {
		if !slices.ContainsFunc(faults, func(f fault) bool { return f.What == all[i].want && f.Move == at[i] }) {
			t.Errorf("%s: found %v, wanted %q at move %g", all[i].name, faults, all[i].want, at[i])
		}
	}
}

// plant puts a fault into the first list that has room for it.
func plant(t *testing.T, p *planting) (listed, float64) {
	for seed := range 40 * len(classes) {
		if classes[seed%len(classes)].name != p.class {
			continue
		}
		if l := random(t, seed); l.Checked {
			if at, ok := p.plant(&l); ok {
				return l, at
			}
		}
	}
	t.Fatalf("%s: no list has room for it", p.name)
	panic("unreachable")
}

// anywhere plants a fault into the first motion of a kind, in the middle of a list.
func anywhere(action string, fault func(m, before move) bool) func(*listed) (float64, bool) {
	return func(l *listed) (float64, bool) {
		var before move
		for i, m := range l.Moves {
			if i > len(l.Moves)/2 && before != nil && m["action"] == action && fault(m, before) {
				return m.number(), true
			}
			if m["joints"] != nil {
				before = m
			}
		}
		return 0, false
	}
}

// windUp turns the last joint by a whole turn more, where there is room, between two poses that are given by its readings.
func windUp(l *listed) (float64, bool) {
	const joint = 5
	lo, hi := l.reach(joint)
	var last move
	var stage []move
	wound := false
	for _, m := range l.Moves {
		if m["joints"] == nil {
			continue
		}
		last = m
		if m["target"] != "clear" && m["target"] != "door" {
			stage = append(stage, m)
			continue
		}
		if room := func(m move) bool { return m.joint(joint)+360 <= hi && m.joint(joint) >= lo }; !wound && len(stage) > 0 && all(stage, room) {
			wound = true
			for _, s := range stage {
				s.turn(joint, 360)
			}
		}
		stage = nil
	}
	return last.number(), wound
}

func all(moves []move, is func(move) bool) bool {
	return !slices.ContainsFunc(moves, func(m move) bool { return !is(m) })
}

// leftOnTheWay is a line past the arm in the middle of which joint 3 is bent most, and where its range ends before that.
func leftOnTheWay(t *testing.T) (listed, float64) {
	pose := func(y float64) object { return object{"at": vec{380, y, 300}, "rpy": vec{180, 0, 0}} }
	joint := func(axis, point vec) object {
		return object{"axis": axis, "point": point, "range": [2]float64{-250, 250}}
	}
	on, off := object{"output": 1, "level": "on"}, object{"output": 1, "level": "off"}
	x, y, z := vec{1, 0, 0}, vec{0, 1, 0}, vec{0, 0, 1}
	l := list(t, object{
		"format": "gridferry plan 1",
		"cell": object{"format": "gridferry cell 1", "name": "bench",
			"arm": object{"flange": object{"at": vec{480, 0, 660}, "rpy": vec{0, 90, 0}}, "joints": []object{
				joint(z, vec{0, 0, 0}), joint(y, vec{60, 0, 300}), joint(y, vec{60, 0, 620}), joint(x, vec{60, 0, 660}), joint(y, vec{400, 0, 660}), joint(x, vec{400, 0, 660})}},
			"tools": object{"jaw": object{"tcp": object{"at": vec{0, 0, 90}}, "mass": 0.5, "grip": on, "release": off}},
			"poses": object{"left": pose(220), "middle": pose(0), "right": pose(-220)}},
		"parts": object{"peg": object{"mass": 0.1}},
		"grids": object{
			"here":  object{"frame": "base", "rows": 1, "columns": 1, "pitch": [2]float64{0, 0}, "first": vec{380, 60, 200}, "part": "peg", "filled": "all"},
			"there": object{"frame": "base", "rows": 1, "columns": 1, "pitch": [2]float64{0, 0}, "first": vec{380, -60, 200}, "part": "peg"}},
		"motion":    object{"tool": "jaw", "approach": 60, "speed": object{"travel": 500, "near": 60}, "fly_by": 5, "clear": "none"},
		"begin":     []object{{"go": "left"}, {"line": "middle"}, {"line": "right"}},
		"transfers": []object{{"from": "here", "to": "there"}},
	})
	at := map[string]int{}
	for i, m := range l.Moves {
		if name, is := m["target"].(string); is {
			at[name] = i
		}
	}
	end, most := l.Moves[at["right"]].joint(2), l.Moves[at["middle"]].joint(2)
	if !l.Checked || math.Abs(most-end) < 1 {
		t.Fatalf("check passes: %t; joint 3 goes from %g to %g", l.Checked, end, most)
	}
	half := (end + most) / 2
	l.Plan["cell"].(object)["arm"].(object)["joints"].([]object)[2]["range"] = [2]float64{min(half, 3*end-2*half), max(half, 3*end-2*half)}
	l.Moves = slices.Delete(l.Moves, at["middle"], at["middle"]+1)
	return l, l.Moves[at["middle"]].number()
}

// reach is the range of a joint.
func (l *listed) reach(joint int) (lo, hi float64) {
	r := l.Plan["cell"].(object)["arm"].(object)["joints"].([]object)[joint]["range"].([2]float64)
	return r[0], r[1]
}

func (m move) number() float64 { return m["n"].(float64) }

func (m move) joint(i int) float64 { return m["joints"].([]any)[i].(float64) }

func (m move) turn(joint int, by float64) bool {
	m["joints"].([]any)[joint] = m.joint(joint) + by
	return true
}

func (m move) add(key string, by float64) bool {
	m[key] = m[key].(float64) + by
	return true
}

func (m move) call(words string) bool {
	m["configuration"] = words
	return true
}
