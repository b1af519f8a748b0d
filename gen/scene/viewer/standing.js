// What stands in the slots. The slots of a grid go into tiles, so that what is out of sight
// costs nothing, and what is far little.
const standing = (() => {
  "use strict";
  const { plus, minus, length } = vector;
  const perTile = 512;

  // shapes are the meshes of a scene's solids, each made once a fineness.
  function shapesOf(scene) {
    const made = new Map();
    return (n, fine = 24) => {
      const key = `${n} ${fine}`;
      if (!made.has(key)) made.set(key, meshes.of(scene.solids[n], fine));
      return made.get(key);
    };
  }
  // footprint is where a part stands, as it lies on what is under it: a flat piece in the
  // coordinates of the slot.
  function footprint(mesh, q, solid) {
    const up = vector.turn(vector.back(q), [0, 0, 1]), round = solid.cylinder;
    if (round && Math.abs(vector.dot(vector.unit(minus(round.to, round.from)), up)) > 0.999) {
      const u = vector.across(up), end = vector.dot(minus(round.to, round.from), up) > 0 ? round.from : round.to;
      return meshes.disc(end, u, vector.cross(up, u), round.radius);
    }
    return meshes.flat(convex.shadow(mesh.points, up), up);
  }

  function gridOf(grid, g, shapes, solids) {
    const n = grid.at.length / 3, whole = !grid.index, missing = new Set(grid.missing);
    const shown = whole ? null : new Map(grid.index.map((index, k) => [index, k]));
    const kOf = (index) => (whole ? (index < n ? index : -1) : shown.get(index) ?? -1);
    const indexOf = (k) => (whole ? k : grid.index[k]);
    const at = (k) => [grid.at[3 * k], grid.at[3 * k + 1], grid.at[3 * k + 2]];
    const q = (k) => grid.turns[grid.turn ? grid.turn[k] : 0] || vector.still;
    const base = shapes(grid.solid), flat = footprint(base, q(0), solids[grid.solid]);
    const own = {
      grid, g, n, at, q, kOf, indexOf, flat, mesh: base, tiles: [], there: new Uint8Array(n), lies: new Uint16Array(n), marks: new Uint8Array(n),
      due: new Uint8Array(n), gone: new Uint8Array(n), full: 0,
    };
    function tile(from, to) {
      const points = [];
      for (let k = from; k < to; k++) points.push(at(k));
      const box = vector.around(points), out = [reach, reach, reach];
      return { from, to, bounds: [minus(box[0], out), plus(box[1], out)], free: Object.assign(crowds.open(flat, to - from), { hollow: flat.disc || grid.size[2] > 1 }), full: new Map() };
    }
    const perLayer = grid.count / grid.size[2];
    const tileOf = (k) => own.tiles[Math.floor(k / perTile)];
    // poseOf is where a part's solid stands that lies in slot k in way number lie.
    function poseOf(k, lie) {
      const way = lie ? (grid.lies || [])[lie - 1] : null;
      if (!way) return { solid: grid.solid, at: at(k), q: q(k) };
      return { solid: way.solid ?? grid.solid, at: plus(at(k), vector.turn(q(k), way.shift)), q: vector.chain(q(k), way.turn) };
    }
    // show draws slot k as it is now.
    function show(k) {
      const t = tileOf(k), key = k - t.from;
      for (const crowd of t.full.values()) if (crowd.has(key)) crowd.take(key);
      if (own.there[k] || own.gone[k]) t.free.take(key);
      if (own.gone[k]) return;
      if (!own.there[k]) { t.free.put(key, at(k), q(k), freeLook(k), own.marks[k]); return; }
      const p = poseOf(k, own.lies[k]);
      if (!t.full.has(p.solid)) t.full.set(p.solid, crowds.open(shapes(p.solid), t.to - t.from));
      t.full.get(p.solid).put(key, p.at, p.q, looks.solid.full, own.marks[k]);
    }
    // freeLook is a free slot's: above others it has no ground that would hide them.
    function freeLook(k) {
      const above = indexOf(k) >= perLayer ? " above" : "";
      return looks.solid[(own.due[k] ? "due" : "free") + above];
    }
    function put(index, there, lie) {
      const k = kOf(index);
      if (k < 0 || own.gone[k] || (own.there[k] === (there ? 1 : 0) && own.lies[k] === (lie || 0))) return false;
      own.full += (there ? 1 : 0) - own.there[k];
      own.there[k] = there ? 1 : 0;
      own.lies[k] = there ? lie || 0 : 0;
      show(k);
      return true;
    }
    function mark(k, marks) {
      if (own.marks[k] === marks) return;
      own.marks[k] = marks;
      const t = tileOf(k);
      t.free.mark(k - t.from, marks);
      for (const crowd of t.full.values()) crowd.mark(k - t.from, marks);
    }
    function wait(k, due) {
      if (own.due[k] === due) return;
      own.due[k] = due;
      if (!own.there[k]) show(k);
    }
    const reach = Math.max(...base.points.map(length), ...(grid.lies || []).map((l) => length(l.shift) + Math.max(...shapes(l.solid ?? grid.solid).points.map(length))));
    for (let from = 0; from < n; from += perTile) own.tiles.push(tile(from, Math.min(n, from + perTile)));
    for (let k = 0; k < n; k++) {
      own.gone[k] = missing.has(indexOf(k)) ? 1 : 0;
      show(k);
    }
    for (const index of grid.full) put(index, true, (grid.lain || {})[index] || 0);
    return Object.assign(own, { put, mark, wait, poseOf, tileOf });
  }

  function open(scene) {
    const shapes = shapesOf(scene), grids = scene.grids.map((grid, g) => gridOf(grid, g, shapes, scene.solids));
    const last = grids.map(() => new Map()); // by slot: the last move that puts a part into it
    const m = scene.moves, releases = m && m.kinds ? m.kinds.indexOf("release") : -1;
    if (m && m.slot) for (let i = 0; i < m.n; i++) if (m.kind[i] === releases && m.slot[2 * i] >= 0 && last[m.slot[2 * i]]) last[m.slot[2 * i]].set(m.slot[2 * i + 1], i);
    // due says which slots still wait for a part after n moves: sorted by when they are filled, only
    // those between the last n and this one change.
    const order = last.flatMap((of, g) => [...of].map(([index, i]) => ({ own: grids[g], k: grids[g].kOf(index), i })))
      .filter((f) => f.k >= 0).sort((a, b) => a.i - b.i);
    for (const f of order) f.own.wait(f.k, 1);
    let filled = 0; // of the order
    function due(n) {
      while (filled < order.length && order[filled].i < n) { const f = order[filled++]; f.own.wait(f.k, 0); }
      while (filled > 0 && order[filled - 1].i >= n) { const f = order[--filled]; f.own.wait(f.k, 1); }
    }

    // items are what is to be drawn from where the camera is: tiles in sight, as fine as it takes,
    // and coarser in a hurry.
    let coarse = 1;
    function items(c, planes, level) {
      coarse = level > 1 ? level : 1;
      const out = [];
      for (const own of grids) {
        for (const t of own.tiles) {
          if (!seen(planes, t.bounds)) continue;
          const near = c.near(t.bounds);
          for (const [solid, crowd] of t.full) if (crowd.count) out.push(item(crowd, solid, near));
          if (t.free.count) out.push(item(t.free, -1, near));
        }
      }
      return out;
    }
    function item(crowd, solid, near) {
      const { from, to, round, flat } = crowd.mesh, pixels = near * length(minus(to, from)) / 1.7;
      if (pixels < (flat ? 5 : 3) * coarse) return { crowd, points: true, every: coarse > 1 ? 2 ** coarse >> 1 : 1 };
      const fine = pixels < 16 * coarse ? 8 : pixels < 36 ? 12 : pixels < 90 ? 20 : 32;
      return { crowd, mesh: round && solid >= 0 ? shapes(solid, fine) : crowd.mesh, bare: pixels < 5 * coarse };
    }
    return { grids, shapes, due, items };
  }
  // seen is false for a box that lies outside one of the planes of sight.
  function seen(planes, [from, to]) {
    return planes.every((p) => p[0] * (p[0] > 0 ? to[0] : from[0]) + p[1] * (p[1] > 0 ? to[1] : from[1]) + p[2] * (p[2] > 0 ? to[2] : from[2]) + p[3] >= 0);
  }
  // planesOf are the planes of sight of a camera's matrix, which point inwards.
  function planesOf(m) {
    const row = (i) => [m[i], m[4 + i], m[8 + i], m[12 + i]], w = row(3);
    return [0, 1].flatMap((i) => [w.map((x, k) => x + row(i)[k]), w.map((x, k) => x - row(i)[k])]);
  }
  return { open, planesOf };
})();
