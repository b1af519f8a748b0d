
// The bars between panes: dragged, or moved by the arrow keys (the window splitter of
// WAI-ARIA). Each sets a share, in per cent, as a property that the style reads.
const splitters = (() => {
  "use strict";

  const least = 20, most = 80, step = 2;

  function open(bar, panes) {
    const across = bar.getAttribute("aria-orientation") === "vertical", name = `--${bar.dataset.share}`;
    bar.setAttribute("aria-valuemin", least);
    bar.setAttribute("aria-valuemax", most);
    function set(share) {
      share = Math.max(least, Math.min(most, share));
      bar.setAttribute("aria-valuenow", Math.round(share));
      panes.style.setProperty(name, `${share}fr`);
      panes.style.setProperty(`${name}-rest`, `${100 - share}fr`);
    }
    bar.addEventListener("pointerdown", (e) => bar.setPointerCapture(e.pointerId));
    bar.addEventListener("pointermove", (e) => {
      if (!bar.hasPointerCapture(e.pointerId)) return;
      const box = panes.getBoundingClientRect();
      set(100 * (across ? (e.clientX - box.left) / box.width : (e.clientY - box.top) / box.height));
    });
    bar.addEventListener("keydown", (e) => {
      const now = Number(bar.getAttribute("aria-valuenow"));
      const to = { ArrowLeft: now - step, ArrowUp: now - step, ArrowRight: now + step, ArrowDown: now + step, Home: least, End: most }[e.key];
      if (to === undefined) return;
      e.preventDefault();
      set(to);
    });
    set(Number(bar.getAttribute("aria-valuenow")));
  }

  return { open };
})();
