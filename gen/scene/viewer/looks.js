// What things look like: colours are the page's own (custom properties of its style sheet),
// and each look and each line type differs from its neighbours without colour, too.
const looks = (() => {
  "use strict";
  const names = ["ground", "ink", "quiet", "rule", "faint", "accent", "keep", "part", "due", "tool"];

  // Of solids: fill, outline, half the outline's width in pixels, opacity, and a pattern:
  // 1 dashed outline, 2 hatched, 3 nothing but an outline, 4 nothing but a dashed one.
  const solids = [
    { name: "full", fill: "part", line: "ink", width: 0.9, opacity: 1 },
    { name: "free", fill: "ground", line: "quiet", width: 0.8, opacity: 1, pattern: 1 },
    { name: "due", fill: "due", line: "ink", width: 0.8, opacity: 1 },
    { name: "keep", fill: "keep", line: "keep", width: 1.1, opacity: 0.55, pattern: 2 },
    { name: "tool", fill: "tool", line: "tool", width: 1, opacity: 1, pale: 0.75 },
    { name: "arm", fill: "faint", line: "ink", width: 0.9, opacity: 1 },
    { name: "held", fill: "part", line: "ink", width: 1.4, opacity: 1 },
    { name: "swept", fill: "tool", line: "tool", width: 0.6, opacity: 0.22 },
    { name: "free above", fill: "ground", line: "quiet", width: 0.6, opacity: 1, pattern: 4 },
    { name: "due above", fill: "ground", line: "ink", width: 0.6, opacity: 1, pattern: 3 },
  ];
  // Of lines: colour, width in pixels, dashes in pixels (on, off, on, off), as gen/draw has them.
  const types = [
    { name: "ground", colour: "rule", width: 1 },
    { name: "axis", colour: "ink", width: 2 },
    { name: "travel", colour: "accent", width: 1.3, dashes: [13, 3, 2, 3] },
    { name: "straight", colour: "accent", width: 2.2 },
    { name: "keep", colour: "keep", width: 2 },
    { name: "tool", colour: "tool", width: 1.5 },
    { name: "thin", colour: "quiet", width: 1, dashes: [5, 3, 5, 3] },
    { name: "measure", colour: "ink", width: 2 },
    { name: "rod", colour: "ink", width: 4 },
    { name: "lit", colour: "accent", width: 5 },
    { name: "here", colour: "ink", width: 2, dashes: [6, 4, 6, 4] },
    { name: "there", colour: "accent", width: 2, dashes: [2, 3, 2, 3] },
    { name: "moved", colour: "accent", width: 2 },
    { name: "section", colour: "keep", width: 1.5, dashes: [13, 3, 2, 3] },
    { name: "swept", colour: "tool", width: 1, dashes: [10, 2, 2, 2] },
    { name: "start", colour: "accent", width: 2 },
  ];
  const solid = Object.fromEntries(solids.map((s, i) => [s.name, i]));
  const line = Object.fromEntries(types.map((s, i) => [s.name, i]));

  // figures reads a colour of the form #rrggbb or rgb(r, g, b).
  function figures(text) {
    const hex = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(text.trim());
    if (hex) return hex.slice(1).map((x) => parseInt(x, 16) / 255);
    const parts = text.match(/[\d.]+/g);
    return parts && parts.length >= 3 ? parts.slice(0, 3).map((x) => Number(x) / 255) : [0.5, 0.5, 0.5];
  }
  // colours are those that hold for an element.
  function colours(element) {
    const style = getComputedStyle(element);
    return Object.fromEntries(names.map((n) => [n, figures(style.getPropertyValue(`--${n}`))]));
  }
  return { solids, types, solid, line, colours };
})();
