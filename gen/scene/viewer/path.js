// The path of the tool's tip: travels dash-dotted, straights solid, each a line between its
// ends, whatever a travel does in between.
const path = (() => {
  "use strict";
  const many = 60; // transfers

  function open(scene) {
    const m = scene.moves, set = lines.open(), moveOf = [];
    const travel = m.kinds.indexOf("travel"), straight = m.kinds.indexOf("straight");
    const at = (i) => (i < 0 ? m.from : [m.at[3 * i], m.at[3 * i + 1], m.at[3 * i + 2]]);
    const known = (p) => p && p.every(Number.isFinite);
    const isMotion = (i) => m.kind[i] === travel || m.kind[i] === straight;
    // first is the first motion: what comes before it has no known place.
    let first = 0;
    while (first < m.n && !isMotion(first)) first++;

    // choose draws the path of some transfer, of all ("all"), of none ("none"), or of the one that
    // the move after n belongs to ("now").
    let drawn = null;
    function choose(which, n = 0) {
      const own = which === "now" ? m.transfer[Math.min(n, m.n - 1)] || 0 : which.transfer;
      const now = `${which} ${own}`;
      if (now === drawn) return false;
      drawn = now;
      set.clear();
      set.thin = which === "all" && m.transfers > many ? 0.5 : 1;
      moveOf.length = 0;
      if (which !== "none") draw((i) => which === "all" || m.transfer[i] === own);
      return true;
    }
    function draw(wanted) {
      for (let i = 0; i < m.n; i++) {
        if (!isMotion(i) || !wanted(i)) continue;
        const from = i > first ? at(i - 1) : m.from;
        if (!known(from)) continue;
        set.add(from, at(i), m.kind[i] === straight ? looks.line.straight : looks.line.travel);
        moveOf.push(i);
      }
    }
    // light makes the lines of some moves broad.
    function light(isLit) {
      moveOf.forEach((i, n) => set.mark(n, isLit(i) ? 2 : 0));
    }
    // usual is what is shown unless somebody chooses: paths of many transfers hide what they are about.
    const usual = m.transfers > many ? "now" : "all";
    return { usual, set, moveOf, choose, light, at, isMotion, first };
  }
  return { open, many };
})();
