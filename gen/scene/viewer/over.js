// A second scene laid over the first: slots that only one of them has, and slots that stand elsewhere.
// Line types and words tell them apart.
const over = (() => {
  "use strict";
  const most = 2000, named = 12, same = 0.001; // slots that are drawn, labels of a kind, mm

  function open(here, there) {
    const set = lines.open(), texts = [], count = { here: 0, there: 0, moved: 0 };
    const other = new Map(there.grids.map((own) => [own.grid.name, own]));
    for (const own of here.grids) {
      const its = other.get(own.grid.name);
      other.delete(own.grid.name);
      for (let k = 0; k < own.n; k++) if (!own.gone[k]) compare(own, k, its);
      if (its) for (let k = 0; k < its.n; k++) if (!its.gone[k] && !has(own, its.indexOf(k))) mark("there", its, k);
    }
    for (const its of other.values()) for (let k = 0; k < its.n; k++) if (!its.gone[k]) mark("there", its, k);

    function has(own, index) {
      const k = own.kOf(index);
      return k >= 0 && !own.gone[k];
    }
    function compare(own, k, its) {
      const index = own.indexOf(k);
      if (!its || !has(its, index)) { mark("here", own, k); return; }
      const at = own.at(k), to = its.at(its.kOf(index));
      if (vector.length(vector.minus(at, to)) <= same) return;
      if (count.moved < most) set.add(at, to, looks.line.moved);
      mark("moved", its, its.kOf(index));
    }
    function mark(kind, own, k) {
      if (count[kind]++ >= most) return;
      const p = [...own.at(k), ...own.q(k)], corners = own.flat.points.map((x) => vector.place(p, x));
      set.loop(corners, looks.line[kind === "moved" ? "there" : kind]);
      if (count[kind] <= named) texts.push({ text: `${kind === "moved" ? "moved" : `only ${kind}`}: ${slots.name(own.grid, own.indexOf(k))}`, at: own.at(k), weight: 7, colour: kind === "here" ? "ink" : "accent" });
    }
    return { set, texts, count };
  }
  return { open };
})();
