// The cycle as a picture over time: a row for each stop (grid), in which patterns tell what the
// time goes to; the transfers above; joints as traces below. A cursor shows where the
// clockwork stands, and moves it. What the picture says stands in a table, too.
//
//   const t = timeline.open(host, clock, { point });    fills an empty element; clock is a clockwork; point may be left
//                                        out: point(i) says over which move, from 0, the pointer is, point(null) that it left
//   t.draw(), t.zoom(times), t.whole(), t.close()
// Pointer: press and drag sets the cursor (with a finger, in the ruler: elsewhere it scrolls), the wheel
// with Ctrl zooms. Keys on the picture: arrows a move, Page a transfer, Home, End, + and - zoom.
const timeline = (() => {
  "use strict";
  const gap = 4, strip = 64, wide = 620;           // px
  const mostRows = 9, closest = 240, widest = 4e6; // rows of stops; px a second; px

  function element(parent, name, attributes, text) {
    const e = document.createElement(name);
    for (const [k, v] of Object.entries(attributes || {})) e.setAttribute(k, v);
    if (text !== undefined) e.textContent = text;
    parent.append(e);
    return e;
  }

  function open(host, clock, { point: pointed } = {}) {
    host.textContent = "";
    host.classList.add("timeline");
    const t = { host, clock, pointed: pointed || (() => {}), scale: 0, left: 0 };
    build(t);
    take(t);
    const again = () => plan(t);
    t.watch = new ResizeObserver(() => { fit(t); again(); });
    t.watch.observe(t.room);
    const dark = matchMedia("(prefers-color-scheme: dark)");
    dark.addEventListener("change", again);
    clock.on("change", () => { if (clock.states !== t.states) { take(t); again(); } follow(t); });
    clock.on("move", () => tell(t));
    clock.on("play", () => tell(t));
    pointer(t);
    keys(t);
    tell(t);
    return {
      draw: again, zoom: (times) => zoom(t, times), whole: () => whole(t), seen: () => seen(t),
      close: () => { t.watch.disconnect(); dark.removeEventListener("change", again); cancelAnimationFrame(t.frame); host.textContent = ""; },
    };
  }

  // ---- the elements ---------------------------------------------------------------

  function build(t) {
    t.none = element(t.host, "p", { class: "quiet", hidden: "" }, "There is no time to show: the plan makes no move that takes any.");
    t.all = element(t.host, "div", {});
    const tools = element(t.all, "div", { class: "timeline-tools" });
    const button = (text, label, f) => element(tools, "button", { type: "button", "aria-label": label }, text).addEventListener("click", f);
    button("+", "Timeline: closer", () => zoom(t, 2));
    button("\u2212", "Timeline: farther", () => zoom(t, 0.5));
    button("Whole", "Timeline: whole job", () => whole(t));
    t.told = element(tools, "p", { class: "timeline-told quiet" });
    t.room = element(t.all, "div", { class: "timeline-room", role: "slider", tabindex: "0", "aria-label": "Time", "aria-orientation": "horizontal" });
    t.space = element(t.room, "div", { class: "timeline-space" });
    t.canvas = element(t.space, "canvas", { "aria-hidden": "true" });
    t.ruler = element(t.space, "div", { class: "timeline-ruler" });
    t.cursor = element(t.space, "div", { class: "timeline-cursor" });
    t.legend = element(t.all, "ul", { class: "timeline-legend" });
    t.joints = element(t.all, "fieldset", { class: "timeline-joints", hidden: "" });
    const more = element(t.all, "details", {});
    element(more, "summary", {}, "The times as a table");
    t.table = element(more, "section", { class: "wide", "aria-label": "Times", tabindex: "0" });
  }

  // take reads the scene that the clockwork has now.
  function take(t) {
    const fresh = t.states === undefined;
    t.states = t.clock.states;
    t.spent = spending.of(t.states);
    t.traces = traces.of(t.states);
    t.total = t.states.drawn[t.states.n];
    const none = !(t.total > 0);
    t.none.hidden = !none;
    t.all.hidden = none;
    rows(t);
    jointBoxes(t);
    t.table.textContent = "";
    if (!none) timetable.fill(t.table, t.spent, t.traces);
    t.room.setAttribute("aria-valuemin", 0);
    t.room.setAttribute("aria-valuemax", t.states.n);
    if (fresh || t.fitted) t.scale = 0;
    fit(t);
  }
  // rows are the stops that have one of their own: the first ones, and one for all others.
  function rows(t) {
    const { stops } = t.spent;
    const own = stops.length > mostRows ? mostRows - 1 : stops.length;
    t.rowOf = stops.map((_, i) => Math.min(i, own));
    t.rows = stops.slice(0, own).map((s) => ({ name: s.name, part: s.part }));
    if (own < stops.length) t.rows.push({ name: `${stops.length - own} other grids`, part: "" });
  }
  function jointBoxes(t) {
    const names = t.traces.joints.map((j) => j.name).join("\n");
    t.joints.hidden = !t.traces.joints.length;
    if (names === t.jointNames) return; // what is ticked stays as it is
    t.jointNames = names;
    t.joints.textContent = "";
    element(t.joints, "legend", {}, "Joints shown");
    t.ticks = t.traces.joints.map((j) => {
      const label = element(t.joints, "label", { class: "check" }), box = element(label, "input", { type: "checkbox" });
      box.checked = true;
      label.append(j.name);
      box.addEventListener("change", () => plan(t));
      return box;
    });
  }
  const shownJoints = (t) => t.traces.joints.filter((_, i) => t.ticks && t.ticks[i] && t.ticks[i].checked);

  // ---- where things are -----------------------------------------------------------

  const gutter = (t) => (t.width < wide ? 0 : 108);
  const across = (t) => Math.max(50, t.width - gutter(t) - 8); // px for the whole job, when it is whole
  const least = (t) => across(t) / Math.max(1e-3, t.total);
  const most = (t) => Math.max(least(t), Math.min(closest, widest / Math.max(1e-3, t.total)));
  const xOf = (t, seconds) => gutter(t) + seconds * t.scale - t.left; // on the canvas
  const timeAt = (t, x) => Math.max(0, Math.min(t.total, (x - gutter(t) + t.left) / t.scale));

  // fit keeps the whole job in sight unless somebody looks closer.
  function fit(t) {
    t.width = t.room.clientWidth;
    t.fitted = !t.scale || t.scale <= least(t) * 1.0001;
    t.scale = t.fitted ? least(t) : Math.min(t.scale, most(t));
    t.space.style.width = t.fitted ? "100%" : `${Math.ceil(gutter(t) + 8 + t.total * t.scale)}px`;
  }
  function zoom(t, times) {
    const at = t.clock.seconds(), x = Math.max(gutter(t), Math.min(t.width, xOf(t, at)));
    zoomAt(t, times, at, x);
  }
  // zoomAt keeps a time where it is in the picture.
  function zoomAt(t, times, at, x) {
    t.scale = Math.max(least(t), Math.min(most(t), t.scale * times));
    fit(t);
    t.room.scrollLeft = gutter(t) + at * t.scale - x;
    plan(t);
  }
  function whole(t) {
    t.scale = 0;
    fit(t);
    plan(t);
  }

  // ---- the picture ------------------------------------------------------------------

  // plan draws with the next picture of the screen, once.
  function plan(t) {
    cancelAnimationFrame(t.frame);
    t.frame = requestAnimationFrame(() => draw(t));
  }
  function draw(t) {
    if (t.all.hidden || !t.width) return;
    t.left = t.room.scrollLeft;
    const where = { from: gutter(t), to: t.width, narrow: !gutter(t), x: (s) => xOf(t, s), time: (x) => timeAt(t, x) };
    const joints = shownJoints(t), each = strip + (where.narrow ? timedrawing.letters : 0), rows = timedrawing.high(t, where);
    const height = rows + gap + joints.length * each + gap, look = hatching.colours(t.host);
    const g = hatching.sized(t.canvas, t.width, height);
    t.space.style.height = `${height}px`;
    timedrawing.draw(g, look, t, where);
    joints.forEach((j, i) => traces.draw(g, look, j, { ...where, top: rows + gap + (i + 1) * each - strip, height: strip - 8 }));
    legend(t, look);
    cursor(t);
  }
  // legend says what the patterns mean that are in the picture.
  function legend(t, look) {
    const used = spending.kinds.map((_, i) => i).filter((i) => t.spent.sum(i).moves), key = [used, devicePixelRatio, ...Object.values(look)].join();
    if (t.legendKey === key) return;
    t.legendKey = key;
    t.legend.textContent = "";
    for (const i of used) {
      const item = element(t.legend, "li", {}), g = hatching.sized(element(item, "canvas", { "aria-hidden": "true" }), 26, 16);
      g.fillStyle = hatching.fills(g, look)[i];
      g.fillRect(0.5, 0.5, 25, 15);
      g.strokeStyle = look.ink;
      g.strokeRect(0.5, 0.5, 25, 15);
      item.append(` ${spending.kinds[i].says}`);
    }
  }

  // ---- the cursor -------------------------------------------------------------------

  function cursor(t) {
    const x = gutter(t) + t.clock.seconds() * t.scale;
    t.cursor.style.transform = `translateX(${x}px)`;
    t.cursor.hidden = x - t.room.scrollLeft < gutter(t) - 1;
  }
  // follow keeps the cursor in sight, a page at a time.
  function follow(t) {
    if (t.all.hidden || !t.width) return;
    const x = gutter(t) + t.clock.seconds() * t.scale, left = t.room.scrollLeft;
    if (!t.fitted && !t.dragging && (x < left + gutter(t) || x > left + t.width - 12)) t.room.scrollLeft = x - gutter(t) - 0.1 * across(t);
    cursor(t);
    if (t.traces.joints.length) traceNow(t);
  }
  function traceNow(t) {
    const { joints } = t.clock.state;
    shownJoints(t).forEach((j) => { j.now = joints ? joints[j.n] : null; });
    t.toldJoints = joints ? t.traces.joints.map((j) => `${j.name} ${j.said(joints[j.n])}`).join(", ") : "";
    if (!t.pointing) t.told.textContent = t.toldJoints;
  }
  function tell(t) {
    const { clock } = t, { now } = clock;
    // While it plays, who listens hears of transfers from the clockwork, not of every move.
    if (clock.playing) return;
    t.room.setAttribute("aria-valuenow", now);
    t.room.setAttribute("aria-valuetext", `${clock.telling.sentence(now)}; ${clock.telling.clock(clock.at.n, clock.at.t)}`);
  }

  function pointer(t) {
    const local = (e) => e.clientX - t.canvas.getBoundingClientRect().left;
    const set = (e) => t.clock.seekTime(timeAt(t, local(e)));
    // A finger that scrolls is taken away by the browser; one that is lifted before has tapped.
    const end = (e) => { if (t.tapped && e.type === "pointerup") set(e); t.dragging = t.tapped = false; };
    const down = (e) => {
      if (e.button !== 0) return;
      t.tapped = e.pointerType === "touch" && e.target !== t.ruler;
      if (t.tapped) return;
      t.dragging = true;
      e.target.setPointerCapture(e.pointerId);
      set(e);
    };
    t.space.addEventListener("pointerdown", down);
    t.space.addEventListener("pointermove", (e) => { if (t.dragging) set(e); point(t, local(e)); });
    t.space.addEventListener("pointerup", end);
    t.space.addEventListener("pointercancel", end);
    t.space.addEventListener("pointerleave", () => { t.pointing = false; t.told.textContent = t.toldJoints || ""; t.pointed(null); });
    t.room.addEventListener("scroll", () => plan(t));
    t.room.addEventListener("wheel", (e) => {
      if (!e.ctrlKey) return;
      e.preventDefault();
      zoomAt(t, Math.exp(-e.deltaY / 300), timeAt(t, local(e)), local(e));
    }, { passive: false });
  }
  // point tells the move under the pointer.
  function point(t, x) {
    if (x < gutter(t)) return;
    t.pointing = true;
    const { states: s } = t, from = s.place(timeAt(t, x)), to = s.place(timeAt(t, x + 1)), n = Math.min(from.n, s.n - 1);
    t.pointed(n);
    const many = to.n - n > 2 ? ` (one of ${to.n - n} here)` : "", kind = spending.kinds[t.spent.doing[n]];
    const long = s.moves.unknown.has(n) ? "of unknown length" : telling.seconds(s.moves.seconds(n));
    t.told.textContent = `${t.clock.telling.sentence(n + 1)}, ${long}${many}. ${t.spent.stops[t.spent.stop[n]].name}${kind ? `, ${kind.name}` : ""}; transfer ${t.clock.telling.transfer(s.moves.transfer(n))}`;
  }
  function keys(t) {
    const { clock } = t;
    const by = (n) => clock.seek(Math.max(0, Math.min(clock.states.n, n)));
    const leap = (on) => {
      const list = clock.states.transfers, one = on ? list.find((x) => x.first + 1 > clock.now) : list.findLast((x) => x.first + 1 < clock.now);
      by(one ? one.first + 1 : on ? clock.states.n : 0);
    };
    const acts = {
      ArrowRight: () => by(clock.now + 1), ArrowUp: () => by(clock.now + 1), ArrowLeft: () => by(clock.now - 1), ArrowDown: () => by(clock.now - 1),
      PageUp: () => leap(true), PageDown: () => leap(false), Home: () => by(0), End: () => by(clock.states.n),
      "+": () => zoom(t, 2), "=": () => zoom(t, 2), "-": () => zoom(t, 0.5),
    };
    t.room.addEventListener("keydown", (e) => {
      if (!acts[e.key] || e.ctrlKey || e.altKey || e.metaKey) return;
      e.preventDefault();
      acts[e.key]();
    });
  }
  // seen is what the picture holds, for tests.
  const seen = (t) => ({
    rows: t.rows, total: t.total, scale: t.scale, width: t.width, left: t.room.scrollLeft, fitted: t.fitted, cursor: gutter(t) + t.clock.seconds() * t.scale,
    joints: shownJoints(t).map((j) => j.name), transfers: t.states.transfers.length,
  });
  return { open };
})();
