// Which slot is which: rows, columns, layers and labels, as the layout counts them.
const slots = (() => {
  "use strict";

  // rowColumnLayer takes a slot's index apart, each from 0.
  function rowColumnLayer(grid, index) {
    const [rows, columns] = grid.size;
    if (!grid.rows) return [Math.floor(index / columns) % rows, index % columns, Math.floor(index / (rows * columns))];
    const perLayer = grid.rows.reduce((sum, n) => sum + n, 0);
    let row = 0, column = index % perLayer;
    while (column >= grid.rows[row]) column -= grid.rows[row++];
    return [row, column, Math.floor(index / perLayer)];
  }
  function letters(row) {
    return (row >= 26 ? letters(Math.floor(row / 26) - 1) : "") + String.fromCharCode(65 + (row % 26));
  }
  // label is as in "A1", or "A1.2" where there are layers; name has the grid before it.
  function label(grid, index) {
    const [row, column, layer] = rowColumnLayer(grid, index);
    return `${letters(row)}${column + 1}${grid.size[2] > 1 ? `.${layer + 1}` : ""}`;
  }
  const name = (grid, index) => `${grid.name} ${label(grid, index)}`;
  return { rowColumnLayer, letters, label, name };
})();
