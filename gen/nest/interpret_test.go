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
	grids    map[string]*gridText
	routines map[string]routine
	lists    map[string]map[int]int // to_row: place in the list to number
	counters map[string]int

	frame   string
	jaw     string // "", "open" or "closed"
	at      string // where the arm stands
	actions []action
}

// action is one thing that happens: a travel or a straight with where to, an
// output, a wait.
type action struct {
	what  string // "travel", "straight", "output 1 on", "wait 0.3", "input 4 on 20 stop", "stop"
	to    string // "clear", "tray 1 2 1", "tray 1 2 1 above"
	frame string
	point geom.Vec
	speed float64
}

// gridText is what a GRID block says.
type gridText struct {
	frame   string
	first   geom.Vec
	offsets map[string][]float64 // column_x, row_y, layer_z
	steps   map[string]float64
	shift   float64
	corners map[[2]int]geom.Vec
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
	callLine    = regexp.MustCompile(`^(pick|place)\((.*)\)$`)
	arrayLine   = regexp.MustCompile(`^(\w+)\[(\d+) TO (\d+)\] = \[(.*)\]$`)
	storeLine   = regexp.MustCompile(`^(\w+)\[count\] = (.*)$`)
	condition   = regexp.MustCompile(`^(row|column|layer) IS (\d+)(?: TO (\d+))?$`)
	goLine      = regexp.MustCompile(`^(TRAVEL|STRAIGHT) TO (?:([\d.]+) ABOVE )?slot, ([\d.]+) mm/s$`)
	aboveLine   = regexp.MustCompile(`^TRAVEL TO ([\d.]+) ABOVE slot\((.*)\), ([\d.]+) mm/s$`)
	wayLine     = regexp.MustCompile(`^TRAVEL TO (\w+) AT (\(.*\)), ([\d.]+) mm/s$`)
	inputLine   = regexp.MustCompile(`^WAIT FOR INPUT (\d+) (on|off)(?:, AT MOST ([\d.]+) s, THEN (STOP|GO ON))?$`)
)

// interpret runs a whole text.
func interpret(text string) (actions []action, err error) {
	in := &interpreter{
		grids: map[string]*gridText{}, routines: map[string]routine{}, lists: map[string]map[int]int{}, counters: map[string]int{},
	}
	defer func() {
		if r := recover(); r != nil {
			actions, err = in.actions, fmt.Errorf("%v", r)
		}
	}()
	in.program(strip(text))
	return in.actions, nil
}

// strip takes remarks and blank lines away.
func strip(text string) []string {
	var lines []string
	for _, l := range strings.Split(text, "\n") {
		l, _, _ = strings.Cut(l, "#")
		if l = strings.TrimSpace(l); l != "" {
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
		case strings.HasPrefix(l, "FRAME "):
		default:
			job = append(job, l)
		}
	}
	in.run(job)
}

func (in *interpreter) grid(head string, body []string) {
	m := gridLine.FindStringSubmatch(head)
	g := &gridText{frame: m[2], offsets: map[string][]float64{}, steps: map[string]float64{}, corners: map[[2]int]geom.Vec{}}
	in.grids[m[1]] = g
	for _, l := range body {
		name, value, _ := strings.Cut(l, "=")
		name, value = strings.TrimSpace(name), strings.TrimSpace(value)
		switch {
		case name == "first":
			g.first = vector(value)
		case strings.HasPrefix(name, "corner["):
			var row, column int
			scan(name, "corner[%d, %d]", &row, &column)
			g.corners[[2]int{row, column}] = vector(value)
		case strings.HasPrefix(value, "STEPS OF "):
			g.steps[name] = figure(strings.TrimPrefix(value, "STEPS OF "))
		case name == "row_shift_x":
			g.shift = figure(strings.TrimSuffix(value, " IN ROWS 2, 4, 6 ..."))
		case strings.HasPrefix(value, "["):
			for _, f := range strings.Split(strings.Trim(value, "[]"), ", ") {
				g.offsets[name] = append(g.offsets[name], figure(f))
			}
		case strings.HasPrefix(l, "TOOL TURNED"), l == "PLACES BETWEEN corners IN PROPORTION":
		default:
			panic("cannot read in a grid: " + l)
		}
	}
}

// offset is entry k of a list, from 1; one that is not there is a mistake.
func (g *gridText) offset(name string, k int) float64 {
	if list, ok := g.offsets[name]; ok {
		return list[k-1]
	}
	return float64(k-1) * g.steps[name]
}

// slot is where a slot stands in its frame.
func (g *gridText) slot(row, column, layer int) geom.Vec {
	z := 0.0
	if layer > 1 {
		z = g.offset("layer_z", layer)
	}
	x := g.offset("column_x", column)
	if row%2 == 0 {
		x += g.shift
	}
	return g.first.Add(geom.Vec{X: x, Y: g.offset("row_y", row), Z: z})
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
	case l == "count = count + 1":
		in.counters["count"]++
	case callLine.MatchString(l):
		m := callLine.FindStringSubmatch(l)
		in.call(m[1], strings.Split(m[2], ", "))
	case arrayLine.MatchString(l):
		in.array(arrayLine.FindStringSubmatch(l))
	case storeLine.MatchString(l):
		m := storeLine.FindStringSubmatch(l)
		in.put(m[1], in.counters["count"], in.value(m[2]))
	default:
		in.act(l, "", nil, [3]int{})
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
	if name, isList := strings.CutSuffix(text, "[count]"); isList {
		v, ok := in.lists[name][in.counters["count"]]
		if !ok {
			panic(fmt.Sprintf("%s has no place %d", name, in.counters["count"]))
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

// slotOf is the slot of a grid that a call names.
func (in *interpreter) slotOf(args []string) (*gridText, [3]int) {
	g, ok := in.grids[args[0]]
	if !ok {
		panic("no grid " + args[0])
	}
	slot := [3]int{1, 1, 1}
	for i, a := range args[1:] {
		slot[i] = in.value(a)
	}
	return g, slot
}

func (in *interpreter) call(name string, args []string) {
	g, slot := in.slotOf(args)
	for _, l := range in.routines[name].body {
		in.act(l, args[0], g, slot)
	}
}

// act is one line of a routine, or of the job where it is none about a slot.
func (in *interpreter) act(l, name string, g *gridText, slot [3]int) {
	switch {
	case strings.HasSuffix(l, " UNLESS THE ARM STANDS ABOVE slot"):
		if in.at != slotName(name, slot)+" above" {
			in.act(strings.TrimSuffix(l, " UNLESS THE ARM STANDS ABOVE slot"), name, g, slot)
		}
	case strings.HasPrefix(l, "DO "):
		in.do(strings.TrimPrefix(l, "DO "))
	case l == "WORK IN FRAME OF grid":
		in.frame = g.frame
	case strings.HasPrefix(l, "WORK IN FRAME "):
		in.frame = strings.TrimPrefix(l, "WORK IN FRAME ")
	case goLine.MatchString(l):
		in.goTo(goLine.FindStringSubmatch(l), name, g, slot)
	case aboveLine.MatchString(l):
		m := aboveLine.FindStringSubmatch(l)
		args := strings.Split(m[2], ", ")
		g, slot := in.slotOf(args)
		in.goTo([]string{"", "TRAVEL", m[1], m[3]}, args[0], g, slot)
	case wayLine.MatchString(l):
		m := wayLine.FindStringSubmatch(l)
		in.move("travel", m[1], vector(m[2]), figure(m[3]))
	case strings.HasPrefix(l, "OUTPUT "):
		in.actions = append(in.actions, action{what: strings.ToLower(l)})
	case inputLine.MatchString(l):
		m := inputLine.FindStringSubmatch(l)
		in.actions = append(in.actions, action{what: strings.TrimSpace(strings.Join([]string{"input", m[1], m[2], m[3], strings.ToLower(m[4])}, " "))})
	case strings.HasPrefix(l, "WAIT "):
		in.actions = append(in.actions, action{what: strings.ToLower(strings.TrimSuffix(l, " s"))})
	case l == "OPTIONAL STOP":
		in.actions = append(in.actions, action{what: "stop"})
	default:
		panic("cannot read: " + l)
	}
}

func (in *interpreter) do(name string) {
	name, unless := strings.CutSuffix(name, " UNLESS IT IS OPEN")
	if unless && in.jaw == "open" {
		return
	}
	r, ok := in.routines[name]
	if !ok {
		panic("no routine " + name)
	}
	for _, l := range r.body {
		in.act(l, "", nil, [3]int{})
	}
	switch name {
	case "open the gripper":
		in.jaw = "open"
	case "close the gripper":
		in.jaw = "closed"
	}
}

func slotName(grid string, slot [3]int) string {
	return fmt.Sprint(grid, " ", slot[0], " ", slot[1], " ", slot[2])
}

func (in *interpreter) goTo(m []string, name string, g *gridText, slot [3]int) {
	to := slotName(name, slot)
	point := geom.Vec{}
	if len(g.corners) == 0 {
		point = g.slot(slot[0], slot[1], slot[2])
	}
	if m[2] != "" {
		to += " above"
		point.Z += figure(m[2])
	}
	in.move(strings.ToLower(m[1]), to, point, figure(m[3]))
}

// move goes somewhere, unless the arm stands there.
func (in *interpreter) move(what, to string, point geom.Vec, speed float64) {
	if in.at == to {
		return
	}
	in.at = to
	in.actions = append(in.actions, action{what, to, in.frame, point, speed})
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
