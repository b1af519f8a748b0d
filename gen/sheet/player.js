// Steps through the moves: where the tool tip is, what the gripper holds, what stands
// in the slots, and the lines of plan and program that say so. A state is what
// holds after so many moves; state 0 is before the first one.
(() => {
  "use strict";
  const { byId } = paper;
  const data = paper.data.player;
  const moves = data.moves;

  // ---- what each state holds --------------------------------------------------

  // lies is how the part in a slot lies, where not as the slot says.
  const lies = data.grids.map((grid) => new Map(Object.entries(grid.lies || {}).map(([i, n]) => [Number(i), n])));
  // open is 1 while the gripper is open, as it counts until it first works, and 0 while it is closed.
  const start = { open: data.held ? 0 : 1, tip: null, turn: 0, holds: data.held ? [{ slot: [data.held.grid, data.held.slot, data.held.lies], turn: 0, part: data.held.part }] : [], load: null };
  const states = [start];
  const firstOf = new Map(); // the state before each transfer
  moves.forEach((m, i) => {
    const s = { ...states[i] };
    if (m.at) { s.tip = m.at; s.turn = m.turn || 0; }
    if (m.kind === "grip") s.open = 0;
    if (m.kind === "release") s.open = 1;
    if (m.kind === "select") s.load = m.load || 0;
    if (m.kind === "grip" && m.slot) {
      m.lies = lies[m.slot[0]].get(m.slot[1]) || 0; // it lies so again when the step is taken back
      s.holds = [...s.holds.filter((h) => h.zone !== m.zone), { slot: [...m.slot, m.lies], turn: s.turn, zone: m.zone, part: m.part }];
    }
    if (m.kind === "release" && m.slot) lies[m.slot[0]].set(m.slot[1], m.lies || 0);
    if (m.kind === "release" && m.slot) s.holds = s.holds.filter((h) => m.zone && h.zone !== m.zone);
    if (m.transfer && !firstOf.has(m.transfer)) firstOf.set(m.transfer, i);
    states.push(s);
  });
  const ends = new Map(); // the slots that each transfer takes from and puts into
  const lastOf = new Map(); // the last transfer that is made together with each
  for (const m of moves) {
    if (!m.slot || !m.transfer) continue;
    const n = m.transfer + (m.behind || 0), e = ends.get(n) || {};
    e[m.kind === "grip" ? "from" : "to"] = m.slot;
    e.part = m.part;
    ends.set(n, e);
    lastOf.set(m.transfer, Math.max(n, lastOf.get(m.transfer) || 0));
  }

  // ---- grids ------------------------------------------------------------------

  const plus = (a, b) => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
  const between = (a, b, t) => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t, a[2] + (b[2] - a[2]) * t];
  const share = (i, n) => (n > 1 ? i / (n - 1) : 0);

  // rowColumnLayer takes a slot's index apart, as the layout counts it.
  function rowColumnLayer(grid, index) {
    const [rows, columns] = grid.size;
    if (!grid.rows) return [Math.floor(index / columns) % rows, index % columns, Math.floor(index / (rows * columns))];
    const perLayer = grid.rows.reduce((sum, n) => sum + n, 0);
    let row = 0, column = index % perLayer;
    while (column >= grid.rows[row]) column -= grid.rows[row++];
    return [row, column, Math.floor(index / perLayer)];
  }
  // placeOf finds the slots of grids that list them: index, position, solid.
  const placeOf = new Map(data.grids.map((grid) => [grid, new Map((grid.places || []).map((p) => [p[0], p]))]));
  function solidOf(grid, index, lies) {
    if (lies) return grid.turned[lies - 1];
    const place = placeOf.get(grid).get(index);
    return place ? grid.solids[place[4]] : grid.solid;
  }
  function positionOf(grid, index) {
    const place = placeOf.get(grid).get(index);
    if (place) return place.slice(1, 4);
    const [row, column, layer] = rowColumnLayer(grid, index);
    const [rows, columns, layers] = grid.size;
    const c = grid.corners, u = share(column, columns), v = share(row, rows), w = share(layer, layers);
    const low = between(between(c[0], c[1], u), between(c[2], c[3], u), v);
    const high = between(between(c[4], c[5], u), between(c[6], c[7], u), v);
    const at = between(low, high, w);
    return row % 2 ? plus(at, grid.stagger) : at;
  }
  function letters(row) {
    return (row >= 26 ? letters(Math.floor(row / 26) - 1) : "") + String.fromCharCode(65 + (row % 26));
  }
  function labelOf([g, index]) {
    const grid = data.grids[g], [row, column, layer] = rowColumnLayer(grid, index);
    return `${grid.name} ${letters(row)}${column + 1}${grid.size[2] > 1 ? `.${layer + 1}` : ""}`;
  }

  // ---- the two views ----------------------------------------------------------

  const svgSpace = "http://www.w3.org/2000/svg";
  function element(parent, name, attributes) {
    const e = document.createElementNS(svgSpace, name);
    for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, v);
    parent.append(e);
    return e;
  }
  const figures = (text) => text.replaceAll("\u2212", "-").split(/[ ,]+/).map(Number);
  const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  const short = (x) => String(Math.round(x * 1000) / 1000);

  // hull is the convex polygon around points of the paper.
  function hull(points) {
    const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
    const half = (list) => {
      const out = [];
      for (const p of list) {
        while (out.length > 1 && turn(out[out.length - 2], out[out.length - 1], p) <= 0) out.pop();
        out.push(p);
      }
      return out.slice(0, -1);
    };
    const turn = (a, b, c) => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
    return [...half(sorted), ...half(sorted.reverse())];
  }
  const outline = (points) => `M${hull(points).map((p) => p.map(short).join(" ")).join("L")}Z`;

  // breadth is the lesser of width and height of points of the paper.
  function breadth(points) {
    const span = (i) => Math.max(...points.map((p) => p[i])) - Math.min(...points.map((p) => p[i]));
    return Math.max(0.3, Math.min(span(0), span(1)));
  }

  class View {
    constructor(group) {
      this.name = group.dataset.view;
      this.right = figures(group.dataset.right);
      this.up = figures(group.dataset.up);
      this.scale = Number(group.dataset.scale);
      this.origin = figures(group.dataset.origin);
      const [a, b] = [this.right, this.up];
      this.toward = [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
      const clip = group.querySelector("[clip-path]");
      this.layers = {};
      for (const name of ["free", "full", "now"]) this.layers[name] = element(clip, "g", name === "now" ? {} : { class: name });
      this.parts = data.grids.map(() => new Map());
      this.slots();
      this.about = element(this.layers.now, "path", { class: "now-slot", "data-about": "" });
      this.way = element(this.layers.now, "path", { class: "now-way" });
      this.body = element(this.layers.now, "path", { class: "now-body", "data-body": "" });
      this.carried = element(this.layers.now, "path", { class: "carried", "data-carried": "" });
      this.tool = element(this.layers.now, "path", { class: "now-tool" });
      this.tip = element(this.layers.now, "g", { "data-tip": "" });
      // Open in the middle, where the slot is that the move is about.
      element(this.tip, "path", { class: "now-tip", d: "M-6 0H-3M3 0H6M0 -6V-3M0 3V6" });
    }
    flat(d) { return [dot(this.right, d) * this.scale, -dot(this.up, d) * this.scale]; }
    paper(p) { const f = this.flat(p); return [this.origin[0] + f[0], this.origin[1] + f[1]]; }

    // slots draws every slot free, the far ones first, and a part on each that is
    // shown where there is one.
    slots() {
      const all = [];
      data.grids.forEach((grid, g) => {
        const missing = new Set(grid.missing);
        const listed = grid.only || (grid.places && grid.places.map((p) => p[0]));
        const indexes = listed || Array.from({ length: grid.size[0] * grid.size[1] * grid.size[2] }, (_, i) => i);
        const looks = new Map(); // by solid
        for (const index of indexes) {
          if (missing.has(index)) continue;
          const at = positionOf(grid, index), solid = solidOf(grid, index);
          if (!looks.has(solid)) {
            const flat = solid.map((c) => this.flat(c));
            looks.set(solid, { shape: outline(flat), thick: Math.min(0.4, 0.1 * breadth(flat)) });
          }
          all.push({ g, index, at: this.paper(at), depth: dot(this.toward, at), ...looks.get(solid) });
        }
      });
      all.sort((a, b) => a.depth - b.depth);
      for (const s of all) {
        const [row, column, layer] = rowColumnLayer(data.grids[s.g], s.index);
        const place = { d: s.shape, transform: `translate(${s.at.map(short).join(" ")})` };
        element(this.layers.free, "path", { ...place, "stroke-width": short(s.thick / 2) });
        const part = element(this.layers.full, "path", {
          ...place, "stroke-width": short(s.thick), display: "none", "data-part": labelOf([s.g, s.index]), "data-slot": `${row},${column},${layer}`,
        });
        this.parts[s.g].set(s.index, part);
      }
    }
    put([g, index], there, lies) {
      const part = this.parts[g].get(index);
      if (!part) return;
      if (there && data.grids[g].turned) part.setAttribute("d", outline(solidOf(data.grids[g], index, lies).map((c) => this.flat(c))));
      if (there) part.removeAttribute("display"); else part.setAttribute("display", "none");
    }

    // frame puts a frame around the slot that the present transfer is about.
    frame(slot) {
      const part = slot && this.parts[slot[0]].get(slot[1]);
      this.about.setAttribute("display", part ? "inline" : "none");
      if (!part) return;
      for (const name of ["d", "transform"]) this.about.setAttribute(name, part.getAttribute(name));
    }

    // arm draws tip, tool, its boxes and what the gripper holds.
    arm(tip, state, turnNow, open) {
      this.tip.setAttribute("display", tip ? "inline" : "none");
      this.tool.setAttribute("display", tip ? "inline" : "none");
      this.body.setAttribute("display", tip ? "inline" : "none");
      this.carried.setAttribute("display", tip && state.holds.length ? "inline" : "none");
      if (!tip) return;
      const at = this.paper(tip);
      this.tip.setAttribute("transform", `translate(${at.map(short).join(" ")})`);
      const o = data.orientations[turnNow];
      this.boxes(tip, o, open);
      const flange = this.paper(plus(tip, o.flange));
      if (Math.hypot(flange[0] - at[0], flange[1] - at[1]) < 2) this.tool.setAttribute("display", "none"); // it would cover the slot
      this.tool.setAttribute("d", `M${at.map(short).join(" ")}L${flange.map(short).join(" ")}`);
      // A part in another zone of the tool hangs as far from the tip as that zone is.
      const shapes = state.holds.map(({ slot, turn, zone }) => {
        const angle = (o.heading - data.orientations[turn].heading) * Math.PI / 180;
        const c = Math.cos(angle), s = Math.sin(angle), off = (zone && o.zones) ? o.zones[zone - 1] : [0, 0, 0];
        const turned = solidOf(data.grids[slot[0]], slot[1], slot[2]).map((p) => plus(off, [p[0] * c - p[1] * s, p[0] * s + p[1] * c, p[2]]));
        return outline(turned.map((p) => this.flat(p)));
      });
      if (!shapes.length) return;
      this.carried.setAttribute("d", shapes.join(""));
      this.carried.setAttribute("transform", `translate(${at.map(short).join(" ")})`);
    }
    // boxes draws what room the tool fills, so far open.
    boxes(tip, o, open) {
      const all = (o.tool ? data.tools[o.tool - 1] : []).map((b) => {
        const shift = b.open || [0, 0, 0];
        const ends = [b.from, b.to].map((end) => end.map((x, i) => x + open * shift[i]));
        return Array.from({ length: 8 }, (_, corner) => o.axes.reduce((at, axis, i) => {
          const along = ends[(corner >> i) & 1][i];
          return plus(at, axis.map((x) => x * along));
        }, tip));
      });
      this.body.setAttribute("d", all.map((corners) => outline(corners.map((c) => this.paper(c)))).join("") || "M0 0");
    }
    line(from, to, kind) {
      this.way.setAttribute("class", `now-way ${kind || ""}`);
      this.way.setAttribute("d", from && to ? `M${this.paper(from).map(short).join(" ")}L${this.paper(to).map(short).join(" ")}` : "M0 0");
      this.way.setAttribute("display", from && to ? "inline" : "none");
    }
  }
  const views = [...document.querySelectorAll("#stage .view")].map((g) => new View(g));
  data.grids.forEach((grid, g) => { for (const i of grid.full) for (const v of views) v.put([g, i], true, (grid.lies || {})[i]); });

  // ---- going from state to state ------------------------------------------------

  let now = 0, playing = false, frame = 0, timer = 0;
  const still = matchMedia("(prefers-reduced-motion: reduce)");

  // change makes move i happen, or takes it back.
  function change(i, back) {
    const m = moves[i];
    if (!m.slot || data.grids[m.slot[0]].feeds || (m.kind !== "grip" && m.kind !== "release")) return;
    for (const v of views) v.put(m.slot, (m.kind === "release") !== back, m.lies);
  }
  function go(state) {
    cancelAnimationFrame(frame);
    state = Math.max(0, Math.min(moves.length, state));
    while (now < state) change(now++, false);
    while (now > state) change(--now, true);
    drawArm(1);
    for (const v of views) v.frame(now ? aboutOf() : null);
    follow();
    announce();
  }
  // drawArm shows the arm a share of the way through the present move.
  function drawArm(t) {
    const state = states[now], before = states[Math.max(0, now - 1)];
    const moving = now > 0 && moves[now - 1].at && before.tip;
    const tip = moving && t < 1 ? between(before.tip, state.tip, t) : state.tip;
    const open = before.open + (state.open - before.open) * t;
    for (const v of views) {
      v.arm(tip, state, t < 1 ? before.turn : state.turn, open);
      v.line(moving ? before.tip : null, state.tip, moving ? moves[now - 1].kind : "");
    }
  }
  // aboutOf is the next slot that the transfer of the present move works on.
  function aboutOf() {
    for (let i = Math.max(0, now - 1); i < moves.length && moves[i].transfer === moves[Math.max(0, now - 1)].transfer; i++) {
      if (moves[i].slot) return moves[i].slot;
    }
    return null;
  }
  // follow scrolls the tool tip into sight where the picture is wider than its room.
  const room = byId("stage-room");
  function follow() {
    if (!states[now].tip || room.scrollWidth <= room.clientWidth) return;
    const picture = room.querySelector("svg"), box = picture.getBoundingClientRect();
    const x = views[0].paper(states[now].tip)[0] / picture.viewBox.baseVal.width * box.width;
    if (x < room.scrollLeft + 60 || x > room.scrollLeft + room.clientWidth - 60) room.scrollLeft = x - room.clientWidth / 2;
  }
  // glide goes one move on and lets the arm, or its fingers, be seen on their way.
  function glide(done) {
    const pace = Number(byId("pace").value);
    const m = moves[now], from = states[now].tip, works = data.tools && states[now].open !== states[now + 1].open;
    if (still.matches || !from || (!m.at && !works)) {
      go(now + 1);
      timer = setTimeout(done, (still.matches ? 900 : 260) / pace);
      return;
    }
    const long = m.at ? Math.hypot(m.at[0] - from[0], m.at[1] - from[1], m.at[2] - from[2]) : 0;
    const takes = (250 + Math.min(650, long * 1.6)) / pace;
    go(now + 1);
    drawArm(0);
    const began = performance.now();
    const next = (time) => {
      const t = Math.min(1, Math.max(0, (time - began) / takes));
      drawArm(t);
      if (t < 1) frame = requestAnimationFrame(next); else done();
    };
    frame = requestAnimationFrame(next);
  }

  // ---- what is said -------------------------------------------------------------

  const said = byId("said"), slider = byId("position");
  // clock is a time as people say it, and what it does not hold.
  function clock(seconds) {
    if (seconds < 59.95) return `${seconds.toFixed(1)} s`;
    const whole = Math.round(seconds), two = (n) => String(n).padStart(2, "0");
    if (whole < 3600) return `${Math.floor(whole / 60)} min ${two(whole % 60)} s`;
    const minutes = Math.round(seconds / 60);
    return `${Math.floor(minutes / 60)} h ${two(minutes % 60)} min`;
  }
  function clockWords() {
    const at = now ? moves[now - 1].until : 0, waits = moves.slice(0, now).filter((m) => m.kind === "await").length;
    const plus = waits ? ` and ${waits === 1 ? "a wait" : `${waits} waits`} of unknown length` : "";
    return `${clock(at)}${plus}, of about ${data.clock}`;
  }
  const coordinate = (x) => x.toFixed(1).replace("-", "\u2212");
  function sentence() {
    if (now === 0) return "Before the first move";
    const m = moves[now - 1];
    const end = now === moves.length && moves.length < data.ofMoves ? ". The page holds no more moves" : "";
    return `Move ${now} of ${data.ofMoves}: ${m.words}${end}`;
  }
  function announce() {
    const state = states[now], m = moves[Math.max(0, now - 1)];
    byId("now-move").textContent = sentence();
    byId("now-clock").textContent = clockWords();
    byId("now-transfer").textContent = transferWords(now ? m.transfer : 0);
    byId("now-tip").textContent = state.tip ? `X ${coordinate(state.tip[0])}, Y ${coordinate(state.tip[1])}, Z ${coordinate(state.tip[2])} mm` : "not known yet";
    const load = state.load === null ? "" : `, ${state.load} kg set in the controller`;
    byId("now-gripper").textContent = (state.holds.length ? `holds ${held(state.holds)}, picked up at ${state.holds.map((h) => labelOf(h.slot)).join(", ")}` : "holds nothing") + load;
    slider.value = now;
    slider.setAttribute("aria-valuetext", sentence());
    if (now && m.transfer) byId("transfer").value = m.transfer;
    byId("back").disabled = byId("to-start").disabled = now === 0;
    byId("forward").disabled = byId("to-end").disabled = now === moves.length;
    planLines(m);
    programLines(m);
  }
  // held names what the gripper holds: parts with ids one by one.
  function held(holds) {
    const names = holds.map((h) => h.part || data.grids[h.slot[0]].part);
    return [...new Set(names)].join(", ");
  }
  function transferWords(n) {
    if (!n) return `none, of ${data.transfers}`;
    const last = lastOf.get(n) || n, ways = [];
    for (let k = n; k <= last; k++) {
      const e = ends.get(k);
      if (e) ways.push(`${e.part ? `${e.part}, ` : ""}${e.from ? labelOf(e.from) : ""}${e.to ? ` \u2192 ${labelOf(e.to)}` : ""}`.trim());
    }
    return `${n}${last > n ? ` to ${last}` : ""} of ${data.transfers}${ways.length ? `: ${ways.join(", ")}` : ""}`;
  }
  // lines fills a box with numbered lines and marks some of them.
  function lines(box, all, isHere) {
    box.textContent = "";
    let here = null;
    for (const [n, text] of all) {
      const line = document.createElement("span"), number = document.createElement("b");
      number.textContent = `${n} `;
      line.append(number, text || " ");
      if (isHere(n)) { line.className = "here"; line.setAttribute("aria-current", "true"); here = here || line; }
      box.append(line);
    }
    box.scrollTop = 0;
    if (here) box.scrollTop = Math.max(0, here.offsetTop - box.offsetTop - box.clientHeight / 3);
  }
  function planLines(m) {
    if (!m) return;
    const [f, line] = m.place, file = data.plan[f];
    byId("plan-file").textContent = now ? `${file.name}, line ${line}` : file.name;
    lines(byId("plan-lines"), file.lines.filter(([n]) => Math.abs(n - line) <= 12), (n) => now > 0 && n === line);
  }
  const placeOfLine = new Map(data.program.map(([n], i) => [n, i]));
  function programLines(m) {
    const box = byId("program-lines");
    if (!m || !m.lines) {
      lines(box, [], () => false);
      box.textContent = m ? "No line of its own." : "";
      return;
    }
    const first = placeOfLine.get(m.lines[0]), last = placeOfLine.get(m.lines[1]);
    lines(box, data.program.slice(Math.max(0, first - 4), last + 6), (n) => now > 0 && n >= m.lines[0] && n <= m.lines[1]);
  }
  const speak = (text) => { said.textContent = text; };

  // ---- the controls ---------------------------------------------------------------

  function pause(words) {
    if (!playing) return;
    playing = false;
    clearTimeout(timer);
    cancelAnimationFrame(frame);
    drawArm(1);
    byId("play").textContent = "Play";
    byId("play").setAttribute("aria-pressed", "false");
    if (words) speak(words);
  }
  // While it plays, only the beginning of a transfer is said, and not too often.
  let spoken = 0;
  function playOn() {
    if (!playing) return;
    if (now === moves.length) { pause(`${sentence()}. End.`); return; }
    const m = moves[now];
    if (m.transfer && firstOf.get(m.transfer) === now && performance.now() - spoken > 5000) {
      spoken = performance.now();
      speak(`Transfer ${transferWords(m.transfer)}`);
    }
    glide(playOn);
  }
  const user = (id, event, what) => byId(id).addEventListener(event, what);
  const step = (state) => { pause(); go(state); speak(sentence()); };
  user("to-start", "click", () => step(0));
  user("back", "click", () => step(now - 1));
  user("forward", "click", () => {
    pause();
    if (now === moves.length) return;
    clearTimeout(timer);
    glide(() => {});
    speak(sentence());
  });
  user("to-end", "click", () => step(moves.length));
  user("play", "click", () => {
    if (playing) { pause(`Paused. ${sentence()}`); return; }
    if (now === moves.length) go(0);
    playing = true;
    spoken = performance.now();
    byId("play").textContent = "Pause";
    byId("play").setAttribute("aria-pressed", "true");
    speak("Playing");
    playOn();
  });
  user("position", "input", () => { pause(); go(Number(slider.value)); });
  const jump = () => {
    const box = byId("transfer"), wanted = Math.round(Number(box.value));
    const known = [...firstOf.keys()];
    if (!known.length) return;
    const n = Math.max(known[0], Math.min(box.max, wanted || 1));
    pause();
    go(firstOf.get(known.filter((k) => k <= n).pop()) + 1); // one that is made together with others begins with the first of them
    box.value = n;
    speak(`Transfer ${transferWords(n)}. ${sentence()}`);
  };
  user("jump", "click", jump);
  user("transfer", "keydown", (e) => { if (e.key === "Enter") jump(); });

  slider.max = moves.length;
  byId("transfer").max = Math.max(1, ...firstOf.keys(), ...ends.keys());
  go(0);
})();
