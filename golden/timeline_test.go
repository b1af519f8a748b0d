package golden

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gridferry/gen"
	"gridferry/gen/page"
	"gridferry/gen/scene"
	"gridferry/golden/outside"
	"gridferry/golden/web"
)

// playedPage is a page with nothing but the controls, the timeline and a viewer that writes down what it is told: what
// stands where, how it was told the state last, and how often. The page counts how often it asks for time.
const playedPage = `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Played</title>
<style>%s</style>
</head>
<body>
<main>
<h1>Played</h1>
<div id="controls"></div>
<p id="now-move"></p>
<p id="now-transfer"></p>
<p id="now-tip"></p>
<p id="now-gripper"></p>
<p id="now-joints"></p>
<div id="timeline"></div>
</main>
<script type="application/json" id="data">%s</script>
<script>%s
const asked = { times: 0 };
for (const name of ["requestAnimationFrame", "setTimeout"]) {
  const own = window[name];
  window[name] = (f, ms) => { asked.times++; return own(f, ms); };
}
const seen = { sets: 0, between: 0, said: [] };
const full = [];
const told = {
  put(g, i, there) { full[g][i] = there ? 1 : 0; },
  set(state) { seen.sets++; seen.state = state; if (state.tip && !s.moves.motions.some((m) => same(s.moves.tip(m), state.tip))) seen.between++; },
};
const same = (a, b) => a.every((x, i) => Math.abs(x - b[i]) < 1e-6);
const s = states.of(JSON.parse(document.getElementById("data").textContent));
for (const g of s.slots(0)) full.push([...g.full]);
panel.build(document.getElementById("controls"));
const heard = panel.speaker(document.getElementById("said"));
const clock = clockwork.open({ states: s, viewer: told, say: (text) => { seen.said.push(text); heard(text); } });
panel.open(clock);
const line = timeline.open(document.getElementById("timeline"), clock, { point: (i) => { seen.over = i; } });
// later is the same moves, with five more before the last transfer.
const later = (m) => {
  const at = s.before(3), twice = (list, of) => [...list.slice(0, at * of), ...list.slice((at - 5) * of, at * of), ...list.slice(at * of)];
  return { ...m, n: m.n + 5, kind: twice(m.kind, 1), transfer: twice(m.transfer, 1), role: twice(m.role, 1), at: twice(m.at, 3), turn: twice(m.turn, 1), tool: twice(m.tool, 1), slot: Array(2 * m.n + 10).fill(-1), load: {}, unknown: [], settle: [], through: [], seconds: twice(m.seconds, 1), words: twice(m.words, 1) };
};
const astray = (n) => s.slots(n).reduce((sum, g, k) => sum + g.full.filter((x, i) => x !== full[k][i]).length, 0);
</script>
</body>
</html>
`

// playedOn writes such a page of a plan.
func playedOn(t *testing.T, plan string) string {
	t.Helper()
	return sceneOn(t, plan, playedPage)
}

// sceneOn writes a page of a plan's scene: of a text that takes a style, the scene and the script.
func sceneOn(t *testing.T, plan, form string) string {
	t.Helper()
	outside.Short(t)
	var text bytes.Buffer
	if err := jobOf(t, plan, gen.Run{}).Scene(&text, nil, scene.Options{Moves: 60_000, Slots: 150_000, Joints: true}); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "played.html")
	if err := os.WriteFile(file, fmt.Appendf(nil, form, page.Style(scene.Style), text.Bytes(), scene.Script()), 0o666); err != nil {
		t.Fatal(err)
	}
	return file
}

// seenOn does steps and holds the values of expressions to what is wanted; "click", "press" and so on are done between.
type wanted struct {
	step web.Step
	want string // of the value; "" for any
}

func read(expression, want string) wanted {
	return wanted{web.Step{Do: "read", On: expression}, want}
}

func look(t *testing.T, job web.Job, all []wanted) {
	t.Helper()
	for _, w := range all {
		job.Steps = append(job.Steps, w.step)
	}
	sight := web.Look(t, job)
	for i, w := range all {
		if got := string(sight.Values[i]); w.want != "" && got != w.want {
			t.Errorf("step %d, %s %s: %s, wanted %s", i+1, w.step.Do, w.step.On, got, w.want)
		}
	}
	if len(sight.Complaints) > 0 {
		t.Errorf("the browser says %q", sight.Complaints)
	}
	for _, v := range sight.Violations {
		t.Errorf("%s %s: %s\n%s", v.Impact, v.Rule, v.Help, strings.Join(v.Nodes, "\n"))
	}
}

const panels = demoFolder + "/panels.plan.yaml"

// TestClockworkPlaysToTheEnd: it plays with motion, and with reduced motion from state to state; in the end all stands where
// the list has it; what is said is far less than what goes on; nothing asks for time while it stands still.
func TestClockworkPlaysToTheEnd(t *testing.T) {
	t.Parallel()
	file := playedOn(t, panels)
	end := wanted{web.Step{Do: "wait", On: "!clock.playing", By: &[2]float64{50, 0}}, ""}
	still := read("new Promise((r) => setTimeout(() => { const n = asked.times; setTimeout(() => r(asked.times - n), 400); }, 100))", "1") // the one of this line
	for _, moving := range []bool{true, false} {
		t.Run(fmt.Sprintf("moving %v", moving), func(t *testing.T) {
			look(t, web.Job{Page: file, Moving: moving}, []wanted{
				still, read("astray(0)", "0"),
				{web.Step{Do: "select", On: "#pace", To: "20"}, ""}, {web.Step{Do: "click", On: "#play"}, ""},
				read("document.getElementById('play').textContent + ' ' + clock.rate + ' ' + seen.said.at(-1)", `"Pause 20 Playing"`),
				end,
				read("clock.at.n + ' ' + clock.now + ' ' + astray(clock.at.n) + ' ' + document.getElementById('play').textContent", `"85 85 0 Play"`),
				read("seen.between > 0", fmt.Sprint(moving)), read("seen.said.length < 6 && seen.said.at(-1).endsWith('. End.')", "true"),
				read("document.getElementById('now-clock').textContent", `"24.8 s and 8 waits of unknown length, of about 24.8 s and 8 waits of unknown length"`),
				still,
			})
		})
	}
}

// TestClockworkSteps: a step forward is seen on its way and ends at the next state, also when the next step is asked for before; a step
// back, a leap and a jump bring back what stands where.
func TestClockworkSteps(t *testing.T) {
	t.Parallel()
	step := func(by int) wanted { return read(fmt.Sprintf("clock.step(%d), clock.now", by), "") }
	at := func(n int) wanted {
		return read("new Promise((r) => { const look = () => clock.at.t === 0 ? r(clock.at.n + ' ' + astray(clock.at.n)) : setTimeout(look, 20); look(); })", fmt.Sprintf(`"%d 0"`, n))
	}
	leaps := "[85, 3, 60, 0, 41, 84].map((n) => { clock.seek(n); return astray(n); }).join()"
	look(t, web.Job{Page: playedOn(t, panels), Moving: true}, []wanted{
		step(1), at(1), read("clock.seek(6), clock.step(1), clock.step(1), clock.now", "8"), at(8), step(-1), at(7),
		read("clock.seek(20, 0.5), clock.at.n + ' ' + clock.now", `"20 21"`), step(-1), at(20), read(leaps, `"0,0,0,0,0,0"`),
		read("clock.toTransfer(2), clock.at.n === s.before(2) + 1 && document.getElementById('now-transfer').textContent.startsWith('2 of 3: ')", "true"),
		read("clock.transfer(1), s.transferAt(clock.now).n", "3"), read("clock.transfer(-1), s.transferAt(clock.now).n", "2"),
		read("clock.transfer(1), clock.transfer(1), clock.at.n", "85"), read("clock.toStart(), clock.transfer(-1), clock.at.n", "0"),
		read("clock.toTransfer(3), clock.seek(clock.at.n + 3), clock.use(states.of({ ...s.scene, moves: later(s.scene.moves) })), clock.states.transferAt(clock.now).n + ' ' + (clock.now - clock.states.before(3))", `"3 4"`),
		read("clock.use(states.of({ moves: { n: 0 }, grids: [] })), clock.at.n + ' ' + document.getElementById('now-move').textContent + ' ' + document.getElementById('play').disabled", `"0 The plan makes no move true"`),
		read("document.querySelector('.timeline p').hidden", "false"),
	})
}

// TestTimelineByHandAndKey: keys, a pointer and the wheel move the cursor and the picture, and the clockwork with them.
func TestTimelineByHandAndKey(t *testing.T) {
	t.Parallel()
	press := func(key string) wanted { return wanted{web.Step{Do: "press", On: key}, ""} }
	text := read("document.querySelector('[role=slider]').getAttribute('aria-valuetext').split(':')[0]", "")
	says := func(want string) wanted { text.want = want; return text }
	drag := wanted{web.Step{Do: "drag", On: ".timeline-room", By: &[2]float64{200, 0}}, ""}
	finger := func(end, stays string) wanted {
		return read(`(() => {
  const was = clock.now, canvas = document.querySelector(".timeline-space canvas"), at = canvas.getBoundingClientRect();
  for (const type of ["pointerdown", "`+end+`"]) canvas.dispatchEvent(new PointerEvent(type, { bubbles: true, pointerType: "touch", pointerId: 5, clientX: at.left + (clock.now > 400 ? 200 : 900), clientY: at.top + 90 }));
  return clock.now === was;
})()`, stays)
	}
	look(t, web.Job{Page: playedOn(t, cubes), Width: 1280}, []wanted{
		{web.Step{Do: "focus", On: ".timeline-room"}, ""}, says(`"Before the first move; 0.0 s, of about 6 min 09 s"`),
		press("ArrowRight"), press("ArrowUp"), says(`"Move 2 of 765"`), press("ArrowLeft"), says(`"Move 1 of 765"`),
		press("End"), says(`"Move 765 of 765"`), press("Home"), press("PageUp"), press("PageUp"), read("s.transferAt(clock.now).n", "2"), press("PageDown"), read("s.transferAt(clock.now).n", "1"),
		press("+"), press("+"), read("line.seen().scale / ((line.seen().width - 116) / line.seen().total)", "4"), press("-"), read("line.seen().fitted", "false"), press("-"), read("line.seen().fitted", "true"),
		{web.Step{Do: "click", On: ".timeline-room"}, ""}, read("Math.abs(line.seen().cursor - line.seen().width / 2) < 1.5", "true"),
		drag, read("Math.abs(line.seen().cursor - line.seen().width / 2 - 200) < 1.5", "true"), read("document.querySelector('.timeline-told').textContent.startsWith('Move ') && seen.over > 0", "true"),
		finger("pointerup", "false"), finger("pointercancel", "true"), // which a finger gets that scrolls
		{web.Step{Do: "click", On: ".timeline-joints label:nth-of-type(2)"}, ""}, read("line.seen().joints.join()", `"J1,J3,J4,J5,J6"`),
		read("[...document.querySelectorAll('.timeline table tbody tr')].map((r) => r.firstChild.textContent).join()", `"on the way,tray,balance,rack,All"`),
	})
}

// TestTimelineKeepsNobodyOut: light and dark, wide and narrow, with an arm, with waits, long, and without a move.
func TestTimelineKeepsNobodyOut(t *testing.T) {
	t.Parallel()
	var jobs []web.Job
	for _, plan := range []string{"mortar-cubes", "lids", "dense-plate"} {
		file := playedOn(t, demoFolder+"/"+plan+".plan.yaml")
		for _, job := range []web.Job{{Width: 1280}, {Width: 820, Dark: true}, {Width: 390, Touch: true}} {
			job.Page = file
			job.Steps = []web.Step{
				{Do: "click", On: ".timeline-room"}, {Do: "read", On: "Math.abs(line.seen().cursor - line.seen().width / 2) < 1.5"},
				{Do: "click", On: ".timeline summary"}, {Do: "read", On: "document.documentElement.scrollWidth <= innerWidth"}, {Do: "check"},
				{Do: "read", On: "document.documentElement.outerHTML.replace(/<style>[^]*?<\\/style>|<script[^]*?<\\/script>|=\"\"/g, '')"},
			}
			jobs = append(jobs, job)
		}
	}
	for i, sight := range web.LookAll(t, jobs) {
		if string(sight.Values[1]) != "true" || string(sight.Values[3]) != "true" || len(sight.Complaints) > 0 {
			t.Errorf("%s, %d px: a click does not lead there, or it is wider than the screen, or the browser says %q", jobs[i].Page, jobs[i].Width, sight.Complaints)
		}
		for _, v := range sight.Violations {
			t.Errorf("%s, %d px: %s %s: %s\n%s", jobs[i].Page, jobs[i].Width, v.Impact, v.Rule, v.Help, strings.Join(v.Nodes, "\n"))
		}
		var text string
		if err := json.Unmarshal(sight.Values[5], &text); err != nil {
			t.Fatal(err)
		}
		for _, f := range web.Validate(t, []byte("<!DOCTYPE html>\n"+text+"\n")) {
			if f.Rule != "no-inline-style" { // which scripts set
				t.Errorf("%s, %d px, line %d: %s [%s]", jobs[i].Page, jobs[i].Width, f.Line, f.Message, f.Rule)
			}
		}
	}
}
