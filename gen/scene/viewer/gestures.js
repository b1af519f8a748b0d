// Mouse, fingers and keys: each turns the camera, or points at something.
const gestures = (() => {
  "use strict";
  const help = [
    ["Turn", "drag, one finger, arrow keys"],
    ["Move", "drag with the right or middle button, Shift and drag, two fingers, Shift and arrow keys"],
    ["Nearer, farther", "wheel, two fingers apart or together, + and \u2212"],
    ["See all of it", "Home, double click"],
    ["From above, from the front, from the side, as the operator", "A, F, S, O"],
    ["Choose", "click, tap, Enter for what is in the middle"],
    ["Higher, lower", "Page Up, Page Down"],
    ["Let go of what is chosen or measured", "Esc"],
  ];

  // listen calls does.{change, look, hover, choose, leave, escape} for what happens on canvas. With
  // page, the canvas stands in a page that scrolls: the wheel is only taken after a click.
  function listen(canvas, c, does, page) {
    const down = new Map(); // pointers that are down, by number
    let moved = 0, spread = 0, middle = null;
    const place = (e) => {
      const r = canvas.getBoundingClientRect();
      return [e.clientX - r.left, e.clientY - r.top];
    };
    const both = () => {
      const [a, b] = [...down.values()];
      return { middle: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], spread: Math.hypot(a[0] - b[0], a[1] - b[1]) };
    };
    canvas.style.touchAction = "none";

    canvas.addEventListener("pointerdown", (e) => {
      canvas.setPointerCapture(e.pointerId);
      down.set(e.pointerId, place(e));
      if (down.size === 1) moved = 0;
      if (down.size === 2) ({ middle, spread } = both());
    });
    canvas.addEventListener("pointermove", (e) => {
      const now = place(e), before = down.get(e.pointerId);
      if (!before) { does.hover(...now); return; }
      const dx = now[0] - before[0], dy = now[1] - before[1];
      down.set(e.pointerId, now);
      moved += Math.abs(dx) + Math.abs(dy);
      if (moved < 4) return;
      if (down.size === 2) pinch();
      else if (down.size === 1) drag(e, dx, dy);
    });
    function pinch() {
      const now = both();
      c.pan(now.middle[0] - middle[0], now.middle[1] - middle[1]);
      if (now.spread > 0 && spread > 0) c.zoom(spread / now.spread, ...now.middle);
      ({ middle, spread } = now);
      does.change();
    }
    function drag(e, dx, dy) {
      if (e.shiftKey || (e.buttons & 6)) c.pan(dx, dy); else c.orbit(dx, dy);
      does.change();
    }
    const up = (e) => {
      const at = down.get(e.pointerId);
      down.delete(e.pointerId);
      if (at && down.size === 0 && moved < 4 && e.type === "pointerup" && e.button === 0) does.choose(...at);
    };
    canvas.addEventListener("pointerup", up);
    canvas.addEventListener("pointercancel", up);
    canvas.addEventListener("pointerleave", () => does.leave());
    canvas.addEventListener("contextmenu", (e) => e.preventDefault());
    canvas.addEventListener("dblclick", () => does.look("fit"));
    canvas.addEventListener("wheel", (e) => {
      if (page && document.activeElement !== canvas && !e.ctrlKey) return;
      e.preventDefault();
      const lines = e.deltaMode === 1 ? 16 : e.deltaMode === 2 ? 400 : 1;
      c.zoom(Math.exp(Math.max(-300, Math.min(300, e.deltaY * lines)) * 0.0015), ...place(e));
      does.change();
    }, { passive: false });
    canvas.addEventListener("keydown", (e) => { if (key(e)) e.preventDefault(); });

    // key says whether a key was for the view.
    function key(e) {
      if (e.ctrlKey || e.altKey || e.metaKey) return false;
      const arrows = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }, way = arrows[e.key];
      const views = { a: "above", f: "front", s: "side", o: "operator", Home: "fit" };
      if (way && e.shiftKey) c.pan(-way[0] * 40, -way[1] * 40);
      else if (way) c.orbit(-way[0] * 15, -way[1] * 15);
      else if (e.key === "+" || e.key === "=") c.zoom(0.8);
      else if (e.key === "-" || e.key === "\u2212") c.zoom(1.25);
      else if (e.key === "PageUp") c.pan(0, 60);
      else if (e.key === "PageDown") c.pan(0, -60);
      else if (views[e.key] || views[e.key.toLowerCase()]) { does.look(views[e.key] || views[e.key.toLowerCase()]); return true; }
      else if (e.key === "Enter") { does.choose(c.size[0] / 2, c.size[1] / 2); return true; }
      else if (e.key === "Escape") { does.escape(); return true; }
      else return false;
      does.change();
      return true;
    }
  }
  return { listen, help };
})();
