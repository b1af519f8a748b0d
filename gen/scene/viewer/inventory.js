// What is seen, in words, for those who do not see it: a short list that says how much there is of each.
const inventory = (() => {
  "use strict";
  const most = 30; // items of a kind

  const several = (n, one) => `${n} ${one}${n === 1 ? "" : "s"}`;
  const figure = (x) => x.toFixed(1).replace("-", "\u2212");
  const place = (p) => `X ${figure(p[0])}, Y ${figure(p[1])}, Z ${figure(p[2])} mm`;

  function grid(own) {
    const [rows, columns, layers] = own.grid.size, gone = own.gone.reduce((a, b) => a + b, 0), free = own.n - own.full - gone;
    const size = `${several(rows, "row")}, ${several(columns, "column")}${layers > 1 ? `, ${several(layers, "layer")}` : ""}`;
    const rest = own.grid.whole ? "" : `, of ${own.grid.count}`;
    return `grid ${own.grid.name}, ${several(own.n - gone, "slot")}${rest}: ${own.full} full, ${free} free; ${size}; part ${own.grid.part}`;
  }
  function items(scene, stock, state) {
    const out = stock.grids.slice(0, most).map(grid);
    out.push(...scene.keepouts.slice(0, most).map((k) => `keep-out box ${k.name}`));
    if (scene.frames.length) out.push(`${several(scene.frames.length, "frame")}: ${scene.frames.slice(0, most).map((f) => f.name).join(", ")}`);
    if (scene.arm) out.push(`arm of ${several(scene.arm.joints.length, "joint")}`);
    const tool = scene.tools[state.tool || 0];
    if (tool && state.tip) out.push(`tool ${tool.name}, its tip at ${place(state.tip)}, ${(state.holds || []).length ? `holding ${several(state.holds.length, "part")}` : "holding nothing"}`);
    if (scene.moves.transfers) out.push(`path of ${several(scene.moves.transfers, "transfer")}, ${several(scene.moves.n, "move")}`);
    return out;
  }
  // fill writes the list into an element.
  function fill(box, scene, stock, state) {
    const list = document.createElement("ul"), now = items(scene, stock, state);
    if (box.dataset.now === now.join("\n")) return;
    box.dataset.now = now.join("\n");
    for (const text of now) {
      const item = document.createElement("li");
      item.textContent = text;
      list.append(item);
    }
    box.replaceChildren(list);
  }
  return { fill };
})();
