// What is under a point of the picture, worked out from the scene's own figures: nothing has
// to be drawn for it, and nothing read back.
const picking = (() => {
  "use strict";
  const { minus, plus, times, dot, turn, back, position, orientation, inverse, place, length, between } = vector;
  const near = 7; // pixels that a line or an origin may be away

  // through gives how far along a ray a box begins, in the ray's units; Infinity if it is missed.
  function through(from, along, low, high) {
    let enter = 0, leave = Infinity;
    for (let k = 0; k < 3; k++) {
      const a = (low[k] - from[k]) / along[k], b = (high[k] - from[k]) / along[k];
      if (Number.isNaN(a) || Number.isNaN(b)) { if (from[k] < low[k] || from[k] > high[k]) return Infinity; continue; }
      enter = Math.max(enter, Math.min(a, b));
      leave = Math.min(leave, Math.max(a, b));
    }
    return enter <= leave ? enter : Infinity;
  }
  const inPose = (ray, at, q) => ({ from: turn(back(q), minus(ray.from, at)), along: turn(back(q), ray.along) });

  // slot is the nearest slot that the ray meets: a part, or the footprint of a free one.
  function slot(ray, stock, allowed) {
    let best = { far: Infinity };
    for (const own of stock.grids) {
      for (const tile of own.tiles) {
        if (through(ray.from, ray.along, ...tile.bounds) >= best.far) continue;
        for (let k = tile.from; k < tile.to; k++) {
          if (own.gone[k]) continue;
          const far = own.there[k] ? part(ray, own, k, stock.shapes) : through(...local(ray, own.at(k), own.q(k)), own.flat.from.map((x) => x - 0.01), own.flat.to.map((x) => x + 0.01));
          if (far < best.far && (!allowed || allowed(plus(ray.from, times(ray.along, far))))) best = { far, slot: [own.g, own.indexOf(k)] };
        }
      }
    }
    return best;
  }
  const local = (ray, at, q) => { const r = inPose(ray, at, q); return [r.from, r.along]; };
  function part(ray, own, k, shapes) {
    const p = own.poseOf(k, own.lies[k]), mesh = shapes(p.solid);
    return through(...local(ray, p.at, p.q), mesh.from, mesh.to);
  }
  function keepout(ray, scene) {
    let best = { far: Infinity };
    scene.keepouts.forEach((k, i) => {
      const far = through(...local(ray, position(k.pose), orientation(k.pose)), k.from, k.to);
      if (far < best.far) best = { far, keepout: i };
    });
    return best;
  }
  // flatDistance is how far a point of the picture is from a line between two others, and
  // which share of the line is nearest.
  function flatDistance(x, y, a, b) {
    const dx = b[0] - a[0], dy = b[1] - a[1], l = dx * dx + dy * dy;
    const t = l > 0 ? Math.max(0, Math.min(1, ((x - a[0]) * dx + (y - a[1]) * dy) / l)) : 0;
    return [Math.hypot(x - a[0] - t * dx, y - a[1] - t * dy), t];
  }
  // move is the nearest line of the path.
  function move(x, y, c, m, way, ray, allowed) {
    const { set } = way;
    let best = { off: near, far: Infinity };
    for (let n = 0; n < set.count; n++) {
      const [from, to] = set.ends(n), a = c.pixel(m, from), b = c.pixel(m, to);
      if (!a || !b) continue;
      const [off, t] = flatDistance(x, y, a, b);
      if (off > best.off) continue;
      const at = between(from, to, t), far = dot(minus(at, ray.from), ray.along);
      if (off < best.off - 0.5 || far < best.far) if (!allowed || allowed(at)) best = { off, far, move: way.moveOf[n] };
    }
    return best;
  }
  function frame(x, y, c, m, scene) {
    let best = { off: near + 3 };
    scene.frames.forEach((f, i) => {
      const p = c.pixel(m, position(f.pose)), off = p ? Math.hypot(p[0] - x, p[1] - y) : Infinity;
      if (off < best.off) best = { off, frame: i };
    });
    return best;
  }

  // at is the thing at (x, y): {slot}, {move}, {frame} or {keepout}, or null. A line of the
  // path goes before a slot that it does not lie behind, a slot before the box around it.
  function at(x, y, c, scene, stock, way, allowed) {
    const ray = c.ray(x, y), m = c.matrix(), s = slot(ray, stock, allowed), l = move(x, y, c, m, way, ray, allowed);
    if (l.move !== undefined && l.far <= s.far + 2) return { move: l.move };
    const f = frame(x, y, c, m, scene);
    if (f.frame !== undefined) return { frame: f.frame };
    if (s.slot) return { slot: s.slot };
    const k = keepout(ray, scene);
    return k.keepout === undefined ? null : { keepout: k.keepout };
  }
  // point is where the ray meets the nearest part, or else the ground.
  function point(x, y, c, scene, stock, allowed) {
    const ray = c.ray(x, y), s = slot(ray, stock, allowed), ground = Math.min(scene.bounds[0][2], 0);
    const far = s.slot ? s.far : (ground - ray.from[2]) / ray.along[2];
    return Number.isFinite(far) && far > 0 ? plus(ray.from, times(ray.along, far)) : null;
  }
  return { at, point };
})();
