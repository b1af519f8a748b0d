// The arm at given readings, the tool at its tip, and what the gripper holds.
const arm = (() => {
  "use strict";
  const { plus, minus, times, turn, chain, about, place, position, orientation, follow, pose } = vector;

  // motions are where each joint, and those before it, take what is behind it: poses by
  // which things move that were placed with all joints at 0.
  function motions(a, readings) {
    let p = pose([0, 0, 0], vector.still);
    return a.joints.map((j, i) => {
      const own = j.slides
        ? pose(times(j.axis, readings[i]), vector.still)
        : pivot(about(j.axis, readings[i]), j.point);
      return p = follow(p, own);
    });
  }
  const pivot = (q, point) => pose(minus(point, turn(q, point)), q);

  function open(scene, shapes) {
    const a = scene.arm, rods = lines.open(), tip = lines.open(), texts = [];
    const links = a ? a.links.map((l) => ({ behind: l.behind, crowd: crowds.single(shapes(l.solid, 40), looks.solid.arm) })) : [];
    const flangeOf = (tool) => position(vector.inverse(tool.tcp));
    // shapesOf are a tool's boxes, or the cylinder that is all that is known of its room.
    const shapesOf = (t) => (t.body.length || !t.radius ? t.body.map((b) => ({ b, crowd: crowds.single(meshes.of({ box: b }), looks.solid.tool) }))
      : [{ b: {}, crowd: crowds.single(meshes.of({ cylinder: { from: [0, 0, 0], to: flangeOf(t), radius: t.radius } }, 32), looks.solid.tool) }]);
    const bodies = scene.tools.map(shapesOf), stands = scene.tools.map(shapesOf);
    const carried = [];
    let shown = [], filled = [];

    // set moves all of it to where a state says.
    function set(state) {
      rods.clear();
      tip.clear();
      shown = [];
      filled = [];
      if (a && state.joints) reach(state.joints);
      (state.stands || []).forEach((t) => { if (scene.tools[t] && scene.tools[t].stand) hang(stands[t], scene.tools[t].stand, 1); });
      if (!state.tip) return;
      const p = pose(state.tip, state.turn || vector.still), tool = scene.tools[state.tool || 0];
      if (tool && !state.bare) {
        hang(bodies[state.tool || 0], p, state.open ?? 1);
        if (!tool.body.length) tip.add(state.tip, place(p, flangeOf(tool)), looks.line.tool);
      }
      cross(p);
      (state.holds || []).forEach((h, i) => hold(h, i, p));
    }
    function hang(boxes, p, open) {
      for (const { b, crowd } of boxes) {
        const own = b.open ? turn(b.turn || vector.still, times(b.open, open)) : [0, 0, 0];
        crowd.put(0, place(p, own), orientation(p), looks.solid.tool);
        shown.push(crowd);
        filled.push([crowd.mesh, pose(place(p, own), orientation(p))]);
      }
    }
    // cross is the tip: open in the middle, so that what it is about is seen.
    function cross(p) {
      const size = 6;
      for (let k = 0; k < 3; k++) {
        for (const s of [-1, 1]) {
          const e = [0, 0, 0];
          e[k] = s * size;
          tip.add(place(p, times(e, 0.4)), place(p, e), looks.line.tool);
        }
      }
    }
    function hold(h, i, p) {
      const grid = scene.grids[h.grid], way = h.lies ? (grid.lies || [])[h.lies - 1] : null, solid = way ? way.solid ?? grid.solid : grid.solid;
      let at = h.pose ? follow(p, h.pose) : pose(position(p), slotTurn(grid, h.slot));
      if (way) at = follow(at, pose(way.shift, way.turn));
      if (!carried[i] || carried[i].solid !== solid) carried[i] = { solid, crowd: crowds.single(shapes(solid), looks.solid.held) };
      carried[i].crowd.put(0, position(at), orientation(at), looks.solid.held);
      shown.push(carried[i].crowd);
    }
    function slotTurn(grid, index) {
      const k = grid.index ? grid.index.indexOf(index) : index;
      return grid.turns[grid.turn ? grid.turn[k] : 0] || vector.still;
    }
    // reach draws the links, and rods in place of those whose shape nobody says.
    function reach(readings) {
      const ps = motions(a, readings);
      for (const l of links) {
        const p = l.behind ? ps[l.behind - 1] : pose([0, 0, 0], vector.still);
        l.crowd.put(0, position(p), orientation(p), looks.solid.arm);
        shown.push(l.crowd);
      }
      for (const r of a.rods || []) {
        const p = r.behind ? ps[r.behind - 1] : pose([0, 0, 0], vector.still);
        rods.add(place(p, r.from), place(p, r.to), looks.line.rod);
      }
    }
    // room is what the boxes of tools fill, in boxes along the base's axes.
    const room = () => filled.map(([mesh, p]) => vector.around(mesh.points.map((x) => place(p, x))));
    return { set, room, rods, tip, texts, items: () => shown.map((crowd) => ({ crowd })) };
  }
  return { open, motions };
})();
