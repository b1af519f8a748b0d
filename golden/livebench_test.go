package golden

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"gridferry/golden/outside"
	"gridferry/golden/web"
	"gridferry/plan/digest"
)

// The benchmarks of the live page, whose figures stand in bench/LIVE.md:
//
//	go test ./golden -run xxx -bench Live -benchtime 1x -count 3

const window = 800 // px high, and 1280 wide

// crowded is a plan with so many parts on one grid.
func crowded(b *testing.B, rows int) (folder, plan string) {
	b.Helper()
	folder = b.TempDir()
	text := fmt.Sprintf(`format: gridferry plan 1
cell:
  tools: {jaw: {tcp: {at: [0, 0, 100]}, mass: 1, grip: {output: 1, level: on, settle: 0.3}, release: {output: 1, level: off, settle: 0.3}}}
  frames: {left: {at: [0, 0, 0]}, right: {at: [0, -500, 0]}}
parts: {p: {mass: 0.1, size: [7, 7, 20]}}
grids:
  a: {frame: left, rows: %d, columns: 200, pitch: [9, 9], first: [0, 0, 20], part: p, filled: all}
  b: {frame: right, rows: 1, columns: 10, pitch: [9, 9], first: [0, 0, 20], part: p}
motion: {tool: jaw, approach: 60, speed: {travel: 200, near: 40}}
transfers:
  - {from: "a A1:A10", to: b}
`, rows)
	if err := os.WriteFile(filepath.Join(folder, "crowded.plan.yaml"), []byte(text), 0o666); err != nil {
		b.Fatal(err)
	}
	return folder, "crowded.plan.yaml"
}

// opened is a page to measure, with the folder of its plan.
func opened(b *testing.B, folder, plan string) *livePage {
	b.Helper()
	return openFolder(b, folder, plan, web.Job{Height: window, Moving: true})
}

// BenchmarkLiveTurn turns the view for three seconds, as far as frames are drawn: how many are
// drawn a second, and how long one takes that is slower than nineteen of twenty. The view is as
// large as its pane, or as the whole window.
func BenchmarkLiveTurn(b *testing.B) {
	for _, c := range []struct {
		name string
		open func(*testing.B) *livePage
	}{
		{"24-slots", func(b *testing.B) *livePage { return opened(b, demosCopied(b), "mortar-cubes.plan.yaml") }},
		{"1536-slots", func(b *testing.B) *livePage { return opened(b, demosCopied(b), "dense-plate.plan.yaml") }},
		{"100000-parts", func(b *testing.B) *livePage { folder, plan := crowded(b, 500); return opened(b, folder, plan) }},
	} {
		b.Run(c.name, func(b *testing.B) {
			p := c.open(b)
			p.turns(b, "pane")
			p.Do(web.Step{Do: "read", On: `void Object.assign(document.getElementById("view-canvas").style, { position: "fixed", inset: 0, width: "100vw", height: "100vh", zIndex: 9 })`})
			p.turns(b, "window")
			p.Do(web.Step{Do: "read", On: `live.viewer.path("all")`})
			p.turns(b, "window-whole-path")
		})
	}
}

func (p *livePage) turns(b *testing.B, how string) {
	b.Run(how, func(b *testing.B) {
		for b.Loop() {
			var turned struct{ Frames, Seconds, Slow float64 }
			p.Read(0, turning, &turned)
			if turned.Frames < 2 {
				b.Fatalf("nothing turned: %+v", turned)
			}
			b.ReportMetric(turned.Frames/turned.Seconds, "frames/s")
			b.ReportMetric(turned.Slow, "ms/slow-frame")
		}
	})
}

// turning drags for three seconds, a little before each frame.
const turning = `new Promise((done) => {
  const v = live.viewer, canvas = document.getElementById("view-canvas"), box = canvas.getBoundingClientRect(), first = v.frames, times = [];
  const at = (kind, x) => canvas.dispatchEvent(new PointerEvent(kind, { bubbles: true, pointerId: 1, pointerType: "mouse", isPrimary: true, button: kind === "pointermove" ? -1 : 0, buttons: 1, clientX: box.x + box.width / 2 + x, clientY: box.y + box.height / 2 }));
  canvas.setPointerCapture = () => {};
  at("pointerdown", 0);
  let x = 0;
  const step = (time) => {
    times.push(time);
    if (time - times[0] < 3000) { at("pointermove", x += 3); requestAnimationFrame(step); return; }
    at("pointerup", x);
    const gaps = times.slice(1).map((t, i) => t - times[i]).sort((a, b) => a - b);
    done({ frames: v.frames - first, seconds: (time - times[0]) / 1000, slow: gaps[Math.floor(gaps.length * 0.95)] });
  };
  requestAnimationFrame(step);
})`

// BenchmarkLiveChange measures from before a file is written until the page has drawn what it says.
func BenchmarkLiveChange(b *testing.B) {
	for _, c := range []struct{ name, plan, key string }{
		{"24-slots", "mortar-cubes.plan.yaml", "approach: "},
		{"1536-slots", "dense-plate.plan.yaml", "approach: "},
	} {
		b.Run(c.name, func(b *testing.B) {
			p := opened(b, demosCopied(b), c.plan)
			text := p.file()
			before, after, _ := strings.Cut(text, c.key)
			was := after[:strings.IndexFunc(after, func(r rune) bool { return (r < '0' || r > '9') && r != '.' })]
			figure, err := strconv.ParseFloat(was, 64)
			if err != nil {
				b.Fatal(err)
			}
			const seen = `(() => { window.drawnAt = {}; let last = ""; const look = () => { const d = document.documentElement.dataset; if (d.scene !== last) { last = d.scene; requestAnimationFrame(() => { window.drawnAt[live.state.files[0].digest] = Date.now(); }); } requestAnimationFrame(look); }; look(); })()`
			p.Do(web.Step{Do: "read", On: seen})
			var sum time.Duration
			n := 0
			for b.Loop() {
				for range 10 {
					n++
					changed := fmt.Sprintf("%s%s%g%s", before, c.key, figure+float64(n)/100, after[len(was):])
					began := time.Now().UnixMilli()
					p.write(changed)
					key := fmt.Sprintf("window.drawnAt[%q]", digest.Of(changed))
					p.Do(web.Step{Do: "wait", On: key})
					var at int64
					p.Read(0, key, &at)
					sum += time.Duration(at-began) * time.Millisecond
				}
			}
			b.ReportMetric(float64(sum.Milliseconds())/float64(n), "ms/change")
		})
	}
}

// BenchmarkLiveMemory compares what the page holds after 500 and 1,000 more changes to what it held after
// 10, and the server likewise.
func BenchmarkLiveMemory(b *testing.B) {
	for b.Loop() {
		p := opened(b, demosCopied(b), "mortar-cubes.plan.yaml")
		text := p.file()
		for i, upTo := range []int{10, 500, 1000} {
			for n := range upTo {
				p.write(strings.Replace(text, "approach: 70", fmt.Sprintf("approach: %d.%03d", 70+i, n), 1))
				if n%10 == 9 {
					p.wait(fmt.Sprintf(`live.state.files[0].digest === %q && `, digest.Of(p.file())) + upToDate)
				} else {
					time.Sleep(30 * time.Millisecond)
				}
			}
			b.ReportMetric(p.memory(), fmt.Sprintf("MiB/page-after-%d", upTo))
			b.ReportMetric(p.server.memory(b), fmt.Sprintf("MiB/server-after-%d", upTo))
		}
	}
}

// memory is what scripts of the page hold, in MiB, when nothing is left over to collect.
func (p *livePage) memory() float64 {
	p.t.Helper()
	value := p.Do(web.Step{Do: "memory"})[0]
	bytes, err := strconv.ParseFloat(string(value), 64)
	if err != nil {
		p.t.Fatalf("memory %s", value)
	}
	return bytes / (1 << 20)
}

// memory is what the server has of the machine's, in MiB (proc(5), VmRSS).
func (s *liveServer) memory(t testing.TB) float64 {
	t.Helper()
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", s.command.Process.Pid))
	if err != nil {
		outside.Missing(t, err)
	}
	_, after, _ := strings.Cut(string(text), "VmRSS:")
	kib, err := strconv.ParseFloat(strings.Fields(after)[0], 64)
	if err != nil {
		t.Fatal(err)
	}
	return kib / 1024
}
