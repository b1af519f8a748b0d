package nest_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"gridferry/gen/geom"
)

// arm is what a reader keeps in mind of the arm: where it stands, which tool counts, what
// grippers do, and how far it is in a grid.
type arm struct {
	frame string
	tool  string
	at    geom.Pose // of the flange, in the base
	known bool
	slow  float64           // mm/s, of the next motion; 0 where it goes as its line says
	jaws  map[string]string // "open" or "closed", by tool; neither at first
	in    string            // the grid that it is in
	way   *wayText          // by which it went in; nil for none
	left  int               // the poses of it that lie on the way out
}

type toolText struct {
	name string
	tcp  geom.Pose // on the flange
}

// wayText is a WAY block.
type wayText struct {
	poses []poseText
	speed string
}

type poseText struct {
	name, frame string
	at          geom.Pose
}

var (
	stepLine  = regexp.MustCompile(`^(TRAVEL|STRAIGHT) TO (\w+) AT (\([^()]*\))(?: TURNED (\([^()]*\)))?(?: IN FRAME (\w+))?(?:, (.*))?$`)
	slotLine  = regexp.MustCompile(`^(TRAVEL|STRAIGHT) TO (?:(.*) )?slot(?:\((.*)\))?, ([\d.]+) mm/s$`)
	leadText  = regexp.MustCompile(`^(?:([\d.]+) (ABOVE|BACK ALONG THE TOOL FROM)|(\([^()]*\)) FROM)$`)
	inputLine = regexp.MustCompile(`^AWAIT INPUT (\d+) (on|off)(?:, AT MOST ([\d.]+) s, THEN (STOP|GO ON))?$`)
	jawLine   = regexp.MustCompile(`^DO (open|close) (.*?)(?: UNLESS (?:IT IS|THEY ARE) OPEN)?$`)
	standing  = regexp.MustCompile(`^(THE ARM|\w+) STANDS ABOVE slot( OR THE ARM IS IN grid)?$`)
)

func (in *interpreter) way(name string, body []string) {
	w := &wayText{speed: body[len(body)-1]}
	for _, l := range body[:len(body)-1] {
		p, _ := pose("TRAVEL TO " + strings.TrimPrefix(l, "OVER "))
		w.poses = append(w.poses, p)
	}
	in.ways[name] = w
}

// pose is a named pose and the speed of the way to it. A tool points straight down where
// nothing says otherwise.
func pose(l string) (poseText, string) {
	m := stepLine.FindStringSubmatch(l)
	p := poseText{m[2], m[5], geom.Pose{T: vector(m[3]), R: geom.RPY{Roll: 180}.Rot()}}
	if m[4] != "" {
		p.at.R = rotation(m[4])
	}
	return p, m[6]
}

// holding reports whether some gripper holds a part.
func (a *arm) holding() bool {
	for _, is := range a.jaws {
		if is == "closed" {
			return true
		}
	}
	return false
}

// speed is that of "400 mm/s, WITH A PART 250 mm/s".
func (in *interpreter) speed(text string) float64 {
	free, loaded, differs := strings.Cut(text, ", WITH A PART ")
	if differs && in.holding() {
		free = loaded
	}
	return figure(strings.TrimSuffix(free, " mm/s"))
}

// tcp is the centre point of a tool on the flange; on the flange itself where the text has no tools.
func (in *interpreter) tcp(name string) geom.Pose {
	for _, t := range in.tools {
		if t.name == name {
			return t.tcp
		}
	}
	if in.tools != nil {
		panic("no tool " + name)
	}
	return geom.Pose{R: geom.IdentityRot()}
}

// flange is where the flange is while a tool is at a pose in a frame.
func (in *interpreter) flange(tool, frame string, at geom.Pose) geom.Pose {
	f, ok := in.frames[frame]
	if !ok {
		panic("no frame " + frame)
	}
	return f.Mul(at).Mul(in.tcp(tool).Inverse())
}

// stands reports whether the flange is there already.
func (in *interpreter) stands(at geom.Pose) bool {
	return in.known && in.at.T.Dist(at.T) < 0.01 && in.at.R.T().Mul(at.R).Angle() < 0.01
}

// move goes somewhere, unless the arm stands there.
func (in *interpreter) move(what, to, frame string, at geom.Pose, speed float64) {
	flange := in.flange(in.tool, frame, at)
	if in.stands(flange) {
		return
	}
	if in.slow > 0 {
		speed, in.slow = in.slow, 0
	}
	in.arm.at, in.known = flange, true
	in.actions = append(in.actions, action{what, to, frame, in.tool, at, speed})
}

// place is a slot that a routine is called for.
type place struct {
	grid *gridText
	at   [3]int
	lead string // of the routine, from the slot to where the arm comes
	way  *wayText
}

// placeOf is the slot of a grid that a call names.
func (in *interpreter) placeOf(args []string) *place {
	g, ok := in.grids[args[0]]
	if !ok {
		panic("no grid " + args[0])
	}
	p := &place{grid: g, at: [3]int{1, 1, 1}}
	for i, a := range args[1:] {
		p.at[i] = in.value(a)
	}
	return p
}

// point is a slot's pose, or a point so far off it.
func (p *place) point(lead string) geom.Pose {
	at := p.grid.slot(p.at)
	if lead == "" {
		return at
	}
	m := leadText.FindStringSubmatch(lead)
	switch {
	case m == nil:
		panic("cannot read the point " + lead)
	case m[3] != "":
		at.T = at.T.Add(vector(m[3]))
	case m[2] == "ABOVE":
		at.T.Z += figure(m[1])
	default:
		at.T = at.T.Sub(at.R.Column(2).Scale(figure(m[1])))
	}
	return at
}

func (in *interpreter) call(name string, args []string) {
	r, ok := in.routines[name]
	if !ok {
		panic("no routine " + name)
	}
	p := in.placeOf(args)
	for _, l := range r.body {
		if m := slotLine.FindStringSubmatch(l); m != nil && m[1] == "TRAVEL" {
			p.lead = m[2] // from there it goes straight down
		}
		if _, by, goes := strings.Cut(l, "GO IN BY "); goes {
			name, _, _ := strings.Cut(by, " ")
			p.way = in.ways[name]
		}
	}
	for _, l := range r.body {
		in.act(l, p)
	}
}

// act is one line of a routine, or of the job where it is about no slot.
func (in *interpreter) act(l string, p *place) {
	l, unless, conditional := strings.Cut(l, " UNLESS ")
	if conditional && in.unless(l, unless, p) {
		return
	}
	switch {
	case strings.HasPrefix(l, "WORK WITH "):
		in.workWith(strings.TrimPrefix(l, "WORK WITH "), p == nil)
	case l == "WORK IN FRAME OF grid":
		in.frame = p.grid.frame
	case strings.HasPrefix(l, "WORK IN FRAME "):
		in.frame = strings.TrimPrefix(l, "WORK IN FRAME ")
	case l == "GO OUT":
		in.out("")
	case strings.HasPrefix(l, "GO OUT AS FAR AS "):
		in.out(strings.TrimPrefix(l, "GO OUT AS FAR AS "))
	case strings.HasPrefix(l, "GO IN "):
		in.into(strings.TrimPrefix(l, "GO IN "), p)
	case jawLine.MatchString(l):
		in.jaw(jawLine.FindStringSubmatch(l))
	case strings.HasPrefix(l, "THE NEXT MOTION AT "):
		in.slow = figure(strings.TrimSuffix(strings.TrimPrefix(l, "THE NEXT MOTION AT "), " mm/s"))
	case strings.HasPrefix(l, "DO "):
		in.do(strings.TrimPrefix(l, "DO "))
	case stepLine.MatchString(l):
		in.step(l)
	case slotLine.MatchString(l):
		in.goTo(slotLine.FindStringSubmatch(l), p)
	default:
		in.signal(l)
	}
}

// unless reports whether a condition holds under which a line is left out.
func (in *interpreter) unless(l, text string, p *place) bool {
	if strings.HasSuffix(text, " OPEN") {
		open := 0
		zones := in.zones(jawLine.FindStringSubmatch(l)[2])
		for _, z := range zones {
			if in.jaws[z] == "open" {
				open++
			}
		}
		if open > 0 && open < len(zones) {
			panic("some are open: " + l)
		}
		return open > 0
	}
	m := standing.FindStringSubmatch(text)
	if m == nil {
		panic("cannot read the condition " + text)
	}
	tool := in.tool
	if m[1] != "THE ARM" {
		tool = m[1]
	}
	return in.stands(in.flange(tool, p.grid.frame, p.point(p.lead))) || m[2] != "" && in.in == p.grid.name
}

// workWith makes another centre point count. In the job another tool has come onto the
// flange: nobody knows whether it is open.
func (in *interpreter) workWith(tool string, another bool) {
	in.tcp(tool)
	if in.tool = tool; another {
		clear(in.jaws)
	}
}

// zones are the names in "jaw" or "comb_1 TO comb_8".
func (in *interpreter) zones(text string) []string {
	first, last, several := strings.Cut(text, " TO ")
	if !several {
		return []string{first}
	}
	place := func(name string) int {
		return slices.IndexFunc(in.tools, func(t toolText) bool { return t.name == name })
	}
	var all []string
	for _, t := range in.tools[place(first) : place(last)+1] {
		all = append(all, t.name)
	}
	return all
}

func (in *interpreter) jaw(m []string) {
	in.do(m[1] + " " + m[2])
	for _, z := range in.zones(m[2]) {
		in.jaws[z] = map[string]string{"open": "open", "close": "closed"}[m[1]]
	}
}

func (in *interpreter) do(name string) {
	r, ok := in.routines[name]
	if !ok {
		panic("no routine " + name)
	}
	for _, l := range r.body {
		in.act(l, nil)
	}
}

// step goes to a pose. From a pose on the way out, only those before it are left.
func (in *interpreter) step(l string) {
	p, speed := pose(l)
	if i := in.ahead(p.name); i >= 0 {
		in.left = i
	}
	what, _, _ := strings.Cut(l, " ")
	in.move(strings.ToLower(what), p.name, in.frame, p.at, in.speed(speed))
}

// ahead is the place of a pose among those on the way out; -1 where it is none of them.
func (in *interpreter) ahead(name string) int {
	for i := in.left - 1; i >= 0; i-- {
		if in.arm.way.poses[i].name == name {
			return i
		}
	}
	return -1
}

// out goes back the way in, as far as a pose or all of it.
func (in *interpreter) out(until string) {
	last := in.ahead(until)
	for in.left > last+1 {
		in.left--
		in.pass(in.arm.way.poses[in.left], in.arm.way.speed)
	}
	if last < 0 {
		in.in = ""
	}
}

func (in *interpreter) pass(p poseText, speed string) {
	in.frame = p.frame
	in.move("travel", p.name, p.frame, p.at, in.speed(speed))
}

// into passes the poses of a way in, or those of the way out that were not left behind.
func (in *interpreter) into(text string, p *place) {
	speed, named := strings.CutPrefix(text, "AS THE ARM CAME OUT, ")
	var poses []poseText
	if strings.HasPrefix(text, "BY ") {
		poses, speed = p.way.poses, p.way.speed
	} else if !named {
		panic("cannot read the way in " + text)
	}
	if in.in == p.grid.name {
		poses = nil
		if in.arm.way != nil {
			poses = in.arm.way.poses[in.left:]
		}
	}
	for _, q := range poses {
		in.pass(q, speed)
	}
}

// goTo goes to a slot, or to a point off it.
func (in *interpreter) goTo(m []string, p *place) {
	if m[3] != "" {
		p = in.placeOf(strings.Split(m[3], ", "))
		p.lead = m[2]
	}
	to := fmt.Sprint(p.grid.name, " ", p.at[0], " ", p.at[1], " ", p.at[2])
	if m[2] == p.lead {
		to += " above"
	}
	in.move(strings.ToLower(m[1]), to, in.frame, p.point(m[2]), figure(m[4]))
	if m[1] == "TRAVEL" && m[3] == "" {
		if in.in, in.arm.way, in.left = p.grid.name, p.way, 0; p.way != nil {
			in.left = len(p.way.poses)
		}
	}
}

// signal is an output, a wait or a stop.
func (in *interpreter) signal(l string) {
	var what string
	switch m := inputLine.FindStringSubmatch(l); {
	case strings.HasPrefix(l, "OUTPUT "):
		what = strings.ToLower(l)
	case m != nil:
		what = strings.TrimSpace(strings.Join([]string{"input", m[1], m[2], m[3], strings.ToLower(m[4])}, " "))
	case strings.HasPrefix(l, "WAIT "):
		what = strings.ToLower(strings.TrimSuffix(l, " s"))
	case l == "OPTIONAL STOP":
		what = "stop"
	case strings.HasPrefix(l, byHand):
		what = "person" + strings.TrimPrefix(l, byHand)
	default:
		panic("cannot read: " + l)
	}
	in.actions = append(in.actions, action{what: what})
}
