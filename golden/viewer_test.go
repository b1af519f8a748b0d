package golden

import (
	"testing"

	"gridferry/golden/web"
)

// viewedPage is a page with nothing but a view of a scene.
const viewedPage = `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Viewed</title>
<style>%s
#view { display: block; width: 100%%; height: 600px; }</style>
</head>
<body>
<main>
<h1>Viewed</h1>
<canvas id="view" tabindex="0" role="application" aria-label="The cell" aria-describedby="list"></canvas>
<div id="list"></div>
</main>
<script type="application/json" id="data">%s</script>
<script>%s
const scene = JSON.parse(document.getElementById("data").textContent), canvas = document.getElementById("view");
const v = viewer.open(canvas, { list: document.getElementById("list") }), picks = [], gl = canvas.getContext("webgl2");
v.on("pick", (thing, how) => picks.push([how, thing]));
v.on("measure", (result) => { v.result = result; });
v.show(scene);
const wait = (ms) => new Promise((done) => setTimeout(done, ms));
const gridOf = (name) => scene.grids.findIndex((g) => g.name === name);
// at is where slot k of a grid is seen, and a part's top beside its middle, in pixels of the picture.
const at = (g, k, off = [0, 0, 0]) => v.camera.pixel(v.camera.matrix(), [0, 1, 2].map((i) => scene.grids[g].at[3 * k + i] + off[i]));
// drawn is the colour that one point of a fresh picture has.
const drawn = (point) => new Promise((done) => {
  v.greyed(false);
  requestAnimationFrame(() => {
    const out = new Uint8Array(4), [x, y] = point();
    gl.readPixels(Math.round(x), canvas.height - 1 - Math.round(y), 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, out);
    done("#" + [...out.slice(0, 3)].map((c) => c.toString(16).padStart(2, "0")).join(""));
  });
});
// volume is that of a mesh with its faces outwards: by the divergence theorem a sixth of the sum of the
// determinants of its triangles' corners.
const volume = (m) => {
  const corner = (i) => [...m.at.slice(3 * m.index[i], 3 * m.index[i] + 3)];
  let sum = 0;
  for (let i = 0; i < m.index.length; i += 3) sum += vector.dot(corner(i), vector.cross(corner(i + 1), corner(i + 2)));
  return Math.round(sum / 6);
};
</script>
</body>
</html>
`

// The view draws the parts where the scene says, in the colours of the page, and nothing while nothing changes; what is
// pointed at is the slot that is drawn there; and it draws the same when the processor's memory was lost.
func TestViewerDraws(t *testing.T) {
	t.Parallel()
	page := sceneOn(t, cubes, viewedPage)
	still := `(async () => { await wait(700); const n = v.frames; await wait(500); return n > 0 && v.frames === n; })()`
	// Beside the middle of the cube in tray A1, so that no label is met; the cube's top is 25 mm above.
	cube := `drawn(() => at(gridOf("tray"), 0, [15, 15, 25]))`
	look(t, web.Job{Page: page}, []wanted{
		read(still, `true`),
		read(`v.path("none"), v.look("above"), v.seen().camera.flat`, `true`),
		// A view from above is to scale, with X to the right: 55 mm more in X are 55 times the scale, at the same height.
		read(`(() => { const [a, b] = [at(0, 0), v.camera.pixel(v.camera.matrix(), vector.plus(scene.grids[0].at.slice(0, 3), [55, 0, 0]))]; return Math.abs(b[0] - a[0] - 55 * v.camera.scale()) < 1e-3 && Math.abs(b[1] - a[1]) < 1e-3; })()`, `true`),
		read(cube, `"#f2d9a6"`),
		read(`(async () => { v.put(gridOf("tray"), 0, false, 0); return (await drawn(() => at(gridOf("tray"), 0, [15, 15, -25]))) !== "#f2d9a6" && !v.seen().grids[0].full.some((p) => p.index === 0); })()`, `true`),
		read(`v.put(gridOf("tray"), 0, true, 0), v.seen().grids[0].full.find((p) => p.index === 0).at.join() === scene.grids[0].at.slice(0, 3).join()`, `true`),
		read(`(() => { const lost = gl.getExtension("WEBGL_lose_context"); return new Promise((done) => { canvas.addEventListener("webglcontextrestored", () => setTimeout(done, 300, true)); canvas.addEventListener("webglcontextlost", () => setTimeout(() => lost.restoreContext(), 50)); lost.loseContext(); }); })()`, `true`),
		read(cube, `"#f2d9a6"`),
		{web.Step{Do: "scheme", On: "dark"}, ""},
		read(still, `true`),
		read(cube, `"#5a4a22"`),
		read(still, `true`),
		{web.Step{Do: "check"}, ""},
	})
}

// Every slot of the plan is found where it is drawn, the one behind a section is not, and the keys turn the view.
func TestViewerPicks(t *testing.T) {
	t.Parallel()
	page := sceneOn(t, cubes, viewedPage)
	found := `(() => { v.path("none"); v.look("above"); const r = canvas.getBoundingClientRect(), g = gridOf("tray"); let right = 0; const off = scene.grids[g].missing.length;
		for (let k = 0; k < scene.grids[g].count; k++) { const [x, y] = at(g, k); picks.length = 0;
			for (const type of ["pointerdown", "pointerup"]) canvas.dispatchEvent(new PointerEvent(type, { pointerId: 1, clientX: r.left + x, clientY: r.top + y, button: 0 }));
			const last = picks.at(-1); right += last && last[0] === "choose" && last[1] && last[1].slot && last[1].slot[0] === g && last[1].slot[1] === k ? 1 : 0; }
		return right === scene.grids[g].count - off; })()`
	look(t, web.Job{Page: page}, []wanted{
		// Only pointers that are down can be caught: the test makes events of its own.
		read(`(canvas.setPointerCapture = () => {}, 1)`, `1`),
		read(found, `true`),
		read(`(v.section({ axis: "X", at: scene.grids[0].at[0] - 100 }), !v.section)`, `false`),
		read(found, `false`),
		read(`(v.section(null), 1)`, `1`),
		{web.Step{Do: "focus", On: "#view"}, ""},
		{web.Step{Do: "press", On: "f"}, ""},
		read(`[v.camera.heading, v.camera.pitch, v.camera.flat].join()`, `"0,0,true"`),
		{web.Step{Do: "press", On: "ArrowLeft"}, ""},
		{web.Step{Do: "press", On: "ArrowUp"}, ""},
		read(`v.camera.heading !== 0 && v.camera.pitch > 0 && !v.camera.flat`, `true`),
		read(`(() => { const far = v.camera.away; window.far = far; return 1; })()`, `1`),
		{web.Step{Do: "press", On: "+"}, ""},
		read(`v.camera.away < far`, `true`),
		{web.Step{Do: "press", On: "Home"}, ""},
		// All corners of what is worth seeing are in the picture.
		read(`vector.corners(...scene.bounds).every((p) => { const [x, y] = v.camera.pixel(v.camera.matrix(), p); return x >= 0 && y >= 0 && x <= v.camera.size[0] && y <= v.camera.size[1]; })`, `true`),
	})
}

// Distances, rooms and differences are those that a hand works out: neighbours of the tray are 60 mm apart in the plan,
// and a box of 10 by 20 by 30 mm that goes up by 50 takes 10 · 20 · 80 mm³.
func TestViewerMeasures(t *testing.T) {
	t.Parallel()
	page := sceneOn(t, cubes, viewedPage)
	look(t, web.Job{Page: page}, []wanted{
		read(`(v.measured([100, 200, 30], [103, 204, 42]), v.result.words)`, `"13.0 mm: X 3.0, Y 4.0, Z 12.0 mm"`),
		read(`volume(meshes.of({ box: { from: [0, 0, 0], to: [10, 20, 30] } }))`, `6000`),
		read(`(() => { const box = (z) => vector.corners([0, 0, z], [10, 20, z + 30]); return volume(meshes.around([[...box(0), ...box(50)]])); })()`, `16000`),
		// A regular polygon of 64 corners about a circle of 10 mm has the area n/2 · r² · sin(360°/n) = 313.65 mm².
		read(`volume(meshes.of({ cylinder: { from: [0, 0, 0], to: [0, 0, 100], radius: 10 } }, 64))`, `31365`),
		read(`[v.swept(1), v.swept(0)].join()`, `"true,false"`),
		read(`(() => { const b = structuredClone(scene), g = b.grids[0]; g.at[0] += 5; b.grids[2].missing = [1, 2]; b.grids.push({ ...structuredClone(g), name: "new" }); const n = v.over(b); return [n.here, n.there - (g.count - g.missing.length), n.moved].join(); })()`, `"2,0,1"`),
		read(`(v.over(null), wait(600).then(() => document.querySelectorAll("#list li").length > 3 && /^grid tray, \d+ slots: \d+ full, \d+ free; 4 rows, 6 columns; part \w+$/.test(document.querySelector("#list li").textContent)))`, `true`),
		read(`(HTMLCanvasElement.prototype.getContext = () => null, viewer.open(document.createElement("canvas")))`, `null`),
	})
}
