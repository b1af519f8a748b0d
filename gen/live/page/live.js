
// The page as a whole: texts go to the server as drafts, what it says about them goes to
// the panes, and what is pointed at in one pane lights its kin in the others.
const live = (() => {
  "use strict";

  const byId = (id) => document.getElementById(id);
  const pause = 60; // ms after the last letter, before the texts go to the server
  const root = document.documentElement;

  let state = null;               // what the server said last
  let scene = null, known = kin.of(null);
  let program = { key: "", lines: [] };
  let chosen = null, pointed = null; // things as kin has them
  let turning = null;             // a text that is looked at but not typed: {name, text}
  let reach = { list: 0, draft: 0 };

  // ---- texts -> state ------------------------------------------------------------

  // look asks what the server thinks of the texts as they stand here. disk says that a
  // file may have changed there.
  async function look(disk) {
    clearTimeout(reach.draft);
    try {
      if (disk || !state) {
        const now = await link.state();
        if (!now) return;
        files.take(now.files, true);
        told();
        if (!Object.keys(drafts()).length) { take(now); return; }
      }
      const texts = drafts(), some = Object.keys(texts).length > 0;
      const now = some ? await link.draft(texts, root.dataset.scene) : await link.state();
      if (!now) return;
      files.take(now.files, !some);
      take(now);
    } catch (e) {
      failed(e);
    }
  }
  function drafts() {
    const texts = files.unsaved();
    if (turning) texts[turning.name] = files.written(files.get(turning.name), turning.text);
    return texts;
  }
  function soon() {
    clearTimeout(reach.draft);
    link.drop("state");
    reach.draft = setTimeout(look, pause);
  }
  function failed(e) {
    if (e instanceof link.Refusal) say(`The server refuses: ${e.message}`);
    else if (!(e instanceof link.Unreached)) throw e; // that is told by the events that have ended
  }

  function take(now) {
    state = now;
    root.dataset.version = now.version;
    const errors = hasErrors();
    heading(errors);
    for (const p of files.each()) p.editor.find(now.findings.filter((f) => f.file === p.name && f.line));
    list.show(now.findings);
    byId("findings-tab").textContent = now.findings.length ? `Findings (${now.findings.length})` : "Findings";
    byId("findings-said").textContent = findings.count(now.findings) || `No error. ${now.summary || ""}`;
    fillList("not-looked", now.notLookedAt);
    figures(now.figures || []);
    knobBox.show(now.knobs || []);
    families(now);
    caretLine();
    fetchScene();
    old(errors);
  }
  const hasErrors = () => state.findings.some((f) => f.severity === "error");
  function heading(errors) {
    const unsaved = files.changed(), n = unsaved.length;
    byId("save").disabled = !n;
    byId("save").textContent = n > 1 ? `Save ${n} files` : "Save";
    const title = (scene && scene.title) || (state && state.title) || (state && state.files[0] && state.files[0].name) || "Gridferry";
    byId("title").textContent = title;
    document.title = `${n ? "• " : ""}${title}`;
    if (errors === undefined || !state) return;
    byId("summary").textContent = errors ? `${findings.count(state.findings)}: nothing is written` : [state.summary, findings.count(state.findings)].filter(Boolean).join("; ");
    byId("summary").classList.toggle("error", errors);
  }
  function old(errors) {
    const behind = errors || state.good !== state.version;
    if (!behind) stage_.old("");
    else stage_.old(scene ? `${errors ? "The plan has errors. " : ""}This picture is of the last plan without errors.` : "There is no picture: the plan has had errors since this page was opened.");
  }
  function fillList(id, texts) {
    const box = byId(id);
    if (!texts || !texts.length) { box.replaceChildren(); return; }
    const head = document.createElement("h3"), ul = document.createElement("ul");
    head.textContent = "Not looked at";
    ul.append(...texts.map((text) => {
      const li = document.createElement("li");
      li.textContent = text;
      return li;
    }));
    box.replaceChildren(head, ul);
  }
  function figures(all) {
    byId("figures").replaceChildren(...all.map(({ name, text }) => {
      const row = document.createElement("div"), dt = document.createElement("dt"), dd = document.createElement("dd");
      dt.textContent = name;
      dd.textContent = text;
      row.append(dt, dd);
      return row;
    }));
  }
  function families(now) {
    const box = byId("family"), names = (now.families || []).map((f) => f.name);
    if ([...box.options].map((o) => o.value).join() === names.join()) return;
    const was = box.value || now.family;
    box.replaceChildren(...(now.families || []).map((f) => {
      const o = document.createElement("option");
      o.value = o.textContent = f.name;
      o.title = f.doc || "";
      return o;
    }));
    if (names.includes(was)) box.value = was;
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
      stage_.show(scene);
      root.dataset.scene = version;
      moves.set(scene.moves.n);
      byId("moves-said").textContent = movesWords();
      chosen = pointed = null;
      light();
      heading(hasErrors());
      old(hasErrors());
      fetchProgram();
    } catch (e) {
      failed(e);
    }
  }
  function movesWords() {
    const { n, of, transfers } = scene.moves;
    const whole = of === undefined || n >= of ? `${n} moves` : `the first ${n} of ${of} moves`;
    return `${whole}${transfers ? ` in ${transfers} ${transfers === 1 ? "transfer" : "transfers"}` : ""}${scene.clock ? `, about ${scene.clock}` : ""}`;
  }
  // fetchProgram has the program, and which of its lines are whose, when somebody looks at it.
  async function fetchProgram() {
    const version = root.dataset.scene, family = byId("family").value, key = `${version} ${family}`;
    if (!version || program.key === key || programTabs.chosen !== byId("program-tab")) return;
    try {
      const [text, own] = await Promise.all([link.program(version, family), link.lines(version, family)]);
      if (text === null || own === null || root.dataset.scene !== version) return;
      program = { key, lines: text.replace(/\n$/, "").split("\n") };
      scene.moves.lines = own;
      byId("program-said").textContent = `${program.lines.length} lines of the family ${family}`;
    } catch (e) {
      if (e instanceof link.Unreached) return;
      program = { key, lines: [] };
      scene.moves.lines = null;
      byId("program-said").textContent = e.message;
    }
    known = kin.of(scene);
    rows.set(program.lines.length);
    light();
  }

  // write gives the program as a file. What is not saved has no program to take away:
  // the seal names the plan as it is on disk.
  async function write() {
    if (!state) return;
    const errors = state.findings.filter((f) => f.severity === "error");
    if (errors.length) {
      facts.choose(byId("findings-tab"));
      say(`Nothing is written: ${findings.count(errors)}.`);
      return;
    }
    if (files.changed().length) { say("Save first: the program’s seal names the plan as it is in the file."); return; }
    const family = byId("family").value;
    try {
      const text = await link.program(state.version, family);
      if (text === null) return;
      const a = document.createElement("a"), ending = ((state.families || []).find((f) => f.name === family) || {}).extension || ".txt";
      a.download = `${state.files[0].name.replace(/(\.plan)?\.ya?ml$/, "")}${ending}`;
      a.href = URL.createObjectURL(new Blob([text], { type: "text/plain" }));
      a.click();
      setTimeout(() => URL.revokeObjectURL(a.href), 10000);
      say(`${a.download} is written. Read it line by line with the person who knows the machine before it runs.`);
    } catch (e) {
      failed(e);
    }
  }

  // ---- saving --------------------------------------------------------------------

  async function save() {
    offers.close();
    knobBox.keep();
    for (const p of files.changed()) await saveOne(p);
    look(true);
  }
  async function saveOne(p) {
    let base = p.digest;
    for (;;) {
      const text = p.editor.text;
      try {
        const done = await link.save(p.name, files.written(p, text), base);
        if (!done) return;
        files.saved(p, text, done.digest);
        say(`${p.name} is saved.`);
        return;
      } catch (e) {
        if (!(e instanceof link.Refusal) || e.status !== 409) {
          say(`${p.name} is not saved: ${e instanceof link.Refusal ? e.message : "there is no server."}`);
          return;
        }
        const disk = JSON.parse(e.text), theirs = disk.text.replace(/\r\n?/g, "\n");
        files.choose(p.name);
        const answer = await conflict.ask(p.name, text, theirs);
        if (answer === "theirs") {
          p.editor.change(theirs, true);
          files.saved(p, theirs, disk.digest);
          return;
        }
        if (answer !== "mine") { say("Nothing is saved. Save again when you have looked."); return; }
        base = disk.digest;
      }
    }
  }
  // told says which unsaved files were changed on disk, too.
  function told() {
    const names = files.each().filter((p) => p.outside).map((p) => p.name);
    bar.say("outside", names.length ? `${names.join(", ")} was changed on disk, too. Your text here is not saved; saving will ask which one to keep.` : "");
  }

  // ---- kin -----------------------------------------------------------------------

  function light() {
    const thing = pointed || chosen, k = thing ? known.find(thing, (state && state.findings) || []) : kin.none;
    moves.light(k.moves);
    rows.light(k.program.map(([a, b]) => [a - 1, b - 1]));
    const lines = new Map();
    for (const [file, line] of k.lines) put(lines, file, line, "kin");
    const at = stage_.clock && stage_.clock.now;
    if (at && scene.moves.place) put(lines, scene.files[scene.moves.place[2 * at - 2]], scene.moves.place[2 * at - 1], "now");
    for (const p of files.each()) p.editor.light(lines.get(p.name) || new Map());
    list.light(k.findings);
    knobBox.light((file, line) => Boolean(lines.get(file) && lines.get(file).has(line)));
    stage_.light(k);
    return k;
  }
  function put(lines, file, line, sort) {
    if (!lines.has(file)) lines.set(file, new Map());
    const map = lines.get(file);
    map.set(line, `${map.get(line) || ""} ${sort}`.trim());
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
      const [file, line] = k.lines[0];
      const p = files.choose(file);
      if (p) p.editor.see(line);
    }
    if (from !== "findings" && k.findings.length) list.see(k.findings[0]);
    if (from === "moves") stage_.go(thing.move + 1);
    if (k.transfers.length) stage_.of(k.transfers[0]);
    if (from === "view") say(thingWords(thing));
  }
  function thingWords(thing) {
    if (thing.slot) return `Slot ${known.slotWords(thing.slot)}`;
    if (thing.move !== undefined) return moveWords(thing.move);
    if (thing.keepout !== undefined) return `Keep-out box ${scene.keepouts[thing.keepout].name}`;
    return thing.frame !== undefined ? `Frame ${scene.frames[thing.frame].name}` : "";
  }
  const moveWords = (i) => `Move ${i + 1}: ${scene.moves.words ? scene.moves.words[i] : ""}`;

  // ---- why -----------------------------------------------------------------------

  async function why(thing) {
    if (!state || !thing) { say("Choose a line, a move or a line of the program first."); return; }
    const family = byId("family").value, question = { version: state.good, family };
    if (thing.line) Object.assign(question, { file: thing.line[0], line: thing.line[1] });
    else if (thing.program) question.programLine = thing.program;
    else if (thing.move !== undefined) question.move = thing.move + 1;
    else {
      const k = known.find(thing, []);
      if (k.moves.length) question.move = k.moves[0][0] + 1;
      else if (k.lines.length) Object.assign(question, { file: k.lines[0][0], line: k.lines[0][1] });
    }
    try {
      const answer = await link.why(question);
      if (answer) showWhy(answer);
    } catch (e) {
      showWhy({ title: "No answer", lines: [e.message] });
    }
  }
  function showWhy({ title, lines }) {
    const head = document.createElement("h3");
    head.textContent = title;
    byId("why").replaceChildren(head, ...(lines || []).map((text) => {
      const p = document.createElement("p");
      p.textContent = text;
      return p;
    }));
    facts.choose(byId("why-tab"));
    say(`${title}. ${(lines || []).join(" ")}`);
  }
  // inFocus is what the keyboard is at, and otherwise what was chosen last.
  function inFocus() {
    const at = document.activeElement;
    if (at.closest(".editor")) return lineThing();
    if (at === byId("moves-list") && moves.active >= 0) return { move: moves.active };
    if (at === byId("program-list") && rows.active >= 0) return { program: rows.active + 1 };
    return chosen || lineThing();
  }
  function lineThing() {
    const p = files.chosen;
    return p && { line: [p.name, p.editor.caret().line] };
  }

  // ---- what is said --------------------------------------------------------------

  const say = (text) => {
    byId("spoken").textContent = text;
    toast(text);
  };
  // toast shows for a while below the editor what was said.
  let toasted = 0;
  function toast(text) {
    const box = byId("plan-line");
    clearTimeout(toasted);
    box.textContent = text;
    toasted = setTimeout(() => { toasted = 0; caretLine(); }, 6000);
  }
  function caretLine() {
    const p = files.chosen;
    if (!p || toasted) return;
    const { line, column } = p.editor.caret(), here = p.editor.findingsOn(line);
    const words = here.map((f) => `${f.severity}: ${f.message}${f.hint ? ` (${f.hint})` : ""}`).join("; ");
    byId("plan-line").textContent = `Line ${line}, column ${column}${words ? `: ${words}` : ""}`;
  }

  // ---- the panes -----------------------------------------------------------------

  const bar = notice.open(byId("notice"));
  const conflict = saving.open(byId("conflict"));
  const offers = completion.open(byId("offers"), {
    says: (text) => { byId("spoken").textContent = text; },
    ask: ({ line, column }) => link.suggest({ texts: files.texts(), file: files.chosen.name, line, column }),
  });
  const files = papers.open(byId("file-tabs"), byId("editors"), {
    typed: () => { turning = null; heading(); soon(); },
    letter: (p, e) => offers.typed(p.editor, e),
    key: (p, e) => offers.key(p.editor, e),
    tab: () => { offers.close(); caretLine(); tip(null); light(); },
    caret: (p, line) => {
      clearTimeout(toasted);
      toasted = 0;
      caretLine();
      choose({ line: [p.name, line] }, "plan");
    },
    point: (p, line, found) => {
      tip(line && found.length ? p : null, line, found);
      point(line ? { line: [p.name, line] } : null);
    },
  });
  const list = findings.open(byId("findings-list"), {
    go: (f) => {
      const p = f.line && files.choose(f.file);
      choose({ finding: f }, "findings");
      if (p) p.editor.go(f.line, f.column, f.end);
    },
    apply: (f, text) => {
      const p = files.choose(f.file);
      if (!p) return;
      p.editor.replace(f.line, f.column, f.end, text);
      p.editor.go(f.line, f.column);
    },
    point: (f) => point(f ? { finding: f } : null),
  });
  const knobBox = knobs.open(byId("knobs"), {
    turn: (knob, text) => {
      const p = files.choose(knob.file), row = p && p.editor.text.split("\n")[knob.line - 1];
      if (!row) return;
      const [a, b] = [columns.index(row, knob.column), columns.index(row, knob.end)];
      if (row.slice(a, b) !== knob.text) return; // it was typed over meanwhile: the server's next answer knows
      const all = p.editor.text.split("\n");
      all[knob.line - 1] = row.slice(0, a) + text + row.slice(b);
      turning = { name: p.name, text: all.join("\n") };
      p.editor.show(turning.text);
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
  const facts = tabs.open(byId("facts-tabs"));
  const programTabs = tabs.open(byId("list-tabs"), (tab) => { if (tab.id === "program-tab") fetchProgram(); });
  const column = (cls, text) => {
    const e = document.createElement("span");
    e.className = cls;
    e.textContent = text;
    return e;
  };
  const moves = longlist.open(byId("moves-list"), {
    name: "Moves",
    fill: (row, i) => {
      const m = scene.moves;
      row.append(column("n", i + 1), column("t", (m.transfer && m.transfer[i]) || ""), column("words", m.words ? m.words[i] : m.kinds[m.kind[i]]));
    },
    on: { point: (i) => point(i === null ? null : { move: i }), choose: (i) => choose({ move: i }, "moves") },
  });
  const rows = longlist.open(byId("program-list"), {
    name: "Program",
    fill: (row, i) => row.append(column("n", i + 1), column("words", program.lines[i])),
    on: { point: (i) => point(i === null ? null : { program: i + 1 }), choose: (i) => choose({ program: i + 1 }, "program") },
  });
  const stage_ = stage.open({
    point, choose: (thing) => choose(thing, "view"),
    now: (i) => {
      moves.here(i, true);
      light();
    },
  });

  // tip shows findings at the pointer. It stays while the pointer is on it, and Escape
  // takes it away (WCAG 1.4.13).
  let hiding = 0;
  function tip(p, line, found) {
    const box = byId("tip");
    clearTimeout(hiding);
    if (!p) {
      hiding = setTimeout(() => { if (!box.matches(":hover")) box.hidden = true; }, 200);
      return;
    }
    box.replaceChildren(...found.flatMap((f) => [`${f.severity}: ${f.message} [${f.rule}]`, ...(f.hint ? [`Hint: ${f.hint}`] : [])]).map((text) => {
      const e = document.createElement("p");
      e.textContent = text;
      return e;
    }));
    const at = p.editor.placeOf(line, found[0].column || 1);
    box.hidden = false;
    const room = box.getBoundingClientRect();
    box.style.left = `${Math.max(4, Math.min(at.left, innerWidth - room.width - 4))}px`;
    box.style.top = `${at.bottom + room.height < innerHeight ? at.bottom : at.top - room.height}px`;
  }
  byId("tip").addEventListener("pointerleave", () => tip(null));

  addEventListener("keydown", (e) => {
    if (e.key === "Escape") {
      byId("tip").hidden = true;
      if (!e.target.closest(".editor")) choose(null);
    }
    if ((e.ctrlKey || e.metaKey) && !e.altKey && e.key.toLowerCase() === "s") {
      e.preventDefault();
      save();
    }
    if (e.altKey && !e.ctrlKey && e.code === "KeyY") {
      e.preventDefault();
      why(inFocus());
    }
    // An undo in the panes takes back what was turned there last.
    if ((e.ctrlKey || e.metaKey) && e.key.toLowerCase() === "z" && e.target.closest("#knobs")) {
      e.preventDefault();
      knobBox.keep();
      const p = files.chosen, back = e.target;
      if (!p) return;
      p.editor.area.focus({ preventScroll: true });
      document.execCommand(e.shiftKey ? "redo" : "undo");
      back.focus({ preventScroll: true });
    }
  });
  byId("save").addEventListener("click", save);
  byId("write").addEventListener("click", write);
  byId("why-line").addEventListener("click", () => why(lineThing()));
  byId("why-chosen").addEventListener("click", () => why(programTabs.chosen.id === "program-tab" ? rows.active >= 0 && { program: rows.active + 1 } : moves.active >= 0 && { move: moves.active }));
  byId("family").addEventListener("change", () => {
    if (state) fetchProgram();
  });
  addEventListener("beforeunload", (e) => { if (files.changed().length) e.preventDefault(); });

  // First steps are open until they are closed once; some browsers keep nothing.
  function steps(open) {
    byId("first-steps").hidden = !open;
    byId("steps-open").setAttribute("aria-expanded", String(open));
    try { localStorage.setItem("first-steps", open ? "" : "closed"); } catch { /* then they open again */ }
  }
  let closed = "";
  try { closed = localStorage.getItem("first-steps"); } catch { /* then they are open */ }
  steps(closed !== "closed");
  byId("steps-open").addEventListener("click", () => steps(byId("first-steps").hidden));
  byId("steps-close").addEventListener("click", () => { steps(false); byId("steps-open").focus(); });
  for (const b of document.querySelectorAll("[role=separator]")) splitters.open(b, b.parentElement);

  // On paper the texts stand as a whole.
  addEventListener("beforeprint", () => {
    byId("paper").replaceChildren(...files.each().flatMap((p) => {
      const head = document.createElement("h2"), text = document.createElement("pre");
      head.textContent = p.name;
      const wide = String(p.editor.text.split("\n").length).length;
      text.textContent = p.editor.text.replace(/\n$/, "").split("\n").map((row, i) => `${String(i + 1).padStart(wide)}  ${row}`).join("\n");
      return [head, text];
    }));
  });
  addEventListener("afterprint", () => byId("paper").replaceChildren());

  link.follow({
    change: () => look(true),
    gone: () => bar.say("gone", "The plan’s file has been deleted or moved. What is shown is what it held; saving writes it again.", [["Save", saveAgain]]),
    back: () => { bar.say("gone", ""); look(true); },
    lost: () => {
      root.dataset.link = "lost";
      bar.say("link", "The server has stopped. This page keeps your text and tries again; if you start gridferry live anew, copy your text into the page that it opens.");
    },
    found: () => { root.dataset.link = "open"; bar.say("link", ""); },
  });
  async function saveAgain() {
    await saveOne(files.each()[0]);
    look(true);
  }
  root.dataset.link = "open"; // the first event says what there is

  return { get state() { return state; }, get scene() { return scene; }, get stage() { return stage_; } };
})();
