
// The page as a whole: texts go to the server as drafts, what it says about them goes to
// the panes, and what is pointed at in one pane lights its kin in the others.
const live = (() => {
  "use strict";

  const byId = (id) => document.getElementById(id);
  const pause = 60;    // ms after the last letter, before the texts go to the server
  const each = 4000;   // letters of a long text, for which it waits a ms more
  const shortly = 6000; // ms that a message stays below the plan
  const root = document.documentElement;

  let state = null;                  // what the server said last
  let scene = null, known = kin.of(null);
  let written = { key: "", lines: [] }; // the program that is shown
  let chosen = null, pointed = null; // things as kin has them
  let turning = null;                // a text that is looked at but not typed: {name, text}
  let diskDue = true, drafted = 0, saidAt = 0;

  // ---- texts -> state ------------------------------------------------------------

  // look asks what the server thinks of the texts as they stand here. A question about the
  // disk that a letter made needless is put again with the next.
  async function look() {
    clearTimeout(drafted);
    try {
      let now = null;
      if (diskDue) {
        now = await link.state();
        if (!now) return;
        diskDue = false;
        files.take(now, true);
        told();
      }
      const texts = drafts();
      if (Object.keys(texts).length) now = await link.draft(texts, root.dataset.scene);
      else if (!now) now = await link.state();
      if (!now) return;
      files.take(now, false);
      take(now);
    } catch (e) {
      failed(e);
    }
  }
  function lookAtDisk() {
    diskDue = true;
    look();
  }
  function drafts() {
    const texts = files.unsaved();
    if (turning) texts[turning.name] = files.written(files.get(turning.name), turning.text);
    return texts;
  }
  function soon() {
    clearTimeout(drafted);
    link.drop("state");
    drafted = setTimeout(look, pause + Math.min(500, files.chosen.editor.text.length / each));
  }
  function failed(e) {
    if (e instanceof link.Refusal) say(`The server refuses: ${e.message}`);
    else if (!(e instanceof link.Unreached)) throw e; // the events that have ended tell it
  }
  function take(now) {
    state = now;
    root.dataset.version = now.version;
    facts.show(now);
    heading();
    for (const p of files.each()) p.editor.find(now.findings.filter((f) => f.file === p.name && f.line));
    list.show(now.findings);
    knobBox.show(now.knobs);
    light();
    caretLine();
    old();
    fetchScene();
  }
  function heading() {
    facts.unsaved(files.changed().length, (state && state.title) || (state && state.files[0] && state.files[0].name) || "Gridferry");
  }
  function old() {
    const wrong = facts.errors(state);
    if (!wrong && state.good === state.version) view.old("");
    else view.old(scene ? `${wrong ? "The plan has errors. " : ""}This picture is of the last plan without errors.` : "There is no picture: the plan has had errors since this page was opened.");
  }

  // ---- state -> scene and program ------------------------------------------------

  async function fetchScene() {
    const version = state.good;
    if (!version || root.dataset.scene === version) return;
    try {
      const next = await link.scene(version);
      if (!next || state.good !== version) return;
      scene = next;
      known = kin.of(scene);
      view.show(scene);
      root.dataset.scene = version;
      moves.set(scene.moves.n);
      byId("moves-said").textContent = movesWords();
      chosen = pointed = null;
      light();
      old();
      fetchProgram();
      if (state.other) others.show(byId("other-tab"), byId("other"), { version, ...beside });
    } catch (e) {
      failed(e);
    }
  }
  function movesWords() {
    const { n, of, transfers } = scene.moves;
    return `${n < of ? `the first ${n} of ${of}` : n} moves in ${transfers} ${transfers === 1 ? "transfer" : "transfers"}, about ${scene.clock}`;
  }
  // fetchProgram has the program when somebody looks at it.
  async function fetchProgram() {
    const version = root.dataset.scene, family = byId("family").value, key = `${version} ${family}`;
    if (!version || written.key === key || lists.chosen !== byId("program-tab")) return;
    const next = await program.text(version, family);
    if (!next || root.dataset.scene !== version) return;
    written = { key, lines: next.lines };
    scene.moves.lines = next.own;
    known = kin.of(scene);
    byId("program-said").textContent = next.words;
    rows.set(next.lines.length);
    light();
  }
  // write gives the program as a file. What is not saved has no program to take away: the
  // seal names the plan as it is on disk.
  async function write() {
    if (!state) return;
    if (facts.errors(state)) {
      sorts.choose(byId("findings-tab"));
      say(`Nothing is written: ${findings.count(state.findings)}.`);
      return;
    }
    if (files.changed().length) { say("Save first: the program’s seal names the plan as it is in the file."); return; }
    try {
      const name = await program.file(state, byId("family").value);
      if (name) say(`${name} is written. Read it line by line with the person who knows the machine before it runs.`);
    } catch (e) {
      failed(e);
    }
  }

  // ---- saving --------------------------------------------------------------------

  async function save() {
    offers.close();
    knobBox.keep();
    for (const p of files.changed()) await saveOne(p);
    lookAtDisk();
  }
  async function saveOne(p) {
    try {
      const how = await conflict.save(p, files);
      if (how) say(how);
    } catch (e) {
      say(`${p.name} is not saved: ${e instanceof link.Refusal ? e.message : "there is no server."}`);
    }
  }
  // told says which unsaved files were changed on disk, too.
  function told() {
    const names = files.each().filter((p) => p.outside).map((p) => p.name);
    bar.say("outside", names.length ? `${names.join(", ")} was changed on disk, too. Your text here is not saved; saving will ask which one to keep.` : "");
  }

  // ---- kin -----------------------------------------------------------------------

  function light() {
    const thing = pointed || chosen, all = (state && state.findings) || [];
    const k = thing ? known.find(thing, all) : known.wrong(all);
    moves.light(k.moves);
    rows.light(k.program.map(([a, b]) => [a - 1, b - 1]));
    const lines = linesBy(k.lines);
    for (const p of files.each()) p.editor.light(lines.get(p.name) || new Map());
    list.light(k.findings);
    knobBox.light((file, line) => Boolean(lines.get(file) && lines.get(file).has(line)));
    view.light(k);
    return k;
  }
  // linesBy is what marks lines have, by file and number: kin, and the one that is played.
  function linesBy(places) {
    const lines = new Map(), at = view.clock ? view.clock.now : 0;
    const put = ([file, line], sort) => {
      const map = lines.get(file) || new Map();
      lines.set(file, map.set(line, `${map.get(line) || ""} ${sort}`.trim()));
    };
    for (const place of places) put(place, "kin");
    if (at > 0) put([scene.files[scene.moves.place[2 * at - 2]], scene.moves.place[2 * at - 1]], "now");
    return lines;
  }
  function point(thing) {
    if (JSON.stringify(thing) === JSON.stringify(pointed)) return;
    pointed = thing;
    light();
  }
  // choose keeps a thing lit and scrolls its kin into sight, but not in the pane that it was
  // chosen in.
  function choose(thing, from) {
    chosen = thing;
    pointed = null;
    const k = light();
    if (!thing) return;
    if (from !== "moves" && k.moves.length) moves.see(k.moves[0][0]);
    if (from !== "program" && k.program.length) rows.see(k.program[0][0] - 1);
    if (from !== "plan" && k.lines.length) {
      const p = files.choose(k.lines[0][0]);
      if (p) p.editor.see(k.lines[0][1]);
    }
    if (from !== "findings" && k.findings.length) list.see(k.findings[0]);
    if (from === "moves") view.go(thing.move + 1);
    if (k.transfers.length) view.of(k.transfers[0]);
    if (from === "view") say(known.words(thing));
  }

  // ---- why -----------------------------------------------------------------------

  async function askWhy(thing) {
    const asked = state && why.question(thing, known);
    if (!asked) { say("Choose a line, a move or a line of the program first."); return; }
    const version = asked.move || asked.programLine ? root.dataset.scene : state.version;
    if (!await why.ask(byId("why"), { ...asked, version, family: byId("family").value })) return;
    sorts.choose(byId("why-tab"));
    byId("spoken").textContent = byId("why").textContent;
  }
  // inFocus is what the keyboard is at, and otherwise what was chosen last.
  function inFocus() {
    const at = document.activeElement;
    if (at.closest(".editor")) return caretThing();
    if (at === byId("moves-list") && moves.active >= 0) return { move: moves.active };
    if (at === byId("program-list") && rows.active >= 0) return { program: rows.active + 1 };
    return chosen || caretThing();
  }
  const caretThing = () => files.chosen && { line: [files.chosen.name, files.chosen.editor.caret().line] };
  const listThing = () => (lists.chosen === byId("program-tab") ? rows.active >= 0 && { program: rows.active + 1 } : moves.active >= 0 && { move: moves.active });

  // ---- what is said --------------------------------------------------------------

  // say reads a message out, and shows it below the plan for a while.
  function say(text) {
    byId("spoken").textContent = text;
    clearTimeout(saidAt);
    byId("plan-line").textContent = text;
    saidAt = setTimeout(() => { saidAt = 0; caretLine(); }, shortly);
  }
  function caretLine() {
    const p = files.chosen;
    if (!p || saidAt) return;
    const { line, column } = p.editor.caret(), here = p.editor.findingsOn(line);
    const words = here.map((f) => `${f.severity}: ${f.message}${f.hint ? ` (${f.hint})` : ""}`).join("; ");
    byId("plan-line").textContent = `Line ${line}, column ${column}${words ? `: ${words}` : ""}`;
  }

  // ---- the panes -----------------------------------------------------------------

  const bar = notice.open(byId("notice"));
  const conflict = saving.open(byId("conflict"));
  const shownTip = tip.open(byId("tip"));
  const offers = completion.open(byId("offers"), {
    says: (text) => { byId("spoken").textContent = text; },
    ask: ({ line, column }) => link.suggest({ texts: files.texts(), file: files.chosen.name, line, column }),
  });
  const files = papers.open(byId("file-tabs"), byId("editors"), {
    typed: () => { turning = null; heading(); soon(); },
    letter: (p, e) => offers.typed(p.editor, e),
    key: (p, e) => offers.key(p.editor, e),
    tab: () => { offers.close(); shownTip.hide(); caretLine(); light(); },
    caret: (p, line) => {
      clearTimeout(saidAt);
      saidAt = 0;
      caretLine();
      choose({ line: [p.name, line] }, "plan");
    },
    point: (p, line, found) => {
      if (line && found.length) shownTip.show(p.editor, line, found); else shownTip.hide();
      point(line ? { line: [p.name, line] } : null);
    },
  });
  const list = findings.open(byId("findings-list"), {
    go: (f) => {
      const p = f.line && files.choose(f.file);
      choose({ finding: f }, "findings");
      if (p) p.editor.go(f.line, f.column, f.end);
    },
    apply: (f) => {
      const p = files.choose(f.file);
      if (!p) return;
      p.editor.replace(f.line, f.fix.column, f.fix.end, f.fix.text);
      p.editor.go(f.line, f.column);
    },
    point: (f) => point(f ? { finding: f } : null),
  });
  const knobBox = knobs.open(byId("knobs"), {
    turn: (knob, text) => {
      const p = files.choose(knob.file), now = p && p.editor.with(knob, text);
      if (!now) return; // it was typed over meanwhile: the server's next answer knows
      turning = { name: p.name, text: now };
      p.editor.show(now);
      p.editor.see(knob.line);
      soon();
    },
    keep: (knob, text) => {
      const p = files.get(knob.file), now = turning;
      turning = null;
      if (!p || !now) return;
      p.editor.show(null);
      p.editor.replace(knob.line, knob.column, knob.end, text);
    },
    point: (knob) => point(knob ? { line: [knob.file, knob.line] } : null),
  });
  const sorts = tabs.open(byId("facts-tabs"));
  const lists = tabs.open(byId("list-tabs"), () => fetchProgram());
  const cell = (name, text) => {
    const e = document.createElement("span");
    e.className = name;
    e.textContent = text;
    return e;
  };
  const moves = longlist.open(byId("moves-list"), {
    name: "Moves",
    fill: (row, i) => row.append(cell("n", i + 1), cell("t", scene.moves.transfer[i] || ""), cell("words", scene.moves.words[i])),
    on: { point: (i) => point(i === null ? null : { move: i }), choose: (i) => choose({ move: i }, "moves") },
  });
  const rows = longlist.open(byId("program-list"), {
    name: "Program",
    fill: (row, i) => row.append(cell("n", i + 1), cell("words", written.lines[i])),
    on: { point: (i) => point(i === null ? null : { program: i + 1 }), choose: (i) => choose({ program: i + 1 }, "program") },
  });
  const view = stage.open({
    say, point, choose: (thing) => choose(thing, "view"),
    now: (i) => {
      moves.here(i, true);
      light();
    },
  });
  const beside = { over: view.over, transfer: (n) => { if (view.clock) view.clock.toTransfer(n); }, slots: (grid, names) => choose({ slots: known.slotsNamed(grid, names) }, "facts") };
  steps.open(byId("first-steps"), byId("steps-open"), byId("steps-close"));
  paper.open(byId("paper"), () => files.each().map((p) => ({ name: p.name, text: p.editor.text })));
  for (const b of document.querySelectorAll("[role=separator]")) splitters.open(b, b.parentElement);

  // ---- keys and buttons ------------------------------------------------------------

  addEventListener("keydown", (e) => {
    const command = (e.ctrlKey || e.metaKey) && !e.altKey, key = e.key.toLowerCase();
    if (e.key === "Escape" && !e.target.closest(".editor")) choose(null);
    else if (command && key === "s") save();
    else if (e.altKey && !e.ctrlKey && e.code === "KeyY") askWhy(inFocus());
    else if (command && key === "z" && e.target.closest("#knobs")) turnBack(e.target, e.shiftKey);
    else return;
    e.preventDefault();
  });
  // turnBack undoes what was turned last, and leaves the keyboard where it is.
  function turnBack(at, again) {
    knobBox.keep();
    if (!files.chosen) return;
    files.chosen.editor.area.focus({ preventScroll: true });
    document.execCommand(again ? "redo" : "undo");
    at.focus({ preventScroll: true });
  }
  byId("save").addEventListener("click", save);
  byId("write").addEventListener("click", write);
  byId("why-line").addEventListener("click", () => askWhy(caretThing()));
  byId("why-chosen").addEventListener("click", () => askWhy(listThing()));
  byId("family").addEventListener("change", fetchProgram);
  addEventListener("beforeunload", (e) => { if (files.changed().length) e.preventDefault(); });

  // ---- the server --------------------------------------------------------------------

  root.dataset.link = "open";
  link.follow({
    change: lookAtDisk,
    gone: () => {
      bar.say("gone", "The plan’s file has been deleted or moved. What is shown is what it held; saving writes it again.", [["Save", async () => { await saveOne(files.each()[0]); lookAtDisk(); }]]);
      lookAtDisk();
    },
    back: () => { bar.say("gone", ""); lookAtDisk(); },
    lost: () => {
      root.dataset.link = "lost";
      bar.say("link", "The server has stopped. This page keeps your text and tries again.");
    },
    other: () => bar.say("link", "The server was started anew, at another address. Copy what you have not saved into the page that it opens."),
    found: () => { root.dataset.link = "open"; bar.say("link", ""); },
  });

  return {
    files,
    get clock() { return view.clock; },
    get viewer() { return view.viewer; },
    get state() { return state; },
    get scene() { return scene; },
  };
})();
