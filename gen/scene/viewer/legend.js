// What the signs of the view mean: a sample and words each, and what a sign does not say.
const legend = (() => {
  "use strict";
  const rows = [
    ["solid", "full", "slot that holds a part"],
    ["solid", "due", "slot that a part still comes to"],
    ["solid", "free", "slot that is free"],
    ["solid", "keep", "keep-out box: nothing may enter it"],
    ["solid", "tool", "tool; the cross is its tip"],
    ["line", "straight", "straight motion"],
    ["line", "travel", "travel, drawn as a line between its ends, whatever the arm does in between"],
    ["line", "axis", "frame; X, Y and Z are at the ends of its axes"],
    ["solid", "swept", "room of one transfer: exact for lines without a turn, turns in steps of ten degrees, travels as lines; the arm's links are not in it"],
    ["line", "thin", "limit of the arm's reach on the ground; named poses"],
    ["line", "here", "two scenes: slot that only the first has"],
    ["line", "there", "two scenes: slot that only the second has, or where it has moved to"],
  ];
  const space = "http://www.w3.org/2000/svg", colour = (name) => `var(--${name})`;

  // sample is a small picture; its colours are the page's.
  function sample(kind, name) {
    const box = document.createElementNS(space, "svg"), sign = document.createElementNS(space, kind === "line" ? "line" : "rect");
    const look = kind === "line" ? looks.types[looks.line[name]] : looks.solids[looks.solid[name]];
    for (const [k, v] of Object.entries({ width: 44, height: 16, viewBox: "0 0 44 16", "aria-hidden": "true" })) box.setAttribute(k, v);
    for (const [k, v] of Object.entries(kind === "line" ? { x1: 1, x2: 43, y1: 8, y2: 8 } : { x: 14, y: 1, width: 14, height: 14 })) sign.setAttribute(k, v);
    sign.style.stroke = colour(look.colour || look.line);
    sign.style.strokeWidth = `${look.width}px`;
    sign.style.strokeDasharray = look.dashes ? look.dashes.join(" ") : look.pattern === 1 ? "4 2.5" : "none";
    sign.style.fill = kind === "line" ? "none" : colour(look.fill);
    sign.style.fillOpacity = look.pattern === 2 ? 0.15 : look.pale ? 1 - look.pale : look.opacity;
    box.append(sign);
    return box;
  }
  // fill writes the legend into a list.
  function fill(list) {
    list.replaceChildren(...rows.map(([kind, name, words]) => {
      const item = document.createElement("li");
      item.append(sample(kind, name), ` ${words}`);
      return item;
    }));
  }
  return { fill };
})();
