// The transfers of a list of moves: transfers.of(moves) gives what states says of them.
const transfers = (() => {
  "use strict";

  function of(moves) {
    const ends = new Map(), list = [], byNumber = new Map();
    for (let i = 0; i < moves.n; i++) {
      const begins = moves.transfer(i), n = moves.carries(i);
      if (!begins) continue;
      if (!byNumber.has(begins)) {
        const one = { n: begins, last: begins, first: i, end: i + 1 };
        byNumber.set(begins, one);
        list.push(one);
      }
      const one = byNumber.get(begins);
      one.end = i + 1;
      if (!moves.works(i)) continue;
      const e = ends.get(n) || {};
      e[moves.kind(i) === "grip" ? "from" : "to"] = moves.slot(i);
      e.part = moves.some("part", i) || e.part;
      e.end = i + 1;
      ends.set(n, e);
      one.last = Math.max(one.last, n);
    }
    const transfer = (n) => byNumber.get(n) || list.findLast((one) => one.n <= n && n <= one.last) || null;
    const transferAt = (state) => (state > 0 ? byNumber.get(moves.transfer(state - 1)) || null : null);
    return {
      transfers: list, transfer, transferAt, ends: (n) => ends.get(n) || null,
      before: (n) => { const one = transfer(n); return one ? one.first : 0; },
      after: (n) => { const one = byNumber.get(n), e = ends.get(n); return Math.max(one ? one.end : 0, e ? e.end : 0); },
    };
  }
  return { of };
})();
