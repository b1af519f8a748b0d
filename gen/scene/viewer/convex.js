// Convex solids around points: their faces, and their outlines on a plane.
const convex = (() => {
  "use strict";
  const { minus, cross, dot, unit, length, across, plus, times } = vector;
  const mostPoints = 96; // of which the search below, which grows with their cube, is quick enough

  // faces of the solid around points: each a normal that points out of it and its corners,
  // counter-clockwise as seen from outside.
  function faces(points) {
    const some = extreme(apart(points)), out = [], seen = new Set();
    for (let i = 0; i < some.length; i++) {
      for (let j = i + 1; j < some.length; j++) {
        for (let k = j + 1; k < some.length; k++) {
          const face = through(some, i, j, k);
          const key = face && face.on.join();
          if (!face || seen.has(key)) continue;
          seen.add(key);
          out.push({ normal: face.normal, corners: around(face.on.map((n) => some[n]), face.normal) });
        }
      }
    }
    return out;
  }
  // through is the plane of three points, if no point lies before it.
  function through(points, i, j, k) {
    const a = points[i], raw = cross(minus(points[j], a), minus(points[k], a));
    if (length(raw) < 1e-6) return null;
    let normal = unit(raw), side = 0;
    const on = [];
    for (let n = 0; n < points.length; n++) {
      const d = dot(normal, minus(points[n], a));
      if (Math.abs(d) < 1e-3) { on.push(n); continue; }
      if (side * d < 0) return null;
      side = d;
    }
    if (side > 0) normal = times(normal, -1);
    return { normal, on };
  }
  // around puts the corners of one face into their order, and leaves out those inside it.
  function around(points, normal) {
    const u = across(normal), v = cross(normal, u);
    const flat = points.map((p) => [dot(p, u), dot(p, v), p]);
    return outline(flat).map((f) => f[2]);
  }
  // outline is the convex polygon around flat points, counter-clockwise.
  function outline(points) {
    const turn = (a, b, c) => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
    const half = (list) => {
      const out = [];
      for (const p of list) {
        while (out.length > 1 && turn(out[out.length - 2], out[out.length - 1], p) <= 1e-9) out.pop();
        out.push(p);
      }
      return out.slice(0, -1);
    };
    return [...half(sorted), ...half(sorted.reverse())];
  }
  const apart = (points) => [...new Map(points.map((p) => [p.map((x) => Math.round(x * 1000)).join(), p])).values()];
  // extreme are the points farthest out, along directions spread evenly, where there are
  // more of them than can be searched.
  function extreme(points) {
    if (points.length <= mostPoints) return points;
    const kept = new Set(), golden = Math.PI * (3 - Math.sqrt(5));
    for (let i = 0; i < mostPoints; i++) {
      const z = 1 - 2 * (i + 0.5) / mostPoints, r = Math.sqrt(1 - z * z);
      const d = [r * Math.cos(golden * i), r * Math.sin(golden * i), z];
      let best = points[0];
      for (const p of points) if (dot(p, d) > dot(best, d)) best = p;
      kept.add(best);
    }
    return [...kept];
  }
  // shadow is the outline of points along a direction, in the plane through the lowest.
  function shadow(points, up) {
    const u = across(up), v = cross(up, u), low = Math.min(...points.map((p) => dot(p, up)));
    const flat = outline(points.map((p) => [dot(p, u), dot(p, v)]));
    return flat.map(([a, b]) => plus(plus(times(u, a), times(v, b)), times(up, low)));
  }

  return { faces, outline, shadow };
})();
