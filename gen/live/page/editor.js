
// The editor of one file: a plain text area, whose caret, selection and undo stay the
// browser's own, over a coloured copy of the lines in sight. The area is as large as its
// text, and what is around both scrolls, so that they never part.
const editor = (() => {
  "use strict";

  const beyond = 10; // lines that are ready above and below what is in sight

  // open makes the editor of a file in a host element. on.change(text) hears what was
  // typed, on.caret(line, column), on.point(line, found) what the pointer is at, and
  // on.key(event) every key first; it says true where it has used it.
  function open(host, { name, text, readonly, describedBy, on }) {
    const make = (tag, cls, into) => {
      const e = document.createElement(tag);
      e.className = cls;
      into.append(e);
      return e;
    };
    const sheet = make("div", "editor-sheet", host);
    const gutter = make("div", "gutter", sheet), copy = make("div", "copy", sheet);
    gutter.setAttribute("aria-hidden", "true");
    copy.setAttribute("aria-hidden", "true");
    const area = make("textarea", "", sheet);
    area.spellcheck = false;
    area.wrap = "off";
    area.readOnly = Boolean(readonly);
    area.autocomplete = "off";
    for (const [k, v] of Object.entries({
      "aria-label": `Text of ${name}`, "aria-describedby": describedBy, "aria-autocomplete": "list",
      autocapitalize: "off", autocorrect: "off",
    })) area.setAttribute(k, v);

    let rows = [""], starts = [0]; // lines, and where each begins in the text
    let shown = null; // a text that is looked at but not typed: of a figure that is being turned
    let found = [], lit = new Map(), planned = false, leaving = false;
    const ends = new AbortController();

    // ---- the text ------------------------------------------------------------

    function measure() {
      rows = (shown ?? area.value).split("\n");
      starts = new Array(rows.length);
      let at = 0, longest = 0;
      rows.forEach((row, i) => {
        starts[i] = at;
        at += row.length + 1;
        if (row.length > longest) longest = row.length;
      });
      sheet.style.setProperty("--lines", rows.length);
      sheet.style.setProperty("--longest", longest + 2);
      sheet.style.setProperty("--digits", String(rows.length).length);
      plan();
    }
    // lineAt is the line, from 0, that holds a place of the text.
    function lineAt(index) {
      let low = 0, high = starts.length - 1;
      while (low < high) {
        const mid = (low + high + 1) >> 1;
        if (starts[mid] <= index) low = mid; else high = mid - 1;
      }
      return low;
    }
    // write puts a text in place of [from, to) as typing would, so that undo takes it back.
    // The keyboard goes back to where it was.
    function write(from, to, put) {
      const before = document.activeElement, at = [area.selectionStart, area.selectionEnd];
      area.focus({ preventScroll: true });
      area.setSelectionRange(from, to);
      const done = put === "" ? document.execCommand("delete") : document.execCommand("insertText", false, put);
      if (!done) {
        area.setRangeText(put, from, to, "end");
        area.dispatchEvent(new InputEvent("input", { inputType: "insertReplacementText" }));
      }
      if (before === area || !before || before === document.body) return;
      const moved = (i) => (i <= from ? i : Math.max(from, i + put.length - (to - from)));
      area.setSelectionRange(moved(at[0]), moved(at[1]));
      before.focus({ preventScroll: true });
    }
    // change puts a whole text in place of the present one and touches only what differs.
    function change(now, undoable) {
      const old = area.value;
      if (now === old) return;
      let from = 0, end = 0;
      const most = Math.min(old.length, now.length);
      while (from < most && old[from] === now[from]) from++;
      while (end < most - from && old[old.length - 1 - end] === now[now.length - 1 - end]) end++;
      if (undoable) { write(from, old.length - end, now.slice(from, now.length - end)); return; }
      area.setRangeText(now.slice(from, now.length - end), from, old.length - end, "preserve");
      measure();
    }

    // ---- the copy ------------------------------------------------------------

    const height = () => parseFloat(getComputedStyle(area).lineHeight) || 21;
    function plan() {
      if (planned) return;
      planned = true;
      requestAnimationFrame(() => { planned = false; draw(); });
    }
    function draw() {
      if (host.hidden) return;
      const h = height();
      const first = Math.max(0, Math.floor(host.scrollTop / h) - beyond);
      const last = Math.min(rows.length - 1, Math.ceil((host.scrollTop + host.clientHeight) / h) + beyond);
      const numbers = [], texts = [], caret = lineAt(area.selectionStart);
      for (let i = first; i <= last; i++) {
        const here = found.filter((f) => f.line === i + 1), sorts = lit.get(i + 1) || "";
        numbers.push(numberOf(i, h, here, `${sorts}${i === caret ? " caret" : ""}`));
        texts.push(rowOf(i, h, here, sorts));
      }
      gutter.replaceChildren(...numbers);
      copy.replaceChildren(...texts);
    }
    function numberOf(i, h, here, sorts) {
      const e = document.createElement("span");
      const worst = here.some((f) => f.severity === "error") ? "error" : here.length ? "warning" : "";
      e.className = `line-number ${worst} ${sorts}`;
      e.textContent = `${{ error: "✕ ", warning: "! ", "": "" }[worst]}${i + 1}`;
      e.style.top = `${i * h}px`;
      return e;
    }
    function rowOf(i, h, here, sorts) {
      const e = document.createElement("div"), text = rows[i];
      e.className = `text-row ${sorts}`;
      e.style.top = `${i * h}px`;
      const spans = here.map((f) => [...columns.span(text, f.column, f.end), f.severity]);
      for (const [sort, from, to] of highlight.pieces(text, name)) {
        const cuts = [from, to, ...spans.flatMap(([a, b]) => [a, b])].filter((x) => x >= from && x <= to).sort((a, b) => a - b);
        for (let k = 1; k < cuts.length; k++) {
          if (cuts[k] === cuts[k - 1]) continue;
          const under = spans.find(([a, b]) => a <= cuts[k - 1] && cuts[k] <= b);
          const piece = document.createElement("span");
          piece.className = `${sort && `is-${sort}`} ${under ? `found ${under[2]}` : ""}`.trim();
          piece.textContent = text.slice(cuts[k - 1], cuts[k]);
          e.append(piece);
        }
      }
      const after = spans.find(([a]) => a >= text.length);
      if (after) {
        const piece = document.createElement("span");
        piece.className = `found ${after[2]}`;
        piece.textContent = " ";
        e.append(piece);
      }
      return e;
    }

    // ---- keys ------------------------------------------------------------------

    // indent moves the lines of the selection in or out by two spaces.
    function indent(out) {
      const first = lineAt(area.selectionStart), last = lineAt(Math.max(area.selectionStart, area.selectionEnd - 1));
      if (!out && area.selectionStart === area.selectionEnd) { write(area.selectionStart, area.selectionEnd, "  "); return; }
      const from = starts[first], to = starts[last] + rows[last].length;
      const moved = rows.slice(first, last + 1).map((row) => (out ? row.replace(/^ {1,2}/, "") : row && `  ${row}`)).join("\n");
      if (moved === area.value.slice(from, to)) return;
      write(from, to, moved);
      if (first !== last) area.setSelectionRange(from, from + moved.length);
    }
    // A new line begins as far in as the one before, two spaces further after a colon.
    function enter() {
      const row = rows[lineAt(area.selectionStart)], before = row.slice(0, area.selectionStart - starts[lineAt(area.selectionStart)]);
      const inner = /^ */.exec(before)[0] + (/:\s*(#.*)?$/.test(before) ? "  " : "");
      write(area.selectionStart, area.selectionEnd, `\n${inner}`);
    }
    area.addEventListener("keydown", (e) => {
      if (on.key(e)) return;
      if (e.key === "Escape") { leaving = true; return; }
      const plain = !e.ctrlKey && !e.altKey && !e.metaKey && !area.readOnly;
      if (e.key === "Tab" && plain && !leaving) { e.preventDefault(); indent(e.shiftKey); }
      if (e.key === "Enter" && plain && !e.shiftKey && !e.isComposing) { e.preventDefault(); enter(); }
      if (e.key !== "Shift") leaving = false;
    });
    area.addEventListener("blur", () => { leaving = false; plan(); });
    area.addEventListener("input", () => {
      shown = null;
      measure();
      on.change(area.value);
    });

    // ---- caret and pointer -------------------------------------------------------

    function caret() {
      const line = lineAt(area.selectionStart);
      return { line: line + 1, column: columns.column(rows[line], area.selectionStart - starts[line]) };
    }
    document.addEventListener("selectionchange", () => {
      if (document.activeElement !== area) return;
      plan();
      const at = caret();
      on.caret(at.line, at.column);
    }, { signal: ends.signal });
    // letter is how wide a letter is; all are alike.
    function letter() {
      const probe = document.createElement("span");
      probe.textContent = "0".repeat(50);
      copy.append(probe);
      const wide = probe.getBoundingClientRect().width / 50;
      probe.remove();
      return wide || 8;
    }
    function findingsAt(line, index) {
      return found.filter((f) => {
        if (f.line !== line) return false;
        const [a, b] = columns.span(rows[line - 1] || "", f.column, f.end);
        return a <= index && index <= b;
      });
    }
    let x = -1, y = -1;
    area.addEventListener("pointermove", (e) => {
      if (e.clientX === x && e.clientY === y) return;
      [x, y] = [e.clientX, e.clientY];
      const box = area.getBoundingClientRect();
      const line = Math.floor((e.clientY - box.top) / height()) + 1;
      if (line < 1 || line > rows.length) { on.point(null, []); return; }
      on.point(line, findingsAt(line, Math.floor((e.clientX - box.left - parseFloat(getComputedStyle(area).paddingLeft)) / letter())));
    });
    area.addEventListener("pointerleave", () => on.point(null, []));
    host.addEventListener("scroll", plan, { passive: true });
    const sizes = new ResizeObserver(plan);
    sizes.observe(host);

    // see scrolls a line into sight, if it is not there already.
    function see(line) {
      const h = height(), top = (line - 1) * h;
      if (top < host.scrollTop || top + h > host.scrollTop + host.clientHeight) host.scrollTop = Math.max(0, top - host.clientHeight / 3);
      plan();
    }
    // placeOf is where a place of the text is on the screen.
    function placeOf(line, column) {
      const box = area.getBoundingClientRect(), style = getComputedStyle(area), row = rows[line - 1] || "";
      const piece = copy.ownerDocument.createElement("span");
      piece.className = "text-row";
      piece.textContent = row.slice(0, columns.index(row, column));
      copy.append(piece);
      const wide = piece.textContent ? piece.getBoundingClientRect().width : 0;
      piece.remove();
      const top = box.top + (line - 1) * height();
      return { left: box.left + parseFloat(style.paddingLeft) + wide, top, bottom: top + height() };
    }

    area.value = text;
    measure();

    return {
      area, host, caret, see, placeOf, change, plan,
      // close lets go of what would hold the editor after its elements are gone.
      close() { ends.abort(); sizes.disconnect(); },
      get text() { return area.value; },
      rowAt: (line) => rows[line - 1],
      // find underlines findings of this file and says so to screen readers.
      find(list) {
        found = list;
        area.setAttribute("aria-invalid", String(list.some((f) => f.severity === "error")));
        plan();
      },
      findingsOn: (line) => found.filter((f) => f.line === line),
      // light marks lines: a map from line to class names.
      light(map) { lit = map; plan(); },
      // show has a text looked at that was not typed; null has the typed one back.
      show(other) {
        shown = other;
        measure();
      },
      // with is the text as it would be with another text in place of a figure; "" where that
      // figure does not stand there any more.
      with({ line, column, end, text }, put) {
        const all = area.value.split("\n"), row = all[line - 1] || "";
        const [from, to] = [columns.index(row, column), columns.index(row, end)];
        if (row.slice(from, to) !== text) return "";
        all[line - 1] = row.slice(0, from) + put + row.slice(to);
        return all.join("\n");
      },
      // replace puts a text in place of the characters [column, end) of a line.
      replace(line, column, end, put) {
        const from = starts[line - 1], row = rows[line - 1];
        write(from + columns.index(row, column), from + columns.index(row, end), put);
      },
      // go puts the caret to a place.
      go(line, column, end) {
        const n = Math.max(1, Math.min(rows.length, line)), row = rows[n - 1];
        const from = starts[n - 1] + columns.index(row, column || 1);
        area.focus({ preventScroll: true });
        area.setSelectionRange(from, end > column ? starts[n - 1] + columns.index(row, end) : from);
        see(n);
      },
    };
  }

  return { open };
})();
