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
  const row = 22, head = 22, gap = 4, strip = 64, wide = 620, bin = 3; // px
  const mostRows = 9, closest = 240, widest = 4e6;            // rows of stops; px a second; px
  const steps = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 30, 60, 120, 300, 600, 1200, 1800, 3600, 7200, 18000, 36000];
  const rounds = [2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000]; // of transfers that share a box

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
    button("+", "Time line: closer", () => zoom(t, 2));
    button("\u2212", "Time line: farther", () => zoom(t, 0.5));
    button("Whole", "Time line: whole job", () => whole(t));
    t.legend = element(tools, "ul", { class: "timeline-legend" });
    t.room = element(t.all, "div", { class: "timeline-room", role: "slider", tabindex: "0", "aria-label": "Time", "aria-orientation": "horizontal" });
    t.space = element(t.room, "div", { class: "timeline-space" });
    t.canvas = element(t.space, "canvas", { "aria-hidden": "true" });
    t.ruler = element(t.space, "div", { class: "timeline-ruler" });
    t.cursor = element(t.space, "div", { class: "timeline-cursor" });
    t.told = element(t.all, "p", { class: "timeline-told quiet" });
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
    if (!none) table(t.table, t);
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

  // table says what the picture does, for who cannot see it.
  function table(parent, t) {
    const { kinds } = spending, used = kinds.map((_, i) => i).filter((i) => t.spent.sum(i).moves);
    const e = element(parent, "table", {});
    element(e, "caption", {}, "What the time goes to, seconds");
    const top = element(element(e, "thead", {}), "tr", {});
    for (const text of ["Stop", "Part", ...used.map((i) => kinds[i].says), "Together"]) element(top, "th", { scope: "col" }, text);
    const body = element(e, "tbody", {});
    const line = (name, part, of) => {
      const tr = element(body, "tr", {});
      element(tr, "th", { scope: "row" }, name);
      element(tr, "td", {}, part);
      for (const i of used) element(tr, "td", {}, amount(kinds[i], of(i)));
      element(tr, "td", {}, used.reduce((sum, i) => sum + of(i).seconds, 0).toFixed(1));
    };
    t.spent.stops.forEach((s, k) => { if (t.spent.totals[k].some((x) => x.moves)) line(s.name, s.part, (i) => t.spent.totals[k][i]); });
    line("All", "", (i) => t.spent.sum(i));
    for (const j of t.traces.joints) element(parent, "p", {}, j.words);
  }
  const amount = (kind, { seconds, moves }) => (!moves ? "" : kind.unknown ? `${moves} of unknown length` : seconds.toFixed(1));

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
    const label = gutter(t) ? 0 : 13, joints = shownJoints(t); // narrow: names stand above their rows
    const height = head + row + t.rows.length * (row + label) + 2 * gap + joints.length * (strip + label) + gap;
    const g = sized(t.canvas, t.width, height), look = colours(t.host);
    t.space.style.height = `${height}px`;
    t.patterns = patterns(g, look);
    ruler(t, g, look);
    transfers(t, g, look);
    t.rows.forEach((r, i) => name(t, g, look, r, top(t, i), label));
    doings(t, g, look);
    let y = top(t, t.rows.length) + gap - label;
    for (const j of joints) {
      y += label;
      traces.draw(g, look, j, { x: (s) => xOf(t, s), time: (x) => timeAt(t, x), from: gutter(t), to: t.width, top: y, height: strip - 8, narrow: label > 0 });
      y += strip;
    }
    legend(t, look);
    cursor(t);
  }
  const top = (t, i) => head + row + gap + i * (row + (gutter(t) ? 0 : 13)) + (gutter(t) ? 0 : 13);

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
  // colours are those of the page.
  function colours(host) {
    const style = getComputedStyle(host), look = {};
    for (const name of ["ground", "ink", "quiet", "rule", "faint", "accent", "keep", "part", "due", "tool"]) look[name] = style.getPropertyValue(`--${name}`).trim() || "#808080";
    return look;
  }

  // patterns tell the kinds apart without their colours.
  function patterns(g, look) {
    const tile = (size, back, f) => {
      const c = document.createElement("canvas"), dots = devicePixelRatio || 1;
      c.width = c.height = Math.round(size * dots);
      const h = c.getContext("2d");
      h.scale(c.width / size, c.width / size);
      h.fillStyle = back;
      h.fillRect(0, 0, size, size);
      f(h);
      const p = g.createPattern(c, "repeat");
      p.setTransform(new DOMMatrix().scale(size / c.width));
      return p;
    };
    const strokes = (colour, width, ...lines) => (h) => {
      h.strokeStyle = colour;
      h.lineWidth = width;
      h.beginPath();
      for (const [a, b, c, d] of lines) { h.moveTo(a, b); h.lineTo(c, d); }
      h.stroke();
    };
    const dot = (colour) => (h) => { h.fillStyle = colour; h.beginPath(); h.arc(3, 3, 1.2, 0, 7); h.fill(); };
    return [
      tile(8, look.ground, strokes(look.accent, 1.6, [0, 2, 5, 2], [0, 6, 5, 6])),
      look.accent,
      tile(6, look.part, dot(look.ink)),
      tile(5, look.due, strokes(look.ink, 1, [0, 2.5, 5, 2.5])),
      tile(8, look.ground, strokes(look.keep, 1.6, [-2, 10, 10, -2], [-2, 2, 2, -2], [6, 10, 10, 6])),
      tile(8, look.ground, strokes(look.tool, 1.4, [-2, 10, 10, -2], [-2, -2, 10, 10])),
    ];
  }

  function ruler(t, g, look) {
    const step = steps.find((s) => s * t.scale >= 78) || steps[steps.length - 1];
    g.fillStyle = look.quiet;
    g.strokeStyle = look.rule;
    g.textAlign = "left";
    const { until, drawn, n } = t.states, from = knownAt(t, timeAt(t, gutter(t))), to = knownAt(t, timeAt(t, t.width));
    for (let s = Math.ceil(from / step - 1e-9) * step, k = 0; s <= to + 1e-9 && s <= until[n] && k < 200; s += step, k++) {
      const x = Math.round(xOf(t, drawnAt(t, s))) + 0.5;
      line(g, x, 14, x, head);
      const text = mark(s);
      if (x + g.measureText(text).width < t.width) g.fillText(text, x + 3, 11);
    }
    line(g, gutter(t), head + 0.5, Math.min(t.width, xOf(t, drawn[n])), head + 0.5);
  }
  function line(g, a, b, c, d) {
    g.beginPath();
    g.moveTo(a, b);
    g.lineTo(c, d);
    g.stroke();
  }
  // mark is a time at the ruler: "90 s" is told as "1:30".
  function mark(s) {
    if (s < 60) return `${Math.round(s * 10) / 10} s`;
    const whole = Math.round(s), two = (n) => String(n).padStart(2, "0"), h = Math.floor(whole / 3600), m = Math.floor(whole / 60) % 60;
    return h ? `${h} h ${two(m)} min` : whole % 60 ? `${m} min ${two(whole % 60)} s` : `${m} min`;
  }
  // knownAt and drawnAt change between times with and without the nominal waits.
  function knownAt(t, seconds) {
    const { until, place } = t.states, { n, t: part } = place(seconds);
    return n < t.states.n ? until[n] + (until[n + 1] - until[n]) * part : until[n];
  }
  function drawnAt(t, seconds) {
    const { until, drawn, n } = t.states;
    let lo = 0, hi = n;
    while (lo < hi) { const mid = (lo + hi + 1) >> 1; if (until[mid] <= seconds) lo = mid; else hi = mid - 1; }
    return drawn[lo] + (lo < n ? seconds - until[lo] : 0);
  }

  // transfers draws a box for each, or where they are narrow one for so many that their numbers
  // can be read.
  function transfers(t, g, look) {
    const { drawn } = t.states, list = t.states.transfers, each = t.total * t.scale / Math.max(1, list.length);
    const widest = list.length ? g.measureText(list[list.length - 1].last).width + 8 : 0;
    const per = each >= widest ? 1 : rounds.find((n) => n * each >= 2 * widest + 8) || list.length;
    if (gutter(t)) text(g, look.quiet, "Transfer", 0, head + row / 2 + 2);
    const first = firstAfter(list, (one) => xOf(t, drawn[one.end]) >= gutter(t));
    for (let box = Math.floor(first / per); box * per < list.length; box++) {
      const of = list.slice(box * per, (box + 1) * per), last = of[of.length - 1];
      const a = Math.max(gutter(t), xOf(t, drawn[of[0].first])), b = xOf(t, drawn[last.end]);
      if (a > t.width) break;
      g.fillStyle = box % 2 ? look.faint : look.due;
      g.fillRect(a, head + 3, b - a, row - 4);
      g.strokeStyle = look.quiet;
      g.lineWidth = 1;
      line(g, Math.round(a) + 0.5, head + 3, Math.round(a) + 0.5, head + row - 1);
      const words = of[0].n === last.last ? String(last.n) : `${of[0].n}\u2013${last.last}`;
      if (g.measureText(words).width + 6 < b - a) text(g, look.ink, words, a + 4, head + row / 2 + 2);
    }
  }
  function text(g, colour, words, x, y) {
    g.fillStyle = colour;
    g.textAlign = "left";
    g.fillText(words, x, y);
  }
  function firstAfter(list, holds) {
    let lo = 0, hi = list.length;
    while (lo < hi) { const mid = (lo + hi) >> 1; if (holds(list[mid])) hi = mid; else lo = mid + 1; }
    return lo;
  }
  function name(t, g, look, r, y, label) {
    g.strokeStyle = look.rule;
    g.lineWidth = 1;
    line(g, gutter(t), y + row - 1.5, Math.min(t.width, xOf(t, t.total)), y + row - 1.5);
    if (label) text(g, look.quiet, `${r.name}${r.part ? `: ${r.part}` : ""}`, 2, y - 6);
    else text(g, look.ink, shorten(g, r.name, 100), 0, y + row / 2 - 1);
  }
  function shorten(g, words, room) {
    if (g.measureText(words).width <= room) return words;
    let k = words.length;
    while (k > 1 && g.measureText(`${words.slice(0, k)}\u2026`).width > room) k--;
    return `${words.slice(0, k)}\u2026`;
  }

  // doings draws what the time goes to: a box for every move, or where there are more moves than
  // can be told apart, columns in which each kind has its part of the time.
  function doings(t, g, look) {
    const { states: s, spent } = t, first = s.place(timeAt(t, gutter(t))).n, last = s.place(timeAt(t, t.width)).n, many = last - first > 2 * t.width;
    const columns = t.rows.map(() => new Map());
    for (let i = first; i <= last && i < s.n; i++) {
      const a = Math.max(gutter(t), xOf(t, s.drawn[i])), b = Math.min(t.width, xOf(t, s.drawn[i + 1])), r = t.rowOf[spent.stop[i]];
      if (spent.doing[i] < 0 || b <= a) continue;
      if (many && b - a < bin) share(columns[r], spent.doing[i], a, b);
      else block(t, g, look, spent.doing[i], a, b, top(t, r));
    }
    columns.forEach((all, r) => { for (const [x, parts] of all) column(t, g, parts, x, top(t, r)); });
  }
  function block(t, g, look, kind, a, b, y) {
    g.fillStyle = t.patterns[kind];
    g.fillRect(a, y, b - a, row - 4);
    g.strokeStyle = look.ink;
    g.lineWidth = 1;
    if (b - a >= 8) g.strokeRect(a + 0.5, y + 0.5, b - a - 1, row - 5);
  }
  function share(all, kind, a, b) {
    for (let x = Math.floor(a / bin) * bin; x < b; x += bin) {
      if (!all.has(x)) all.set(x, new Float64Array(spending.kinds.length));
      all.get(x)[kind] += (Math.min(b, x + bin) - Math.max(a, x)) / bin;
    }
  }
  function column(t, g, parts, x, y) {
    let up = y + row - 4;
    parts.forEach((part, kind) => {
      const high = part * (row - 4);
      g.fillStyle = t.patterns[kind];
      g.fillRect(x, up - high, bin, high);
      up -= high;
    });
  }

  function legend(t, look) {
    const key = Object.values(look).join() + devicePixelRatio + spending.kinds.map((_, i) => t.spent.sum(i).moves > 0).join();
    if (t.legendKey === key) return;
    t.legendKey = key;
    t.legend.textContent = "";
    spending.kinds.forEach((kind, i) => {
      if (!t.spent.sum(i).moves) return;
      const item = element(t.legend, "li", {}), canvas = element(item, "canvas", { "aria-hidden": "true" });
      const g = sized(canvas, 26, 16);
      g.fillStyle = patterns(g, look)[i];
      g.fillRect(0.5, 0.5, 25, 15);
      g.strokeStyle = look.ink;
      g.strokeRect(0.5, 0.5, 25, 15);
      item.append(` ${kind.says}`);
    });
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
