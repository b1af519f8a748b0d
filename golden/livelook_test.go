package golden

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gridferry/golden/web"
)

// The view turns when it is dragged, comes nearer by the wheel and with keys, and draws nothing
// while nothing changes.
func TestLiveView(t *testing.T) {
	t.Parallel()
	p := openLive(t, "mortar-cubes.plan.yaml", web.Job{})
	still := func() int {
		var n [2]int
		p.Read(0, `(async () => { const wait = (ms) => new Promise((r) => setTimeout(r, ms)), v = live.viewer; await wait(300); const n = v.frames; await wait(500); return [n, v.frames]; })()`, &n)
		if n[0] != n[1] || n[0] == 0 {
			t.Errorf("%d frames were upToDate, and then %d more while nothing changed", n[0], n[1]-n[0])
		}
		return n[1]
	}
	frames, camera := still(), fmt.Sprint(p.seen(0).Camera)
	for _, act := range []web.Step{
		{Do: "drag", On: "#view-canvas", By: &[2]float64{90, 30}},
		{Do: "wheel", On: "#view-canvas", By: &[2]float64{0, -240}},
		{Do: "click", On: `[data-look="above"]`},
		{Do: "click", On: `[data-look="side"]`},
		{Do: "click", On: `[data-look="operator"]`},
	} {
		p.Do(act)
		n, now := still(), fmt.Sprint(p.seen(0).Camera)
		if n <= frames || now == camera {
			t.Errorf("%s %s: %d frames, camera %s", act.Do, act.On, n-frames, now)
		}
		frames, camera = n, now
	}
	p.Do(web.Step{Do: "focus", On: "#view-canvas"}, web.Step{Do: "press", On: "ArrowLeft"})
	if n, now := still(), fmt.Sprint(p.seen(0).Camera); n <= frames || now == camera {
		t.Errorf("an arrow key: %d frames, camera %s", n-frames, now)
	}
	p.ends()
}

// When the moves were played to their end, every part is where the list put it: its slot by the
// manifest, its place by the list's own figures.
func TestLivePlays(t *testing.T) {
	t.Parallel()
	for _, plan := range []string{"mortar-cubes-scale.plan.yaml", "rotor.plan.yaml"} {
		p := openLive(t, plan, web.Job{Moving: true})
		start := p.seen(0)
		p.Do(web.Step{Do: "read", On: "live.clock.seekTime(Math.max(0, live.clock.states.drawn.at(-1) - 40))"}, web.Step{Do: "select", On: "#pace", To: "20"}, web.Step{Do: "click", On: "#play"},
			web.Step{Do: "wait", On: "!live.clock.playing && live.clock.at.n === live.clock.states.n"})
		end := p.seen(0)
		said := regexp.MustCompile(`(?m)^(\S+), .*: (\d+) before, (\d+) after`).FindAllStringSubmatch(mustRun(t, "check", "--slots", p.plan), -1)
		if len(said) == 0 || len(said) != len(end.Grids) {
			t.Fatalf("%s: the command speaks of %d grids, the view of %d", plan, len(said), len(end.Grids))
		}
		for i, m := range said {
			if before, after := fmt.Sprint(len(start.Grids[i].Full)), fmt.Sprint(len(end.Grids[i].Full)); end.Grids[i].Name != m[1] || before != m[2] || after != m[3] {
				t.Errorf("%s: the view has %s before and %s after in %s, the command says %q", plan, before, after, end.Grids[i].Name, m[0])
			}
		}
		placed := placesOf(t, p.plan)
		for _, g := range end.Grids {
			for _, slot := range g.Full {
				at := slices.IndexFunc(placed, func(a [3]float64) bool {
					return math.Hypot(math.Hypot(a[0]-slot.At[0], a[1]-slot.At[1]), a[2]-slot.At[2]) < 0.01
				})
				if at < 0 && fmt.Sprint(g) != fmt.Sprint(start.Grids[slices.IndexFunc(start.Grids, func(s seenGrid) bool { return s.Name == g.Name })]) {
					t.Errorf("%s: a part stands at %v in %s, where the list puts none", plan, slot.At, g.Name)
				}
				if at >= 0 {
					placed = slices.Delete(placed, at, at+1)
				}
			}
		}
		if len(placed) > 0 {
			t.Errorf("%s: at %v the list leaves parts, and the view none", plan, placed)
		}
		p.ends()
	}
}

// placesOf is where the list leaves parts: the TCP in the base at each last release over a slot
// that no grip is at afterwards.
func placesOf(t *testing.T, plan string) [][3]float64 {
	t.Helper()
	left := map[string][3]float64{}
	at := map[string][3]float64{}
	for line := range strings.Lines(mustRun(t, "moves", plan, "--format", "jsonl")) {
		var m struct {
			Action, Target string
			X              float64 `json:"base_x"`
			Y              float64 `json:"base_y"`
			Z              float64 `json:"base_z"`
		}
		if err := json.Unmarshal([]byte(line), &m); err != nil {
			t.Fatal(err)
		}
		switch m.Action {
		case "straight":
			at[m.Target] = [3]float64{m.X, m.Y, m.Z}
		case "grip":
			delete(left, m.Target)
		case "release":
			if m.Target != "" {
				left[m.Target] = at[m.Target]
			}
		}
	}
	return slices.Collect(maps.Values(left))
}
