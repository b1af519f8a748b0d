// Distances between two points, each caught by what is near it: middles of slots, corners of parts
// and boxes, origins of frames.
const measure = (() => {
  "use strict";
  const { plus, minus, length, place, position } = vector;
  const near = 14; // pixels

  function open(scene, stock) {
    const set = lines.open(), m = { on: false, from: null, to: null, set, texts: [] };

    // caught is the point that is meant at (x, y).
    function caught(x, y, c, allowed) {
      const matrix = c.matrix(), found = picking.at(x, y, c, scene, stock, { set: lines.open(), moveOf: [] }, allowed);
      let best = null, least = near;
      for (const p of candidates(found)) {
        const seen = c.pixel(matrix, p), off = seen ? Math.hypot(seen[0] - x, seen[1] - y) : Infinity;
        if (off < least) { best = p; least = off; }
      }
      return best || picking.point(x, y, c, scene, stock, allowed);
    }
    function candidates(found) {
      const out = [...scene.frames.map((f) => position(f.pose)), ...scene.poses.map((p) => position(p.pose))];
      for (const k of scene.keepouts) out.push(...vector.corners(k.from, k.to).map((p) => place(k.pose, p)));
      if (!found || !found.slot) return out;
      const own = stock.grids[found.slot[0]], k = own.kOf(found.slot[1]), p = own.poseOf(k, own.lies[k]), mesh = own.there[k] ? stock.shapes(p.solid) : own.flat;
      out.push(own.at(k));
      if (!mesh.round) out.push(...mesh.points.map((x) => place([...p.at, ...p.q], x)));
      return out;
    }
    // choose takes a first or a second point; a third begins anew.
    function choose(p) {
      if (!p) return;
      if (!m.from || m.to) { m.from = p; m.to = null; } else m.to = p;
      draw();
    }
    function show(from, to) {
      m.from = from;
      m.to = to;
      draw();
    }
    // draw shows the way, and its shares along X, Y and Z.
    function draw() {
      set.clear();
      m.texts = [];
      if (!m.from) return;
      cross(m.from);
      if (!m.to) return;
      cross(m.to);
      set.add(m.from, m.to, looks.line.measure);
      const d = minus(m.to, m.from), corner = [m.from, [m.to[0], m.from[1], m.from[2]], [m.to[0], m.to[1], m.from[2]], m.to];
      for (let k = 0; k < 3; k++) if (Math.abs(d[k]) > 1e-6) set.add(corner[k], corner[k + 1], looks.line.thin);
      m.texts = [{ text: `${figure(length(d))} mm`, at: vector.between(m.from, m.to, 0.5), weight: 10, strong: true }];
    }
    function cross(p) {
      for (let k = 0; k < 3; k++) {
        const e = [0, 0, 0];
        e[k] = 5;
        set.add(minus(p, e), plus(p, e), looks.line.measure);
      }
    }
    const figure = (x) => x.toFixed(1).replace("-", "\u2212");
    // result is null before both points are there.
    function result() {
      if (!m.from || !m.to) return null;
      const [dx, dy, dz] = minus(m.to, m.from), distance = Math.hypot(dx, dy, dz);
      return { from: m.from, to: m.to, dx, dy, dz, distance, words: `${figure(distance)} mm: X ${figure(dx)}, Y ${figure(dy)}, Z ${figure(dz)} mm` };
    }
    return Object.assign(m, { caught, choose, show, result });
  }
  return { open };
})();
