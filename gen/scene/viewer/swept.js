// The room that tool and part go through in one transfer: for each motion the convex room between the
// places of each box, in steps of at most ten degrees where it turns. Exact where a motion is a line
// without a turn; other motions are taken as lines between their ends.
const swept = (() => {
  "use strict";
  const { place, pose, follow, between, turned } = vector;
  const step = 10 * Math.PI / 180;

  // of gives the mesh of a transfer's room, or null where nothing is known of what moves.
  function of(scene, shapes, transfer) {
    const m = scene.moves, s = states.of(scene), sets = [];
    for (let i = 0; i < m.n; i++) {
      const kind = m.kinds[m.kind[i]];
      if (m.transfer[i] !== transfer || (kind !== "travel" && kind !== "straight")) continue;
      const a = s.at(i), b = s.at(i + 1);
      if (a.tip && b.tip) for (const points of bodies(scene, shapes, b, a.open ?? 1)) along(points, a, b, sets);
    }
    return sets.length ? meshes.around(sets) : null;
  }
  // bodies are the corners of all that hangs on the tip, in its coordinates.
  function bodies(scene, shapes, state, open) {
    const tool = scene.tools[state.tool || 0], out = [];
    if (tool && !state.bare) {
      for (const b of tool.body) {
        const points = meshes.of({ box: b }).points, off = b.open ? vector.turn(b.turn || vector.still, vector.times(b.open, open)) : [0, 0, 0];
        out.push(points.map((p) => vector.plus(p, off)));
      }
      if (!tool.body.length && tool.radius) out.push(meshes.of({ cylinder: { from: [0, 0, 0], to: vector.position(vector.inverse(tool.tcp)), radius: tool.radius } }, 12).points);
    }
    for (const h of state.holds || []) if (h.pose) out.push(held(scene, shapes, h));
    return out;
  }
  function held(scene, shapes, h) {
    const grid = scene.grids[h.grid], way = h.lies ? (grid.lies || [])[h.lies - 1] : null;
    const p = way ? follow(h.pose, pose(way.shift, way.turn)) : h.pose;
    return shapes(way ? way.solid ?? grid.solid : grid.solid, 12).points.map((x) => place(p, x));
  }
  function along(points, a, b, sets) {
    const q = a.turn || vector.still, r = b.turn || vector.still, same = Math.min(1, Math.abs(q[0] * r[0] + q[1] * r[1] + q[2] * r[2] + q[3] * r[3]));
    const n = Math.max(1, Math.ceil(2 * Math.acos(same) / step - 1e-6));
    const at = (k) => { const p = pose(between(a.tip, b.tip, k / n), turned(q, r, k / n)); return points.map((x) => place(p, x)); };
    for (let k = 0; k < n; k++) sets.push([...at(k), ...at(k + 1)]);
  }
  return { of };
})();
