// The view of a scene in three dimensions. viewer.open(canvas, {list, page}) gives the view, or
// null where the browser has no WebGL2; list is the element for the list of what is seen,
// page says that the canvas stands in a page that scrolls.
const viewer = (() => {
  "use strict";
  const mostPixels = 4e6; // of the picture, however dense the screen is

  function open(canvas, options = {}) {
    const gl = canvas.getContext("webgl2", { antialias: false, alpha: false, depth: true, stencil: false, powerPreference: "low-power" });
    if (!gl) return null;
    const c = camera.open(), texts = labels.open(), listeners = { pick: [], measure: [] };
    const v = { frames: 0 };
    let painted = null, scene = null, parts = null, state = {}, colours = looks.colours(canvas), asked = 0, section = null, greyed = false;
    const care = pace.open(ask);
    let wanted = null, kin = {}, size = 1, pointed = null, room = [], other = null, listing = 0;

    // ---- drawing, when something has changed -------------------------------------------

    function change() {
      care.moves();
      ask();
    }
    function ask() {
      if (!asked) asked = requestAnimationFrame(draw);
    }
    function fitCanvas() {
      const w = Math.max(1, canvas.clientWidth), h = Math.max(1, canvas.clientHeight);
      size = Math.min(devicePixelRatio || 1, Math.sqrt(mostPixels / (w * h)));
      c.size = [w, h];
      const wide = Math.round(w * size), tall = Math.round(h * size);
      if (canvas.width !== wide || canvas.height !== tall) { canvas.width = wide; canvas.height = tall; }
    }
    function draw(time) {
      asked = 0;
      if (!scene || gl.isContextLost()) return;
      if (!painted) painted = painter.open(gl);
      fitCanvas();
      const level = care.frame(time), m = c.matrix(), { stock, still, moving, way } = parts;
      const solids = [...moving.items(), ...stock.items(c, standing.planesOf(m), level)];
      const { ruler } = parts, sets = [
        { set: still.under, lift: 0 }, { set: still.over, lift: 1e-5 }, { set: way.set, lift: 2e-5 },
        { set: moving.rods, lift: 0 }, { set: moving.tip, lift: 1e-4 }, { set: ruler.set, lift: 1e-3 },
      ];
      if (other) sets.push({ set: other.set, lift: 5e-5 });
      const clears = [...still.boxes.map((crowd) => [{ crowd }]), ...(room.length ? [room.map((crowd) => ({ crowd }))] : [])];
      const all = [...still.texts, ...naming.of(stock, c), ...ruler.texts, ...(other ? other.texts : []), ...pointedText()];
      const sheet = texts.lay(section ? all.filter((t) => allowed(t.at)) : all, c, m, size, colours);
      painted.draw({ camera: c, size, colours, section, greyed, solids, lines: sets, clears, sheet, hurried: level > 0 });
      v.frames++;
    }

    // ---- what is shown ---------------------------------------------------------------

    v.show = (next, keep) => {
      const first = !scene;
      scene = next;
      const stock = standing.open(scene);
      parts = { stock, still: cell.open(scene), moving: arm.open(scene, stock.shapes), way: path.open(scene), ruler: measure.open(scene, stock) };
      pointed = other = null;
      room = [];
      parts.way.choose(wanted || parts.way.usual);
      if (painted) painted.forget();
      c.bounds = roomOf(scene);
      state = { tip: scene.moves.from || scene.start && scene.start.slice(0, 3), turn: scene.start ? scene.start.slice(3) : vector.still, tool: 0, open: 1, holds: [] };
      parts.moving.set(state);
      if (first || !keep) v.look("fit");
      light();
      tell();
      change();
    };
    // tell brings the list of what is seen up to date, when there is time.
    function tell() {
      clearTimeout(listing);
      if (options.list) listing = setTimeout(() => inventory.fill(options.list, scene, parts.stock, state), 400);
    }
    // roomOf is the bounds with some room around them for ground and labels.
    function roomOf(s) {
      const [low, high] = s.bounds, out = Math.max(200, vector.length(vector.minus(high, low)) * 0.3);
      return [vector.minus(low, [out, out, out]), vector.plus(high, [out, out, out])];
    }
    v.set = (next) => {
      state = next;
      parts.moving.set(next);
      parts.stock.due(next.n || 0);
      if (parts.way.choose(wanted || parts.way.usual, next.n)) lightPath();
      tell();
      change();
    };
    v.put = (grid, index, there, lies) => { if (parts.stock.grids[grid].put(index, there, lies)) { tell(); change(); } };
    v.path = (which) => {
      wanted = which;
      if (!parts) return;
      if (parts.way.choose(which, state.n)) lightPath();
      change();
    };
    v.light = (what) => {
      kin = what || {};
      light();
      change();
    };
    // swept shows the room that one transfer takes, none for 0; false where nothing is known of it.
    v.swept = (transfer) => {
      const mesh = transfer && scene ? swept.of(scene, parts.stock.shapes, transfer) : null;
      room = mesh ? [crowds.single(mesh, looks.solid.swept)] : [];
      change();
      return room.length > 0;
    };
    // over lays another scene over this one, and says how many slots differ; null takes it away.
    v.over = (next) => {
      other = next && parts ? over.open(parts.stock, standing.open(next)) : null;
      change();
      return other ? other.count : null;
    };
    // measure makes choosing take points; measured shows a distance between two given ones.
    v.measure = (on) => {
      if (!parts) return;
      parts.ruler.on = on;
      if (!on) parts.ruler.show(null, null);
      told();
    };
    v.measured = (from, to) => { parts.ruler.show(from, to); told(); };
    function told() {
      for (const f of listeners.measure) f(parts.ruler.result());
      change();
    }
    function lightPath() {
      const [first, last] = kin.moves || [-1, -1], transfers = new Set(kin.transfers || []), m = scene.moves;
      parts.way.light((i) => (i >= first && i <= last) || transfers.has(m.transfer[i]));
    }
    function light() {
      if (!parts) return;
      lightPath();
      parts.still.light(kin);
      const lit = new Set((kin.slots || []).map(([g, i]) => `${g} ${i}`));
      for (const own of parts.stock.grids) for (let k = 0; k < own.n; k++) own.mark(k, lit.size && lit.has(`${own.g} ${own.indexOf(k)}`) ? 1 : 0);
      pointAt(pointed);
    }
    // pointAt marks the slot that is pointed at, and gives it its name.
    function pointAt(found) {
      const own = found && found.slot && parts.stock.grids[found.slot[0]], k = own ? own.kOf(found.slot[1]) : -1;
      if (k >= 0) own.mark(k, own.marks[k] | 2);
      pointed = found;
    }
    function pointAway() {
      const own = pointed && pointed.slot && parts.stock.grids[pointed.slot[0]], k = own ? own.kOf(pointed.slot[1]) : -1;
      if (k >= 0) own.mark(k, own.marks[k] & 1);
    }
    function pointedText() {
      if (!pointed || !pointed.slot) return [];
      const own = parts.stock.grids[pointed.slot[0]], k = own.kOf(pointed.slot[1]), id = (own.grid.ids || {})[pointed.slot[1]];
      return [{ text: slots.name(own.grid, pointed.slot[1]) + (id && own.there[k] ? `, ${id}` : ""), at: own.at(k), weight: 9, strong: true, shift: [0, -16] }];
    }
    v.look = (from) => {
      if (!scene) return;
      fitCanvas();
      views[from]();
      change();
    };
    const views = {
      above: () => turned(0, 90, true),
      front: () => turned(0, 0, true),
      side: () => turned(90, 0, true),
      fit: () => (c.flat ? c.fit(scene.bounds) : turned(-28, 32, false)),
      operator: () => stand(),
    };
    // stand is in front of the bench, so far that all of it is seen, with the eyes 1.6 m above the floor. A cell
    // does not say where that is: the top of a bench is taken to be 0.9 m above it, and what is wider
    // than 2 m to stand on it.
    function stand() {
      const [low, high] = scene.bounds, bench = high[0] - low[0] < 2000 && high[1] - low[1] < 2000;
      const above = (bench ? 700 : 1600) - (high[2] - Math.min(low[2], 0)) / 2;
      for (let i = 0; i < 4; i++) turned(0, Math.max(5, Math.min(60, Math.atan2(above, c.away) * 180 / Math.PI)), false);
    }
    function turned(heading, pitch, flat) {
      Object.assign(c, { heading, pitch, flat });
      c.fit(scene.bounds);
    }
    v.section = (cut) => {
      const normal = [0, 0, 0];
      if (cut) normal["XYZ".indexOf(cut.axis.toUpperCase())] = 1;
      section = cut ? [...normal, cut.at] : null;
      change();
    };
    v.greyed = (on) => { greyed = on; change(); };
    v.on = (what, f) => listeners[what].push(f);
    v.close = () => { cancelAnimationFrame(asked); asked = 0; };

    // ---- pointing ------------------------------------------------------------------------

    const allowed = (p) => !section || vector.dot(section, p) <= section[3];
    function picked(x, y, how) {
      if (!scene) return;
      if (parts.ruler.on && how === "choose") {
        parts.ruler.choose(parts.ruler.caught(x, y, c, allowed));
        told();
        return;
      }
      const found = picking.at(x, y, c, scene, parts.stock, parts.way, allowed);
      if (JSON.stringify(found) !== JSON.stringify(pointed)) {
        pointAway();
        pointAt(found);
        change();
      } else if (how === "hover") return;
      for (const f of listeners.pick) f(found, how);
    }
    function away() {
      if (!scene || !pointed) return;
      pointAway();
      pointed = null;
      for (const f of listeners.pick) f(null, "hover");
      change();
    }
    function escape() {
      if (parts && parts.ruler.on) v.measure(false);
      else for (const f of listeners.pick) f(null, "choose");
    }
    let hovering = null; // where to look when there is time
    function hover(x, y) {
      if (!hovering) requestAnimationFrame(() => { const [a, b] = hovering; hovering = null; picked(a, b, "hover"); });
      hovering = [x, y];
    }
    gestures.listen(canvas, c, {
      change, look: v.look, hover, choose: (x, y) => picked(x, y, "choose"), leave: away, escape,
    }, options.page);
    canvas.addEventListener("webglcontextlost", (e) => { e.preventDefault(); painted = null; });
    canvas.addEventListener("webglcontextrestored", change);
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => { colours = looks.colours(canvas); change(); });
    new ResizeObserver(change).observe(canvas);

    // seen says what is drawn, for tests.
    v.seen = () => ({
      grids: parts.stock.grids.map((own) => ({
        name: own.grid.name,
        full: Array.from(own.there.keys()).filter((k) => own.there[k]).map((k) => ({ index: own.indexOf(k), at: own.poseOf(k, own.lies[k]).at })),
      })),
      tip: state.tip || null, joints: state.joints || null, holds: state.holds || [], tools: parts.moving.room(), lit: kin,
      camera: { target: c.target, heading: c.heading, pitch: c.pitch, away: c.away, flat: c.flat },
    });
    v.camera = c;
    v.level = care.level;
    return v;
  }
  return { open, help: gestures.help };
})();
