package nest_test

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"gridferry/gen/geom"
)

// interpreter runs the pseudocode of the family "loops" as a reader understands
// it, and notes every action. It knows the text only: no plan, no layout.
type interpreter struct {
	frames   map[string]geom.Pose // in the base
	tools    []toolText           // none where one takes every part
	grids    map[string]*gridText
	ways     map[string]*wayText
	routines map[string]routine
	lists    map[string]map[int]int // to_row: place in the list to number
	counters map[string]int

	arm
	actions []action
}

// action is one thing that happens: a travel or a straight with where to, an
// output, a wait.
type action struct {
	what  string // "travel", "straight", "output 1 on", "wait 0.3", "input 4 on 20 stop", "stop"
	to    string // "clear", "tray 1 2 1", "tray 1 2 1 above"
	frame string
	tool  string
	pose  geom.Pose // in the frame
	speed float64
}

type routine struct{ body []string }

// loop is an EACH that is running.
type loop struct {
	start   int // its line
	counter string
	values  []int
	next    int
}

var (
	tuple       = regexp.MustCompile(`\(([^()]*)\)`)
	gridLine    = regexp.MustCompile(`^GRID (\w+) IN FRAME (\w+)$`)
	routineLine = regexp.MustCompile(`^HOW TO (\w+(?: \w+)*)(?:\(grid, row, column, layer\))?$`)
	forLine     = regexp.MustCompile(`^EACH (\w+) (\d+) (DOWN )?TO (\d+)(?:, BACKWARDS WHERE row IS (EVEN|ODD))?$`)
	callLine    = regexp.MustCompile(`^(\w+)\((.*)\)$`)
	arrayLine   = regexp.MustCompile(`^(\w+)\[(\d+) TO (\d+)\] = \[(.*)\]$`)
	storeLine   = regexp.MustCompile(`^(\w+)\[count\] = (.*)$`)
	itemText    = regexp.MustCompile(`^(\w+)\[(count(?: \+ \d+)?)\]$`)
	condition   = regexp.MustCompile(`^(row|column|layer) IS (\d+)(?: TO (\d+))?$`)
)

// interpret runs a whole text.
func interpret(text string) (actions []action, err error) {
	in := &interpreter{
		frames: map[string]geom.Pose{}, grids: map[string]*gridText{}, ways: map[string]*wayText{}, routines: map[string]routine{},
		lists: map[string]map[int]int{}, counters: map[string]int{}, arm: arm{jaws: map[string]string{}},
	}
	defer func() {
		if r := recover(); r != nil {
			actions, err = in.actions, fmt.Errorf("%v", r)
		}
	}()
	in.program(strip(text))
	return in.actions, nil
}

// byHand begins what a person reads behind it and does.
const byHand = "STOP FOR A PERSON"

// strip takes remarks and blank lines away, but for what a person is told to do.
func strip(text string) []string {
	var lines []string
	for _, l := range strings.Split(text, "\n") {
		l, remark, _ := strings.Cut(l, "#")
		if l = strings.TrimSpace(l); l == byHand {
			l += remark
		}
		if l != "" {
			lines = append(lines, l)
		}
	}
	return lines
}

// program takes in the declarations and runs the rest.
func (in *interpreter) program(lines []string) {
	var job []string
	for i := 0; i < len(lines); i++ {
		switch l := lines[i]; {
		case gridLine.MatchString(l):
			end := slices.Index(lines[i:], "DONE") + i
			in.grid(l, lines[i+1:end])
			i = end
		case strings.HasPrefix(l, "HOW TO "):
			end := slices.Index(lines[i:], "DONE") + i
			in.routines[routineLine.FindStringSubmatch(l)[1]] = routine{lines[i+1 : end]}
			i = end
		case strings.HasPrefix(l, "WAY IN "):
			end := slices.Index(lines[i:], "DONE") + i
			in.way(strings.TrimPrefix(l, "WAY IN "), lines[i+1:end])
			i = end
		case strings.HasPrefix(l, "FRAME "):
			name, at := declared(l, "FRAME ", " IN base")
			in.frames[name] = at
		case strings.HasPrefix(l, "TOOL ") && strings.HasSuffix(l, " ON THE FLANGE"):
			name, at := declared(l, "TOOL ", " ON THE FLANGE")
			in.tools = append(in.tools, toolText{name, at})
		default:
			job = append(job, l)
		}
	}
	in.run(job)
}

// declared is the name and the pose of "FRAME pan = (1, 2, 3) TURNED (0, 0, 90) IN base".
func declared(l, before, behind string) (string, geom.Pose) {
	name, value, _ := strings.Cut(strings.TrimSuffix(strings.TrimPrefix(l, before), behind), " = ")
	at, turned, _ := strings.Cut(value, " TURNED ")
	return name, geom.Pose{T: vector(at), R: rotation(turned)}
}

func rotation(text string) geom.Rot {
	v := vector(text)
	return geom.RPY{Roll: v.X, Pitch: v.Y, Yaw: v.Z}.Rot()
}

// run executes lines; loops jump back to their start.
func (in *interpreter) run(lines []string) {
	var loops []*loop
	for i := 0; i < len(lines); i++ {
		l := lines[i]
		switch {
		case forLine.MatchString(l):
			loops = append(loops, in.begin(i, l))
		case strings.HasPrefix(l, "NEXT "):
			i = in.next(&loops, i, strings.TrimPrefix(l, "NEXT "))
		case strings.HasPrefix(l, "SKIP WHERE "):
			if in.holds(strings.TrimPrefix(l, "SKIP WHERE ")) {
				i = nextOf(lines, i, loops[len(loops)-1].counter) - 1
			}
		case strings.HasPrefix(l, "LEAVE THE LOOPS WHEN count IS "):
			if in.counters["count"] == whole(strings.TrimPrefix(l, "LEAVE THE LOOPS WHEN count IS ")) {
				i = nextOf(lines, i, loops[0].counter)
				loops = nil
			}
		default:
			in.simple(l)
		}
	}
	if len(loops) > 0 {
		panic("a loop has no end")
	}
}

func (in *interpreter) begin(line int, text string) *loop {
	m := forLine.FindStringSubmatch(text)
	from, to := whole(m[2]), whole(m[4])
	if down := m[3] != ""; down != (to < from) {
		panic("a loop that never runs: " + text)
	}
	l := &loop{start: line, counter: m[1]}
	for v := from; ; v += direction(from, to) {
		l.values = append(l.values, v)
		if v == to {
			break
		}
	}
	if m[5] != "" && (in.counters["row"]%2 == 0) == (m[5] == "EVEN") {
		slices.Reverse(l.values)
	}
	in.counters[l.counter], l.next = l.values[0], 1
	return l
}

func direction(from, to int) int {
	if to < from {
		return -1
	}
	return 1
}

// next goes round once more, or on behind the loop.
func (in *interpreter) next(loops *[]*loop, line int, counter string) int {
	l := (*loops)[len(*loops)-1]
	if l.counter != counter {
		panic("NEXT " + counter + " ends the loop of " + l.counter)
	}
	if l.next == len(l.values) {
		*loops = (*loops)[:len(*loops)-1]
		return line
	}
	in.counters[counter] = l.values[l.next]
	l.next++
	return l.start
}

func nextOf(lines []string, from int, counter string) int {
	i := slices.Index(lines[from:], "NEXT "+counter)
	if i < 0 {
		panic("no NEXT " + counter)
	}
	return from + i
}

func (in *interpreter) holds(text string) bool {
	for _, part := range strings.Split(text, " AND ") {
		m := condition.FindStringSubmatch(part)
		if m == nil {
			panic("cannot read the condition " + part)
		}
		last := m[3]
		if last == "" {
			last = m[2]
		}
		if v := in.counters[m[1]]; v < whole(m[2]) || v > whole(last) {
			return false
		}
	}
	return true
}

// simple is a statement outside of the routines.
func (in *interpreter) simple(l string) {
	switch {
	case l == "count = 0":
		in.counters["count"] = 0
	case strings.HasPrefix(l, "count = count + "):
		in.counters["count"] += whole(strings.TrimPrefix(l, "count = count + "))
	case callLine.MatchString(l):
		m := callLine.FindStringSubmatch(l)
		in.call(m[1], strings.Split(m[2], ", "))
	case arrayLine.MatchString(l):
		in.array(arrayLine.FindStringSubmatch(l))
	case storeLine.MatchString(l):
		m := storeLine.FindStringSubmatch(l)
		in.put(m[1], in.counters["count"], in.value(m[2]))
	default:
		in.act(l, nil)
	}
}

func (in *interpreter) array(m []string) {
	values := strings.Split(m[4], ", ")
	if whole(m[3])-whole(m[2])+1 != len(values) {
		panic(fmt.Sprintf("%s takes places %s to %s, but %d are given", m[1], m[2], m[3], len(values)))
	}
	for i, v := range values {
		in.put(m[1], whole(m[2])+i, whole(v))
	}
}

// put begins a list anew at its first place.
func (in *interpreter) put(name string, k, value int) {
	if k == 1 {
		in.lists[name] = map[int]int{}
	}
	in.lists[name][k] = value
}

// value is a number, a counter, a counter and a number, or a list's entry.
func (in *interpreter) value(text string) int {
	if m := itemText.FindStringSubmatch(text); m != nil {
		place := in.value(m[2])
		v, ok := in.lists[m[1]][place]
		if !ok {
			panic(fmt.Sprintf("%s has no place %d", m[1], place))
		}
		return v
	}
	words := strings.Fields(text)
	v, counted := in.counters[words[0]]
	if !counted {
		v = whole(words[0])
	}
	if len(words) == 3 {
		v += whole(words[2]) * map[string]int{"+": 1, "-": -1}[words[1]]
	}
	return v
}

func whole(text string) int {
	n, err := strconv.Atoi(strings.TrimSpace(text))
	if err != nil {
		panic("not a whole number: " + text)
	}
	return n
}

func figure(text string) float64 {
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil {
		panic("not a number: " + text)
	}
	return v
}

func vector(text string) geom.Vec {
	parts := strings.Split(tuple.FindStringSubmatch(text)[1], ", ")
	return geom.Vec{X: figure(parts[0]), Y: figure(parts[1]), Z: figure(parts[2])}
}

func scan(text, format string, to ...any) {
	if _, err := fmt.Sscanf(text, format, to...); err != nil {
		panic(err)
	}
}
