// What the time of a job goes to: kinds of doing, and the stops (grids) that it is spent for.
//
//   const p = spending.of(states.of(scene));
//   p.doing           per move: an index into spending.kinds; -1 for what takes no time
//   p.stop            per move: an index into p.stops
//   p.stops           [{name, part}]; the first is for motions that lead to no slot
//   p.totals          per stop, per kind {seconds, moves}
//   p.sum(kind)       of one kind, over all stops
const spending = (() => {
  "use strict";
  const kinds = [
    { name: "travel", says: "travel (point to point)" },
    { name: "straight", says: "straight" },
    { name: "settle", says: "settling of the gripper" },
    { name: "dwell", says: "dwell" },
    { name: "wait", says: "wait for an input, of unknown length", unknown: true },
    { name: "hand", says: "change of tool by hand, of unknown length", unknown: true },
  ];
  const number = new Map(kinds.map((k, i) => [k.name, i]));

  function of(s) {
    const { moves, scene } = s;
    const doing = new Int8Array(s.n), stop = new Int16Array(s.n), numbers = new Map(), stops = [{ name: "on the way", part: "" }];
    const stopOf = (g) => {
      if (!numbers.has(g)) {
        numbers.set(g, stops.length);
        stops.push({ name: scene.grids[g].name, part: scene.grids[g].part });
      }
      return numbers.get(g);
    };
    let here = 0; // dwells and waits belong to where the arm is
    for (let i = 0; i < s.n; i++) {
      const slot = moves.slot(i);
      if (moves.moves(i) || slot) here = slot ? stopOf(slot[0]) : 0;
      stop[i] = here;
      doing[i] = kindOf(moves, i);
    }
    const totals = stops.map(() => kinds.map(() => ({ seconds: 0, moves: 0 })));
    for (let i = 0; i < s.n; i++) {
      if (doing[i] < 0) continue;
      const t = totals[stop[i]][doing[i]];
      t.seconds += moves.seconds(i);
      t.moves++;
    }
    const sum = (kind) => totals.reduce((all, t) => ({ seconds: all.seconds + t[kind].seconds, moves: all.moves + t[kind].moves }), { seconds: 0, moves: 0 });
    return { doing, stop, stops, totals, sum };
  }
  function kindOf(moves, i) {
    const kind = moves.kind(i);
    if (moves.unknown.has(i)) return number.get(kind === "select" ? "hand" : "wait");
    if (kind === "dwell") return number.get(moves.settling.has(i) ? "settle" : "dwell");
    return moves.moves(i) ? number.get(kind) : -1;
  }
  return { of, kinds };
})();
