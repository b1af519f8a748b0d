// What is bolted down: ground, base, frames, keep-out boxes, poses, reach.
const cell = (() => {
  "use strict";
  const { plus, minus, times, turn, position, orientation, place, length, between } = vector;
  const { line } = looks;

  // stepOf is a round figure of which some n make a length: 1, 2 or 5 and zeros.
  function stepOf(long, n) {
    const raw = Math.max(long / n, 1e-3), power = 10 ** Math.floor(Math.log10(raw));
    return [1, 2, 5, 10].map((f) => f * power).find((s) => s >= raw) || 10 * power;
  }
  function open(scene) {
    const [low, high] = scene.bounds, size = length(minus(high, low)) || 100;
    const under = lines.open(), over = lines.open(), texts = [];
    const edges = { keepouts: [], frames: [] }; // which lines are whose
    const axis = Math.max(15, Math.min(150, size * 0.05));
    const step = ground(under, low, high);
    frame([0, 0, 0, ...vector.still], "base", axis * 1.4);
    scene.frames.forEach((f, i) => frame(f.pose, f.name, axis, i));
    const boxes = scene.keepouts.map((k, i) => {
      edges.keepouts[i] = [over.count, over.count + 12];
      over.box(k.from, k.to, k.pose, line.keep);
      const middle = between(k.from, k.to, 0.5);
      texts.push({ text: k.name, at: place(k.pose, [middle[0], middle[1], k.to[2]]), weight: 5, colour: "keep", strong: true, shift: [0, -8] });
      return crowds.single(meshes.of({ box: { from: k.from, to: k.to } }), looks.solid.keep, position(k.pose), orientation(k.pose));
    });
    for (const p of scene.poses) pose(p.pose, p.name, line.thin);
    if (scene.start) pose(scene.start, "start", line.start);
    if (scene.reach) reach(scene.reach, Math.max(low[2], 0));

    // frame draws three axes; letters tell them apart.
    function frame(p, name, long, i) {
      const origin = position(p);
      if (i !== undefined) edges.frames[i] = [over.count, over.count + 3];
      "XYZ".split("").forEach((letter, k) => {
        const e = [0, 0, 0];
        e[k] = 1;
        const way = turn(orientation(p), e), end = plus(origin, times(way, long));
        over.add(origin, end, line.axis);
        texts.push({ text: letter, from: origin, at: plus(end, times(way, long * 0.12)), weight: i === undefined ? 6 : 3, strong: true });
      });
      texts.push({ text: name, at: origin, weight: i === undefined ? 6.5 : 4, shift: [0, 10], colour: "quiet", strong: true });
    }
    // pose is a small cross, with a stroke along the tool.
    function pose(p, name, type) {
      for (let k = 0; k < 3; k++) {
        const e = [0, 0, 0];
        e[k] = axis * 0.25;
        over.add(place(p, e.map((x) => -x)), place(p, k === 2 ? times(e, 2) : e), type);
      }
      texts.push({ text: name, at: position(p), weight: type === line.start ? 4.5 : 2, shift: [0, -12], colour: type === line.start ? "accent" : "quiet" });
    }
    function reach(r, z) {
      for (const radius of [r.least, r.most]) {
        if (!radius) continue;
        const ring = Array.from({ length: 72 }, (_, i) => plus(r.centre || [0, 0, 0], [radius * Math.cos(i * Math.PI / 36), radius * Math.sin(i * Math.PI / 36), 0]));
        under.loop(ring.map((p) => [p[0], p[1], z]), line.thin);
      }
    }
    // light makes the lines of some frames and boxes broad: {frames: [i…], keepouts: [i…]}.
    function light(kin) {
      for (let n = 0; n < over.count; n++) over.mark(n, 0);
      for (const kind of ["frames", "keepouts"]) for (const i of kin[kind] || []) if (edges[kind][i]) for (let n = edges[kind][i][0]; n < edges[kind][i][1]; n++) over.mark(n, 2);
    }
    return { under, over, texts, boxes, step, light };
  }
  // ground draws squares under everything, and gives how wide they are.
  function ground(set, low, high) {
    const step = stepOf(Math.max(high[0] - low[0], high[1] - low[1]), 14), z = Math.min(low[2], 0);
    const from = [0, 1].map((k) => Math.floor(low[k] / step) - 1), to = [0, 1].map((k) => Math.ceil(high[k] / step) + 1);
    for (let i = from[0]; i <= to[0]; i++) set.add([i * step, from[1] * step, z], [i * step, to[1] * step, z], line.ground);
    for (let i = from[1]; i <= to[1]; i++) set.add([from[0] * step, i * step, z], [to[0] * step, i * step, z], line.ground);
    return step;
  }
  return { open };
})();
