// stop is for the time after a stop: which transfer comes next, and what stands in the slots,
// tapped one by one, as the file that --slots reads.
const stop = (() => {
  "use strict";
  const { byId, make } = paper, { scene, stop: job } = paper.data;
  if (!job) return null;
  const mostHere = 4000; // slots of a grid that are tapped
  const transfers = expanded();
  const grids = scene.grids.map((grid, g) => ({ grid, g, told: !grid.feeds && grid.whole && grid.count <= mostHere })).filter((x) => x.told);
  for (const own of grids) own.missing = new Set(own.grid.missing);
  const host = byId("stop"), last = Math.min(job.transfers, job.first + transfers.length);

  // expanded lists transfer by transfer what runs say of many: from [grid, slot], to [grid, slot].
  function expanded() {
    const all = [];
    for (const [fromGrid, from, toGrid, to, count, stepFrom, stepTo] of job.runs) {
      for (let i = 0; i < count; i++) all.push({ from: [fromGrid, from + i * stepFrom], to: [toGrid, to + i * stepTo] });
    }
    return all;
  }

  // planned is what stands in each grid when a transfer is next, as the plan leaves it.
  function planned(next, holding) {
    const full = new Map(grids.map(({ grid, g }) => [g, new Set(grid.full)]));
    const put = ([g, index], there) => { if (full.has(g)) full.get(g)[there ? "add" : "delete"](index); };
    if (job.back) put(job.back, true); // it hangs in the gripper in the scene
    for (const { from, to } of transfers.slice(0, next - job.first)) { put(from, false); put(to, true); }
    const one = transfers[next - job.first];
    if (holding && one) put(one.from, false);
    return full;
  }

  // ---- words --------------------------------------------------------------------

  // selection writes slots as a plan would, as gen/resume does: rows with the same columns are one
  // rectangle, and a slot that is missing ends one.
  function selection({ grid, missing }, full) {
    const items = [], [rows, , layers] = grid.size, lengths = grid.rows || Array(rows).fill(grid.size[1]);
    let index = 0, everything = true;
    for (let layer = 0; layer < layers; layer++) {
      let open = [];
      const done = () => { for (const b of open) items.push(label(b, layer)); };
      for (let row = 0; row < rows; row++) {
        const runs = [];
        let before = false;
        for (let column = 0; column < lengths[row]; column++, index++) {
          const is = full.has(index);
          everything = everything && (is || missing.has(index));
          if (is && before) runs[runs.length - 1].to = column;
          else if (is) runs.push({ from: column, to: column, top: row, bottom: row });
          before = is;
        }
        const same = open.length === runs.length && open.every((b, i) => b.from === runs[i].from && b.to === runs[i].to);
        if (same) for (const b of open) b.bottom = row;
        else { done(); open = runs; }
      }
      done();
    }
    function label({ from, to, top, bottom }, layer) {
      const at = (row, column) => `${slots.letters(row)}${column + 1}${layers > 1 ? `.${layer + 1}` : ""}`;
      return from === to && top === bottom ? at(top, from) : `${at(top, from)}:${at(bottom, to)}`;
    }
    if (!items.length) return "none";
    return everything ? "all" : items.join(", ");
  }
  const counted = (key, n) => (n ? `${key}: ${n}\n` : "");
  function file() {
    const lines = grids.map((own) => `  ${own.grid.name}: ${selection(own, now.full.get(own.g))}\n`).join("");
    const left = scene.grids.filter((g) => !g.feeds && !grids.some((own) => own.grid === g)).map((g) => `# not written here, too many slots: ${g.name}\n`).join("");
    return `format: gridferry slots 1\n# transfer ${now.next} of ${job.transfers} is next; tapped on the job sheet\n${left}${lines ? `filled:\n${lines}` : "filled: {}\n"}${counted("removed", now.removed)}${counted("added", now.added)}`;
  }
  const shell = (text) => (/^[\w./-]+$/.test(text) ? text : `'${text.replaceAll("'", `'\\''`)}'`);
  function commands(name) {
    const flags = `${shell(job.plan)} --from ${now.next}${now.holding ? " --holding" : ""} --slots=${name}`;
    return `gridferry check ${flags}\ngridferry write ${flags} --family ${shell(job.family)} -o programs`;
  }

  // ---- what is tapped -------------------------------------------------------------

  const now = { next: job.first, holding: Boolean(job.back), removed: job.removed, added: job.added, full: null, plan: null };
  function take() {
    now.plan = planned(now.next, now.holding);
    now.full = new Map([...now.plan].map(([g, set]) => [g, new Set(set)]));
    for (const own of grids) own.draw();
    tell();
  }
  const differ = ({ g, grid }) => Array.from({ length: grid.count }, (_, i) => i).filter((i) => now.full.get(g).has(i) !== now.plan.get(g).has(i));

  // map is the slots of one grid, as they lie in the picture; it is made when it is first opened.
  function map(own) {
    const { grid, g, missing } = own, [rows, columns, layers] = grid.size, [across, left, up] = job.lies[g];
    const summary = make("summary"), room = make("div"), box = make("details", {}, summary, room);
    const buttons = [];
    function place(index) {
      const [row, column] = slots.rowColumnLayer(grid, index);
      let [x, y] = across ? [row, column] : [column, row];
      if (left) x = (across ? rows : columns) - 1 - x;
      if (up) y = (across ? columns : rows) - 1 - y;
      return [x, y];
    }
    function build() {
      const perLayer = grid.count / layers;
      for (let layer = 0; layer < layers; layer++) {
        if (layers > 1) room.append(make("h4", {}, `Layer ${layer + 1}`));
        const field = make("div", { class: "field", role: "group", "aria-label": `${grid.name}${layers > 1 ? `, layer ${layer + 1}` : ""}: pressed is full` });
        for (let index = layer * perLayer; index < (layer + 1) * perLayer; index++) {
          const [x, y] = place(index), b = missing.has(index) ? make("span", { class: "gone" }, "\u00d7") : make("button", { type: "button" });
          Object.assign(b.style, { gridColumn: x + 1, gridRow: y + 1 });
          field.append(b);
          if (missing.has(index)) continue;
          b.tabIndex = field.querySelector("button") === b ? 0 : -1;
          b.dataset.place = `${x} ${y}`;
          buttons[index] = b;
          b.addEventListener("click", () => tap(index));
        }
        field.addEventListener("keydown", walk);
        room.append(make("div", { class: "wide" }, field));
      }
      const all = (words, is) => {
        const b = make("button", { type: "button" }, words);
        b.addEventListener("click", () => {
          for (let i = 0; i < grid.count; i++) if (!missing.has(i)) now.full.get(g)[is(i) ? "add" : "delete"](i);
          changed();
        });
        return b;
      };
      room.append(make("p", { class: "controls" }, all("All full", () => true), all("All free", () => false), all("As the plan leaves it", (i) => now.plan.get(g).has(i))));
    }
    function tap(index) {
      const full = now.full.get(g);
      if (!full.delete(index)) full.add(index);
      changed();
    }
    const changed = () => { leaving.asks(); own.draw(); tell(); };
    // One slot of a map is a tab stop; the arrow keys go on from there.
    function walk(e) {
      const by = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[e.key], from = e.target.dataset.place;
      if (!by || !from) return;
      let [x, y] = from.split(" ").map(Number), found = null;
      for (let i = 0; i < Math.max(rows, columns) && !found; i++) {
        x += by[0];
        y += by[1];
        found = e.currentTarget.querySelector(`[data-place="${x} ${y}"]`);
      }
      if (!found) return;
      e.preventDefault();
      e.target.tabIndex = -1;
      found.tabIndex = 0;
      found.focus();
    }
    own.draw = () => {
      const other = differ(own), holds = now.full.get(g).size;
      summary.textContent = `${grid.name}: ${holds} full, ${other.length ? `${other.length} not as the plan leaves ${other.length === 1 ? "it" : "them"}` : "as the plan leaves it"}`;
      if (!box.open) return;
      if (!room.firstChild) build();
      const odd = new Set(other);
      for (const [index, b] of buttons.entries()) {
        if (!b) continue;
        const full = now.full.get(g).has(index);
        b.setAttribute("aria-pressed", String(full));
        b.setAttribute("aria-label", `${slots.name(grid, index)}${odd.has(index) ? ", not as planned" : ""}`);
        b.className = odd.has(index) ? "odd" : "";
        b.textContent = `${slots.label(grid, index)} ${full ? "\u25cf" : "\u25cb"}${odd.has(index) ? " \u2260" : ""}`;
      }
    };
    box.addEventListener("toggle", () => own.draw());
    return box;
  }

  // ---- what is said ---------------------------------------------------------------

  const what = make("p", { role: "status" }), sums = make("p", { role: "status" }), handed = handing.out("File of slots"), told = make("pre", { class: "code", tabindex: 0, "aria-label": "Commands" });
  function groupOf(n) {
    for (let i = 0; i < job.groups.length; i += 2) if (n >= job.groups[i] && n <= job.groups[i + 1]) return [job.groups[i], job.groups[i + 1]];
    return null;
  }
  // refusal says why the job cannot go on with this transfer; "" where it can.
  function refusal() {
    const group = groupOf(now.next);
    if (!Number.isInteger(now.next) || now.next < job.first || now.next > last) return `There is no such transfer here: ${job.first} to ${last} may come next.`;
    if (group && now.next !== group[0]) return `The parts of transfers ${group[0]} to ${group[1]} are carried at once: put them back by hand and begin with ${group[0]}${group[1] < last ? `, or with ${group[1] + 1} when all of them are done` : ""}.`;
    if (group && now.holding) return `The parts of transfers ${group[0]} to ${group[1]} are carried at once: the job cannot begin with one of them in the gripper. Put it back by hand.`;
    return "";
  }
  function tell() {
    const why = refusal(), one = transfers[now.next - job.first], name = ([g, i]) => slots.name(scene.grids[g], i);
    what.textContent = why || (one ? `Transfer ${now.next} of ${job.transfers}: ${name(one.from)} \u2192 ${name(one.to)}. By the plan its part ${now.holding ? "is in the gripper" : `stands in ${name(one.from)} and the gripper is empty`}.` : "");
    const more = grids.reduce((sum, { g }) => sum + now.full.get(g).size - now.plan.get(g).size, 0) + now.removed - job.removed - now.added + job.added;
    sums.textContent = more === 0 ? "As many parts stand there as the plan leaves, less those taken away, plus those put in."
      : `${Math.abs(more)} ${Math.abs(more) === 1 ? "part" : "parts"} ${more > 0 ? "more stand" : "fewer stand"} there than the plan accounts for: look again, or count what was taken away or put in. With this file \u201ccheck\u201d finds an error.`;
    sums.className = more === 0 ? "" : "bad";
    told.hidden = Boolean(why);
    if (why) { handed.lacks(why); return; }
    const as = `slots-from-${now.next}.yaml`;
    handed.show(file(), as);
    told.textContent = commands(as);
  }

  // ---- the fields -----------------------------------------------------------------

  function number(id, text, attributes, value, set) {
    const input = make("input", { type: "number", id, min: 0, step: 1, inputmode: "numeric", value, ...attributes });
    input.addEventListener("input", () => { leaving.asks(); set(Math.round(Number(input.value))); });
    return [make("label", { for: id }, text), input];
  }
  const holding = make("input", { type: "checkbox", id: "stop-holding" });
  holding.checked = now.holding;
  holding.addEventListener("change", () => { now.holding = holding.checked; take(); });
  host.append(
    make("p", { class: "controls" },
      ...number("stop-next", "Next transfer", { min: job.first, max: last }, now.next, (n) => { now.next = n; take(); }),
      make("label", { class: "check" }, holding, "The gripper holds its part")),
    what, ...grids.map(map),
    make("p", { class: "controls" },
      ...number("stop-removed", "Parts taken away since the job began", {}, now.removed, (n) => { now.removed = Math.max(0, n); tell(); }),
      ...number("stop-added", "Parts put in since then", {}, now.added, (n) => { now.added = Math.max(0, n); tell(); })),
    sums, handed, told,
    make("p", { class: "quiet" }, "Give the flags of this sheet, too (--set, --missing, --filled, --contents), where it was made with any. Only \u201ccheck\u201d says whether the job can go on from there."));
  take();
  return { planned, selection, grids };
})();
