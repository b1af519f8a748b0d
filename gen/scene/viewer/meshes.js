// Solids as triangles. Each corner says how far it is from up to four edges of its face
// (0 on the edge, 1 at the far side), so that edges are drawn together with the faces.
const meshes = (() => {
  "use strict";
  const { plus, minus, times, cross, unit, length, across } = vector;
  const inside = [1, 1, 1, 1];

  const blank = () => ({ at: [], normal: [], edge: [], index: [], points: [], round: false, box: false });
  function corner(m, at, normal, edge) {
    m.at.push(...at);
    m.normal.push(...normal);
    m.edge.push(...edge);
    return m.at.length / 3 - 1;
  }
  function quad(m, corners, normal) {
    const edges = [[0, 1, 0, 1], [1, 0, 0, 1], [1, 0, 1, 0], [0, 1, 1, 0]];
    const [a, b, c, d] = corners.map((p, i) => corner(m, p, normal, edges[i]));
    m.index.push(a, b, c, a, c, d);
  }
  // polygon adds a convex face as a fan about its middle; only its outer edges are edges.
  function polygon(m, corners, normal) {
    const middle = times(corners.reduce(plus, [0, 0, 0]), 1 / corners.length);
    const hub = corner(m, middle, normal, inside);
    const rim = corners.map((p) => corner(m, p, normal, [0, 1, 1, 1]));
    rim.forEach((a, i) => m.index.push(hub, a, rim[(i + 1) % rim.length]));
  }

  // The first three faces are those toward +X, +Y and +Z: mirrored, they are the ones that are
  // seen from anywhere. q turns the box about the origin of its coordinates.
  function box(m, from, to, q) {
    const e = [from, to], way = (p) => (q ? vector.turn(q, p) : p);
    for (const s of [1, 0]) {
      for (let k = 0; k < 3; k++) {
        const u = (k + 1) % 3, v = (k + 2) % 3;
        const at = (a, b) => { const p = [0, 0, 0]; p[k] = e[s][k]; p[u] = e[a][u]; p[v] = e[b][v]; return p; };
        const loop = [at(0, 0), at(1, 0), at(1, 1), at(0, 1)], normal = [0, 0, 0];
        normal[k] = s ? 1 : -1;
        quad(m, (s ? loop : loop.reverse()).map(way), way(normal));
      }
    }
    m.box = m.index.length === 36 && !q;
    m.points.push(...vector.corners(from, to).map(way));
  }
  function ring(at, axis, radius, n) {
    const u = across(axis), v = cross(axis, u);
    return Array.from({ length: n }, (_, i) => {
      const a = 2 * Math.PI * i / n, out = plus(times(u, Math.cos(a)), times(v, Math.sin(a)));
      return { at: plus(at, times(out, radius)), out };
    });
  }
  // band joins two rings; low and high say whether its ends are edges.
  function band(m, low, high, edges) {
    const a = low.map((p) => corner(m, p.at, p.out, edges ? [1, 1, 0, 1] : inside));
    const b = high.map((p) => corner(m, p.at, p.out, edges ? [1, 1, 1, 0] : inside));
    a.forEach((p, i) => {
      const j = (i + 1) % a.length;
      m.index.push(p, a[j], b[j], p, b[j], b[i]);
    });
  }
  const axisOf = (from, to) => (length(minus(to, from)) > 1e-9 ? unit(minus(to, from)) : [0, 0, 1]);
  function cylinder(m, from, to, radius, n) {
    const axis = axisOf(from, to), low = ring(from, axis, radius, n), high = ring(to, axis, radius, n);
    band(m, low, high, true);
    polygon(m, high.map((p) => p.at), axis);
    polygon(m, low.map((p) => p.at).reverse(), times(axis, -1));
    m.points.push(...low.map((p) => p.at), ...high.map((p) => p.at));
    m.round = true;
  }
  // capsule is a cylinder with half a sphere at each end.
  function capsule(m, from, to, radius, n) {
    const axis = axisOf(from, to), steps = Math.max(2, n >> 2), rings = [];
    for (let i = -steps; i <= steps; i++) {
      const a = i / steps * Math.PI / 2, end = i < 0 ? from : to, c = Math.cos(a), s = Math.sin(a);
      const circle = ring(plus(end, times(axis, radius * s)), axis, radius * c, n);
      if (i === 0) rings.push(ring(from, axis, radius, n));
      rings.push(circle.map((p) => ({ at: p.at, out: plus(times(p.out, c), times(axis, s)) })));
    }
    for (let i = 1; i < rings.length; i++) band(m, rings[i - 1], rings[i], false);
    m.points.push(...rings.flat().map((p) => p.at));
    m.round = true;
  }
  // corners is what stands around points, or lies there where they are all in one plane.
  function corners(m, points) {
    const faces = convex.faces(points);
    for (const f of faces) polygon(m, f.corners, f.normal);
    m.points.push(...points);
    m.flat = faces.length === 1;
  }

  // add adds a solid of the scene; n is how many corners a circle gets.
  function add(m, solid, n) {
    if (solid.box) box(m, solid.box.from, solid.box.to, solid.box.turn);
    else if (solid.cylinder) cylinder(m, solid.cylinder.from, solid.cylinder.to, solid.cylinder.radius, n);
    else if (solid.capsule) capsule(m, solid.capsule.from, solid.capsule.to, solid.capsule.radius, n);
    else if (solid.sphere) capsule(m, solid.sphere.at, solid.sphere.at, solid.sphere.radius, n);
    else if (solid.corners) corners(m, solid.corners);
    return m;
  }
  function done(m) {
    const [from, to] = vector.around(m.points);
    return {
      at: new Float32Array(m.at), normal: new Float32Array(m.normal), edge: new Float32Array(m.edge), index: new Uint32Array(m.index),
      points: m.points, from, to, round: m.round, box: m.box, flat: Boolean(m.flat),
    };
  }
  const of = (solid, n = 24) => done(add(blank(), solid, n));
  // flat is a polygon that is seen from both sides.
  function flat(corners, up) {
    const m = blank();
    polygon(m, corners, up);
    m.points.push(...corners);
    m.flat = true;
    return done(m);
  }
  // around is one mesh of several solids, each around points.
  function around(sets) {
    const m = blank();
    for (const points of sets) corners(m, points);
    return done(m);
  }

  return { of, flat, around };
})();
