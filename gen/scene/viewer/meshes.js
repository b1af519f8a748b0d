// Solids as triangles. Each corner says how far it is from up to four edges of its face
// (0 on the edge, 1 at the far side), so that edges are drawn together with the faces.
// Few triangles are what keeps a picture quick where no graphics processor helps.
const meshes = (() => {
  "use strict";
  const { plus, minus, times, cross, unit, length, across } = vector;
  const inside = [1, 1, 1, 1];

  // seen is how many of the indexes, the first ones, are enough where a way is known to turn
  // the mesh so that they are what is seen of it: way 1 mirrors a box, way 2 turns a cylinder.
  const blank = () => ({ at: [], normal: [], edge: [], index: [], points: [], round: false, way: 0, seen: 0 });
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
  // polygon adds a convex face as a fan about its first corner; only its outer edges are edges.
  function polygon(m, corners, normal) {
    for (let i = 1; i + 1 < corners.length; i++) {
      const first = i === 1 ? 0 : 1, last = i + 2 === corners.length ? 0 : 1;
      m.index.push(
        corner(m, corners[0], normal, [1, first, last, 1]),
        corner(m, corners[i], normal, [0, first, 1, 1]),
        corner(m, corners[i + 1], normal, [0, 1, last, 1]),
      );
    }
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
    if (!q) Object.assign(m, { way: 1, seen: 18 });
    m.points.push(...vector.corners(from, to).map(way));
  }
  function ring(at, axis, radius, n) {
    const u = across(axis), v = cross(axis, u);
    return Array.from({ length: n }, (_, i) => {
      const a = 2 * Math.PI * i / n, out = plus(times(u, Math.cos(a)), times(v, Math.sin(a)));
      return { at: plus(at, times(out, radius)), out };
    });
  }
  // band joins two rings, from one corner to another; low and high say whether its ends are edges.
  function band(m, low, high, edges, from = 0, to = low.length) {
    const n = low.length, a = [], b = [];
    for (let i = from; i <= to; i++) {
      a.push(corner(m, low[i % n].at, low[i % n].out, edges ? [1, 1, 0, 1] : inside));
      b.push(corner(m, high[i % n].at, high[i % n].out, edges ? [1, 1, 1, 0] : inside));
    }
    for (let i = 0; i < to - from; i++) m.index.push(a[i], a[i + 1], b[i + 1], a[i], b[i + 1], b[i]);
  }
  const axisOf = (from, to) => (length(minus(to, from)) > 1e-9 ? unit(minus(to, from)) : [0, 0, 1]);
  // The half toward the first axis of its ring comes first, with the upper end: that is what
  // is seen of an upright cylinder, when it is turned.
  function cylinder(m, from, to, radius, n) {
    const axis = axisOf(from, to), low = ring(from, axis, radius, n), high = ring(to, axis, radius, n), half = n >> 1, quarter = half >> 1;
    band(m, low, high, true, n - quarter, n - quarter + half);
    polygon(m, high.map((p) => p.at), axis);
    if (axis[2] === 1 && n % 4 === 0) Object.assign(m, { way: 2, seen: m.index.length });
    band(m, low, high, true, half - quarter, n - quarter);
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
      points: m.points, from, to, round: m.round, way: m.way, seen: m.seen, flat: Boolean(m.flat), disc: Boolean(m.disc),
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
  // disc is a round one, as a square on which the circle is drawn, across two axes u and v.
  function disc(middle, u, v, radius) {
    const m = blank(), signs = [[-1, -1], [1, -1], [1, 1], [-1, 1]];
    const [a, b, c, d] = signs.map(([x, y]) => corner(m, plus(middle, plus(times(u, x * radius), times(v, y * radius))), cross(u, v), [x, y, 0, 0]));
    m.index.push(a, b, c, a, c, d);
    m.points.push(...signs.map(([x, y]) => plus(middle, plus(times(u, x * radius), times(v, y * radius)))));
    return done(Object.assign(m, { flat: true, disc: true }));
  }
  // around is one mesh of several solids, each around points.
  function around(sets) {
    const m = blank();
    for (const points of sets) corners(m, points);
    return done(m);
  }

  return { of, flat, disc, around };
})();
