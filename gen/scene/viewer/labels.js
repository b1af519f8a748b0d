// Short texts beside things. Each is drawn once into a sheet of texts, from which the
// picture takes it at its place; of labels that would lie over each other the weightier
// one is shown.
const labels = (() => {
  "use strict";
  const most = 70, longest = 40, side = 1024;

  function open() {
    const canvas = document.createElement("canvas"), pen = canvas.getContext("2d");
    canvas.width = canvas.height = side;
    const places = new Map();
    const sheet = { canvas, version: 0, quads: [], shown: [] };
    let x = 0, y = 0, tall = 0, look = "";

    function clear() {
      places.clear();
      pen.clearRect(0, 0, side, side);
      x = y = tall = 0;
    }
    const css = (c) => `rgb(${c.map((v) => Math.round(v * 255)).join(" ")})`;
    // place is where a text stands on the sheet; null when there is no room left.
    function place(label, size, colours) {
      const text = label.text.slice(0, longest), key = `${label.strong ? "b" : ""}${label.colour || "ink"} ${text}`;
      if (places.has(key)) return places.get(key);
      pen.font = `${label.strong ? "bold " : ""}${12 * size}px Arial, "Liberation Sans", "DejaVu Sans", sans-serif`;
      const w = Math.ceil(pen.measureText(text).width) + 6 * Math.ceil(size), h = Math.ceil(17 * size);
      if (x + w > side) { x = 0; y += tall; tall = 0; }
      if (y + h > side || w > side) return null;
      pen.textBaseline = "middle";
      pen.lineJoin = "round";
      pen.lineWidth = 4 * size;
      pen.strokeStyle = css(colours.ground);
      pen.strokeText(text, x + 3 * size, y + h / 2);
      pen.fillStyle = css(colours[label.colour || "ink"]);
      pen.fillText(text, x + 3 * size, y + h / 2);
      const p = { x, y, w, h };
      places.set(key, p);
      x += w;
      tall = Math.max(tall, h);
      sheet.version++;
      return p;
    }
    // lay chooses among labels and says where they go. m is the camera's matrix, size how
    // many pixels of the picture one of the page has.
    function lay(all, c, m, size, colours) {
      const now = `${size} ${Object.values(colours).join()}`;
      if (now !== look || y > side * 0.8) clear();
      look = now;
      sheet.quads = [];
      sheet.shown = [];
      const taken = [];
      for (const label of [...all].sort((a, b) => (b.weight || 0) - (a.weight || 0))) {
        if (sheet.shown.length >= most) break;
        const seen = c.pixel(m, label.at);
        if (!seen || Math.abs(seen[2]) > 1 || (label.from && endOn(c, m, label.from, seen))) continue;
        const p = place(label, size, colours);
        if (p) put(label, p, seen, size, taken);
      }
      return sheet;
    }
    // endOn is true for the letter of an axis that is seen from its end.
    function endOn(c, m, from, seen) {
      const origin = c.pixel(m, from);
      return !origin || Math.hypot(origin[0] - seen[0], origin[1] - seen[1]) < 12;
    }
    function put(label, p, seen, size, taken) {
      const left = Math.round(seen[0] * size + (label.shift ? label.shift[0] * size : 0) - p.w / 2);
      const top = Math.round(seen[1] * size + (label.shift ? label.shift[1] * size : 0) - p.h / 2);
      const box = [left, top, left + p.w, top + p.h];
      if (taken.some((b) => box[0] < b[2] && box[2] > b[0] && box[1] < b[3] && box[3] > b[1])) return;
      taken.push(box);
      sheet.shown.push(label.text);
      const a = [box[0], box[1], p.x, p.y], b = [box[2], box[1], p.x + p.w, p.y], c = [box[2], box[3], p.x + p.w, p.y + p.h], d = [box[0], box[3], p.x, p.y + p.h];
      sheet.quads.push(...a, ...b, ...c, ...a, ...c, ...d);
    }
    return { lay };
  }
  return { open };
})();
