// Follows a scene with the scripts of the viewer, in an order that is no order, and says what it
// sees: see statesAsked and statesSeen in states_test.go.
const answer = require("../outside/answer.js");
const vm = require("vm");

let read = { text: "", scripts: null };
function scripts(text) {
  if (read.text !== text) read = { text, scripts: vm.runInThisContext(`(() => {${text}\n;return { states, telling, spending, kinematics, slots, vector };})()`) };
  return read.scripts;
}

// shuffled goes through a list by steps that have no divisor in common with its length.
function shuffled(list) {
  let step = Math.max(1, Math.floor(list.length * 0.618));
  const common = (a, b) => (b ? common(b, a % b) : a);
  while (common(step, list.length) > 1) step++;
  return list.map((_, i) => list[(i * step) % list.length]);
}

answer(({ script, scene, every }) => {
  const { states, telling, spending, kinematics, slots, vector } = scripts(script);
  const s = states.of(scene), say = telling.of(s), way = kinematics.of(scene), spent = spending.of(s);
  const numbers = new Set([0, s.n]);
  s.transfers.forEach((one, i) => { if (i % every === 0) for (let k = one.n; k <= one.last; k++) { numbers.add(s.before(k)); numbers.add(s.after(k)); } });
  const label = (g, i) => slots.name(scene.grids[g], i);

  const look = (n) => {
    const state = s.at(n), parts = [];
    s.slots(n).forEach((grid, g) => grid.full.forEach((there, i) => {
      if (there) parts.push(label(g, i) + (grid.ids.get(i) ? `: ${grid.ids.get(i)}` : ""));
    }));
    return { n, parts: parts.sort(), tip: state.tip, turn: state.turn, tool: scene.tools[state.tool] ? scene.tools[state.tool].name : "", holds: state.holds.map((h) => label(h.grid, h.slot)), open: state.open };
  };
  // changes, put on a copy, have to give what slots does.
  const astray = () => {
    const list = shuffled([...numbers]), copy = new Set(s.slots(list[0]).flatMap((grid, g) => [...grid.full.keys()].filter((i) => grid.full[i]).map((i) => `${g} ${i}`)));
    let wrong = 0;
    for (let k = 1; k < list.length; k++) {
      for (const [g, i, there] of s.changes(list[k - 1], list[k])) { if (there) copy.add(`${g} ${i}`); else copy.delete(`${g} ${i}`); }
      const count = s.slots(list[k]).reduce((sum, grid, g) => sum + grid.full.reduce((n, there, i) => n + (there !== (copy.has(`${g} ${i}`) ? 1 : 0) ? 1 : 0), 0), 0);
      wrong += count;
    }
    return wrong;
  };
  // off is how far a part hangs from the slot it is put into, right before it is let go.
  let off = 0, puts = 0;
  for (let i = 0; i < s.n; i++) {
    if (s.moves.kind(i) !== "release" || !s.moves.slot(i) || scene.grids[s.moves.slot(i)[0]].index) continue;
    const state = s.at(i), [g, k] = s.moves.slot(i), zone = s.moves.some("zone", i) || 0, hold = state.holds.find((h) => h.zone === zone);
    if (!hold || !state.tip) continue;
    const at = vector.position(vector.follow(vector.pose(state.tip, state.turn), hold.pose));
    off = Math.max(off, Math.hypot(...vector.minus(at, scene.grids[g].at.slice(3 * k, 3 * k + 3))));
    puts++;
  }
  // On the way from move to move nothing leaps, and the arm takes the tool to where it is.
  let leap = 0, gap = 0;
  for (let i = 0; i < s.n; i += every) {
    if (!s.moves.moves(i) || !s.at(i).tip) continue;
    const way1 = s.at(i).tip, way2 = s.at(i + 1).tip, long = Math.hypot(...vector.minus(way2, way1));
    let before = way1;
    for (let t = 0; t <= 64; t++) {
      const d = s.during(i, t / 64);
      if (!(way && s.moves.kind(i) === "travel")) leap = Math.max(leap, Math.hypot(...vector.minus(d.tip, before)) - long / 16);
      before = d.tip;
      if (way && d.joints && t % 16 === 0) gap = Math.max(gap, Math.hypot(...vector.minus(vector.position(way.tip(d.joints, d.tool)), d.tip)));
    }
  }
  const ends = {};
  s.transfers.forEach((one) => { for (let k = one.n; k <= one.last; k++) { const e = s.ends(k); if (e) ends[k] = [e.from ? label(...e.from) : "", e.to ? label(...e.to) : ""]; } });
  return {
    states: shuffled([...numbers]).map(look).sort((a, b) => a.n - b.n), astray: astray(), ends, off, puts, leap, gap,
    seconds: s.until[s.n], spent: spent.totals.flat().reduce((sum, x) => sum + x.seconds, 0), unknown: s.moves.unknown.size, clock: say.clock(s.n, 0),
  };
});
