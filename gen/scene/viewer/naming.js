// The labels of grids and their slots, as far as there is room: names of grids, letters of rows and
// numbers of columns where slots are seen large enough, slots by name where they are larger still.
const naming = (() => {
  "use strict";
  const enough = 15, plenty = 42, most = 60; // pixels from slot to slot, and labels of a grid

  // of gives the labels of all grids from where the camera is.
  const of = (stock, c) => stock.grids.flatMap((own) => (own.n ? [title(own), ...ends(own, c)] : []));

  function title(own) {
    const tops = own.tiles.map((t) => t.bounds), at = [0, 0, 0];
    for (let k = 0; k < 3; k++) {
      const low = Math.min(...tops.map((b) => b[0][k])), high = Math.max(...tops.map((b) => b[1][k]));
      at[k] = k ? high : (low + high) / 2;
    }
    return { text: own.grid.name, at, weight: 5, strong: true, shift: [0, -6] };
  }
  // step is how many pixels the first slots of a grid are apart, at most.
  function step(own, c) {
    const near = Math.max(...own.tiles.map((t) => c.near(t.bounds)));
    return own.n > 1 ? near * vector.length(vector.minus(own.at(1), own.at(0))) : 0;
  }
  function ends(own, c) {
    const apart = step(own, c), out = [];
    if (apart < enough) return out;
    for (let k = 0; k < own.n && out.length < most; k++) {
      const index = own.indexOf(k), [row, column, layer] = slots.rowColumnLayer(own.grid, index);
      if (layer > 0 || own.gone[k]) continue;
      if (apart >= plenty) { out.push(beside(own, k, slots.label(own.grid, index), 0)); continue; }
      if (column === 0) out.push(beside(own, k, slots.letters(row), -1));
      if (row === 0) out.push(beside(own, k, String(column + 1), 1));
    }
    return out;
  }
  // beside puts a text next to the outermost slots: before the first column, under the first row.
  function beside(own, k, text, side) {
    const { from, to } = own.mesh, q = own.q(k), top = own.there[k] ? to[2] : from[2];
    const off = side < 0 ? [from[0] * 1.7, 0, from[2]] : side > 0 ? [0, from[1] * 1.7, from[2]] : [0, 0, top];
    return { text, at: vector.plus(own.at(k), vector.turn(q, off)), weight: side ? 2.5 : 1 };
  }
  return { of };
})();
