// What stands in the slots of a scene after so many moves. Every change keeps what was there
// before it, so that going back is as quick as going on.
//
//   const k = stocks.of(scene, moves);
//   k.slots(n), k.changes(a, b)     as states has them
//   k.taken                         by grip: {there, lies, id} of what it took
const stocks = (() => {
  "use strict";
  const numbered = (list) => new Map(Object.entries(list || {}).map(([i, x]) => [Number(i), x]));

  function atStart(grid) {
    const now = { full: new Uint8Array(grid.count), lies: numbered(grid.lain), ids: numbered(grid.ids) };
    for (const i of grid.full || []) now.full[i] = 1;
    return now;
  }
  function of(scene, moves) {
    const grids = (scene.grids || []).map(atStart);
    const look = (g, i) => ({ there: grids[g].full[i] === 1, lies: grids[g].lies.get(i) || 0, id: grids[g].ids.get(i) });
    const put = (g, i, what) => {
      grids[g].full[i] = what.there ? 1 : 0;
      if (what.lies) grids[g].lies.set(i, what.lies); else grids[g].lies.delete(i);
      if (what.id) grids[g].ids.set(i, what.id); else grids[g].ids.delete(i);
    };
    const events = [], taken = new Map(); // what each grip took
    for (let i = 0; i < moves.n; i++) {
      if (!moves.works(i)) continue;
      const [g, slot] = moves.slot(i), was = look(g, slot);
      const takes = moves.kind(i) === "grip";
      if (takes) taken.set(i, was);
      if (scene.grids[g].feeds) continue; // what stands there stays as it is
      const is = takes ? { there: false, lies: 0 } : { there: true, lies: moves.some("lies", i) || 0, id: moves.some("part", i) };
      put(g, slot, is);
      events.push({ move: i, g, slot, was, is });
    }
    let now = events.length; // so many of them have happened
    const happened = (n) => search.first(events.length, (i) => events[i].move >= n);
    const go = (n, told) => {
      for (const want = happened(n); now !== want;) {
        const on = now < want, e = events[on ? now++ : --now];
        put(e.g, e.slot, on ? e.is : e.was);
        if (told) told(e);
      }
      return grids;
    };
    const changes = (a, b) => {
      go(a);
      const touched = new Map();
      go(b, (e) => touched.set(`${e.g} ${e.slot}`, e));
      return [...touched.values()].map(({ g, slot }) => { const is = look(g, slot); return [g, slot, is.there, is.lies, is.id]; });
    };
    go(0);
    return { slots: (n) => go(n), changes, taken };
  }
  return { of };
})();
