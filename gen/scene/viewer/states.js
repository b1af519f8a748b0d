// What holds after so many moves. State 0 is before the first move, state n after move n.
// Of what lies between two states: a motion follows the line between its ends (a travel the
// way of the joints, where the scene has an arm and says so), and turns in the same share.
// It takes the seconds that the scene gives it, at an even speed with even ramps where the
// arm stops; a fly-by is shown as a corner, and no ramp is longer than those seconds leave.
//
//   const s = states.of(scene);
//   s.n                 moves in the scene
//   s.at(n)             {n, tip: [x,y,z]|null, turn, tool, open: 0..1, holds: [{grid, slot, lies, zone, part, pose}],
//                        load: kg|null, joints: […]|null, bare, stands: [tools]}
//   s.during(n, t)      the same, a share t of the way from state n to state n + 1
//   s.slots(n)          per grid {full: Uint8Array, lies: Map, ids: Map} by slot index; it holds until the next call
//   s.changes(a, b)     [[grid, slot, there, lies, id], …]: which slots differ in state b from state a
//   s.transfers         [{n, last, first, end, from, to, part}]: those that begin together are one, n to last; state
//                        first is before it, state end behind it
//   s.transferAt(n), s.transfer(number), s.before(number), s.after(number)   a transfer, and the states around it
//   s.ends(number)      {from: [grid, slot], to, part} of one transfer
//   s.slotOf(n)         [grid, slot] that the transfer of state n works on next; null for none
//   s.until             known seconds from the start to every state
//   s.drawn             the same where every wait of unknown length has the nominal length states.nominal
//   s.place(seconds)    {n, t} of a time of s.drawn
// A hold's pose is the slot's coordinates in the TCP of the tool: as they were at the grip.
const states = (() => {
  "use strict";
  const nominal = 1.5; // s, for what nobody knows the length of

  function of(scene) {
    const moves = movelist.of(scene), way = kinematics.of(scene);
    const { slots, changes, taken } = stocks.of(scene, moves);
    const held = holding(scene, moves, taken);
    const s = { scene, n: moves.n, moves, slots, changes, ...clock(moves), ...transfers.of(moves) };
    s.at = (n) => stateAt(scene, moves, held, Math.max(0, Math.min(moves.n, n)));
    s.during = (n, t, fingers) => during(s, way, n, t, fingers);
    s.slotOf = (n) => slotOf(moves, n);
    return s;
  }

  // ---- the gripper ----------------------------------------------------------------

  // holding is what the gripper holds, by the moves that change it: {move, holds, open}.
  function holding(scene, moves, taken) {
    const first = scene.held ? [scene.held] : [];
    const all = [{ move: -1, holds: first, open: scene.held ? 0 : 1 }];
    for (let i = 0; i < moves.n; i++) {
      const kind = moves.kind(i);
      if (kind !== "grip" && kind !== "release") continue;
      let holds = all[all.length - 1].holds;
      const zone = moves.some("zone", i) || 0;
      if (moves.slot(i)) {
        holds = kind === "release" && !zone ? [] : holds.filter((h) => h.zone && h.zone !== zone);
        if (kind === "grip") holds = [...holds, grip(scene, moves, i, zone, taken.get(i))];
      }
      all.push({ move: i, holds, open: kind === "release" ? 1 : 0 });
    }
    return all;
  }
  function grip(scene, moves, i, zone, taken) {
    const [grid, slot] = moves.slot(i);
    return { grid, slot, lies: taken.lies, zone, tool: moves.tool(i), part: moves.some("part", i) || taken.id, pose: hang(scene, moves.tip(i), moves.turn(i), grid, slot) };
  }
  // hang is a slot's coordinates in those of the tip. Where a slot is that the scene does
  // not show is not known: its part hangs at the tip.
  function hang(scene, tip, turn, grid, slot) {
    const g = scene.grids[grid], k = g.index ? g.index.indexOf(slot) : slot;
    const known = k >= 0 && g.at && 3 * k + 2 < g.at.length;
    const q = g.turns && g.turns.length ? g.turns[known && g.turn ? g.turn[k] : 0] : vector.still;
    const at = known ? g.at.slice(3 * k, 3 * k + 3) : tip;
    return vector.follow(vector.inverse(vector.pose(tip, turn)), vector.pose(at, q));
  }

  // ---- states ---------------------------------------------------------------------

  function stateAt(scene, moves, held, n) {
    const h = lastBefore(held, n), from = moves.raw.from || null;
    const known = moves.before(n) >= 0, last = Math.max(0, n - 1), tool = moves.n ? moves.tool(last) : 0;
    return {
      n, tip: known ? moves.tip(last) : from, turn: moves.n ? moves.turn(last) : vector.still, tool,
      open: h.open, holds: h.holds.map((one) => hung(scene, one, tool)), load: loadAt(moves, n), joints: known || from ? jointsAt(moves, n) : null, ...changing(scene, moves, n),
    };
  }
  const jointsAt = (moves, n) => (moves.unreached.has(moves.before(n)) ? null : moves.joints(Math.max(0, n - 1)));

  // hung is a hold in the coordinates of a tool: zones of one tool differ in where their TCP is.
  function hung(scene, hold, tool) {
    if (hold.tool === tool) return hold;
    const { follow, inverse } = vector, from = scene.tools[hold.tool].tcp, to = scene.tools[tool].tcp;
    return { ...hold, tool, pose: follow(follow(inverse(to), from), hold.pose) };
  }
  const lastBefore = (list, n) => list[search.first(list.length, (i) => list[i].move >= n) - 1];
  function loadAt(moves, n) {
    if (!moves.loads) moves.loads = Object.entries(moves.raw.load || {}).map(([i, kg]) => ({ move: Number(i), kg })).sort((a, b) => a.move - b.move);
    const last = lastBefore(moves.loads, n);
    return last ? last.kg : null;
  }

  // changing is which tools hang in their stands, and whether the flange is bare: from the
  // first output that is set while a tool is left until the first that is set while one is fetched.
  function changing(scene, moves, n) {
    if (!moves.couplings) moves.couplings = couplings(scene, moves);
    const c = lastBefore(moves.couplings, n);
    return { bare: c.bare, stands: c.stands };
  }
  function couplings(scene, moves) {
    const tools = scene.tools || [], first = moves.n ? moves.tool(0) : 0;
    const all = [{ move: -1, bare: false, stands: tools.map((_, i) => i).filter((i) => tools[i].stand && i !== first) }];
    for (let i = 0; i < moves.n; i++) {
      const { bare, stands } = all[all.length - 1], tool = moves.tool(i), role = moves.role(i);
      const leaves = !bare && role === "leave-tool" && moves.kind(i) === "set";
      // A tool that is fetched without an output, or by hand, is there when it works at the latest.
      const there = role === "fetch-tool" ? moves.kind(i) === "set" : role !== "leave-tool" && role !== "change-tool";
      if (leaves) all.push({ move: i, bare: true, stands: [...stands, tool] });
      else if (there && (bare || stands.includes(tool))) all.push({ move: i, bare: false, stands: stands.filter((t) => t !== tool) });
    }
    return all;
  }

  // during is a share of the way through move n, counted from 0. With fingers they are seen
  // on their way while the grip settles, which is when they are.
  function during(s, way, n, t, fingers) {
    const { moves } = s;
    if (t <= 0 && !fingers || n >= s.n) return s.at(n);
    if (t >= 1) return s.at(n + 1);
    const from = s.at(n), to = s.at(n + 1);
    if (moves.kind(n) === "grip" || moves.kind(n) === "release") return { ...from, open: from.open + (to.open - from.open) * t };
    if (fingers && moves.settling.has(n)) return { ...from, open: settling(s, n, t) };
    if (!moves.moves(n)) return from;
    if (!from.tip) return to; // where it comes from is not known
    const u = share(moves, n, from.tip, to.tip, t);
    const state = { ...to, n, tip: vector.between(from.tip, to.tip, u), turn: vector.turned(from.turn, to.turn, u) };
    return withArm(state, way, from, to, u, moves.kind(n) === "travel" && moves.raw.path !== "line" && moves.raw.path !== "axes");
  }
  // withArm lets the joints of a state go along: each an even share where they lead the way,
  // otherwise so that they take the tool to where it is.
  function withArm(state, way, from, to, u, lead) {
    if (!way || !from.joints || !to.joints) return { ...state, joints: null };
    const even = from.joints.map((a, i) => a + (to.joints[i] - a) * u);
    if (!lead) return { ...state, joints: way.toward(even, state.tool, vector.pose(state.tip, state.turn)) || even };
    const tip = way.tip(even, state.tool);
    return { ...state, joints: even, tip: vector.position(tip), turn: vector.orientation(tip) };
  }
  // settling is how far the fingers are in the dwell after a grip or a release.
  function settling(s, n, t) {
    let i = n - 1;
    while (i > 0 && s.moves.kind(i) !== "grip" && s.moves.kind(i) !== "release") i--;
    const a = s.at(Math.max(0, i)).open, b = s.at(n).open;
    return a + (b - a) * Math.min(1, 1.6 * t);
  }

  // share is how much of a motion's way is behind it after the share t of its seconds.
  function share(moves, n, a, b, t) {
    const way = Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]), speed = moves.raw.speed ? moves.raw.speed[n] : 0;
    const seconds = moves.seconds(n), before = moves.before(n);
    const up = before < 0 || !moves.through.has(before), down = !moves.through.has(n), ramps = up + down;
    if (!ramps || !(seconds > 0)) return t;
    // A ramp costs half its time more than the same way at full speed.
    const over = way > 0 && speed > 0 ? Math.max(0, seconds - way / speed) : seconds;
    const ramp = Math.min(2 * over / ramps, seconds / ramps) / seconds; // as a share of the seconds
    if (ramp <= 0) return t;
    const full = 1 / (1 - ramp * ramps / 2); // speed between the ramps, ways and times being shares
    if (up && t < ramp) return full * t * t / (2 * ramp);
    if (down && t > 1 - ramp) return 1 - full * (1 - t) * (1 - t) / (2 * ramp);
    return full * (t - (up ? ramp / 2 : 0));
  }

  // ---- time -------------------------------------------------------------------------

  function clock(moves) {
    const until = new Float64Array(moves.n + 1), drawn = new Float64Array(moves.n + 1);
    for (let i = 0; i < moves.n; i++) {
      until[i + 1] = until[i] + moves.seconds(i);
      drawn[i + 1] = drawn[i] + moves.seconds(i) + (moves.unknown.has(i) ? nominal : 0);
    }
    const place = (seconds) => {
      const n = Math.max(0, search.first(moves.n + 1, (i) => drawn[i] > seconds) - 1); // the last state that is not later
      const long = n < moves.n ? drawn[n + 1] - drawn[n] : 0;
      return { n, t: long > 0 ? Math.max(0, Math.min(1, (seconds - drawn[n]) / long)) : 0 };
    };
    return { until, drawn, place };
  }

  // slotOf is the next slot that the transfer of the present move works on.
  function slotOf(moves, n) {
    for (let i = Math.max(0, n - 1); i < moves.n && moves.transfer(i) === moves.transfer(Math.max(0, n - 1)); i++) {
      if (moves.works(i)) return moves.slot(i);
    }
    return null;
  }
  return { of, nominal };
})();
