// What a picture on a canvas is drawn with: the page's colours, and patterns that tell the kinds
// of doing apart without them.
const hatching = (() => {
  "use strict";

  // sized is the context of a canvas of so many pixels of the page, wiped clean.
  function sized(canvas, width, height) {
    const dots = devicePixelRatio || 1, w = Math.round(width * dots), h = Math.round(height * dots);
    if (canvas.width !== w || canvas.height !== h) {
      canvas.width = w;
      canvas.height = h;
      canvas.style.width = `${width}px`;
      canvas.style.height = `${height}px`;
    }
    const g = canvas.getContext("2d");
    g.setTransform(dots, 0, 0, dots, 0, 0);
    g.clearRect(0, 0, width, height);
    g.font = "12px Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif";
    g.textBaseline = "middle";
    return g;
  }
  function colours(host) {
    const style = getComputedStyle(host), look = {};
    for (const name of ["ground", "ink", "quiet", "rule", "faint", "accent", "keep", "part", "due", "tool"]) look[name] = style.getPropertyValue(`--${name}`).trim() || "gray";
    return look;
  }

  // fills are what the kinds of spending are filled with, in their order.
  function fills(g, look) {
    const dot = (h) => { h.fillStyle = look.ink; h.beginPath(); h.arc(3, 3, 1.2, 0, 7); h.fill(); };
    return [
      tile(g, 8, look.ground, strokes(look.accent, 1.6, [0, 2, 5, 2], [0, 6, 5, 6])),
      look.accent,
      tile(g, 6, look.part, dot),
      tile(g, 5, look.due, strokes(look.ink, 1, [0, 2.5, 5, 2.5])),
      tile(g, 8, look.ground, strokes(look.keep, 1.6, [-2, 10, 10, -2], [-2, 2, 2, -2], [6, 10, 10, 6])),
      tile(g, 8, look.ground, strokes(look.tool, 1.4, [-2, 10, 10, -2], [-2, -2, 10, 10])),
    ];
  }
  function tile(g, size, back, f) {
    const c = document.createElement("canvas");
    c.width = c.height = Math.round(size * (devicePixelRatio || 1));
    const h = c.getContext("2d");
    h.scale(c.width / size, c.width / size);
    h.fillStyle = back;
    h.fillRect(0, 0, size, size);
    f(h);
    const p = g.createPattern(c, "repeat");
    p.setTransform(new DOMMatrix().scale(size / c.width));
    return p;
  }
  const strokes = (colour, width, ...lines) => (h) => {
    h.strokeStyle = colour;
    h.lineWidth = width;
    h.beginPath();
    for (const [a, b, c, d] of lines) { h.moveTo(a, b); h.lineTo(c, d); }
    h.stroke();
  };
  return { sized, colours, fills };
})();
