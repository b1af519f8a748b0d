
// Offers keys and names at the caret. The keyboard stays in the text: the arrow keys go
// through the list, Enter takes, Escape leaves (the listbox pattern of WAI-ARIA, with
// the text area in place of a combobox, which may not have several lines).
const completion = (() => {
  "use strict";

  const wait = 90; // ms after a letter
  const word = /[\w.-]*$/;

  // open takes the listbox and says(words), which reads them out.
  function open(box, { ask, says }) {
    let offers = [], active = -1, ed = null, at = null, timer = 0;
    box.setAttribute("role", "listbox");
    box.tabIndex = 0; // it scrolls
    box.setAttribute("aria-label", "What can be written here");

    function close() {
      clearTimeout(timer);
      link.drop("suggest");
      if (ed) ed.area.removeAttribute("aria-activedescendant");
      offers = [];
      box.hidden = true;
      box.replaceChildren();
    }
    // wanted asks for offers; asked is true where a person did, not a letter.
    async function wanted(editor, asked) {
      const caret = editor.caret();
      const list = await ask(caret).catch(() => []);
      const now = editor.caret();
      if (!list || document.activeElement !== editor.area || now.line !== caret.line || now.column !== caret.column) return;
      const before = editor.rowAt(caret.line).slice(0, columns.index(editor.rowAt(caret.line), caret.column));
      const typed = word.exec(before)[0];
      if (!list.length || (!asked && list.length === 1 && list[0].insert.trim() === typed)) {
        close();
        if (asked) says("Nothing to offer here");
        return;
      }
      [ed, at, offers] = [editor, caret, list];
      show(caret.column - [...typed].length);
      choose(asked ? 0 : -1);
      says(`${list.length} to choose from`);
    }
    function show(from) {
      box.replaceChildren(...offers.map((o, i) => {
        const e = document.createElement("div"), name = document.createElement("b"), doc = document.createElement("span");
        e.className = "offer";
        e.id = `offer-${i}`;
        e.dataset.offer = i;
        e.setAttribute("role", "option");
        name.textContent = o.text;
        doc.textContent = [o.kind, o.doc].filter(Boolean).join(": ");
        e.append(name, doc);
        return e;
      }));
      box.hidden = false;
      const place = ed.placeOf(at.line, from), room = box.getBoundingClientRect();
      const below = place.bottom + room.height < innerHeight || place.top < room.height;
      box.style.left = `${Math.max(4, Math.min(place.left, innerWidth - room.width - 4))}px`;
      box.style.top = `${below ? place.bottom : place.top - room.height}px`;
    }
    function choose(i) {
      active = i;
      [...box.children].forEach((e, k) => e.setAttribute("aria-selected", String(k === i)));
      if (i >= 0) {
        ed.area.setAttribute("aria-activedescendant", `offer-${i}`);
        box.children[i].scrollIntoView({ block: "nearest" });
      } else ed.area.removeAttribute("aria-activedescendant");
    }
    function take(i) {
      const { insert, column, end } = offers[i], editor = ed, { line } = at;
      close();
      editor.replace(line, column, end, insert);
    }

    box.addEventListener("pointerdown", (e) => e.preventDefault()); // the keyboard stays in the text
    box.addEventListener("click", (e) => {
      const offer = e.target.closest(".offer");
      if (offer) take(Number(offer.dataset.offer));
    });

    return {
      close,
      // key sees every key of an editor first and says whether it used it.
      key(editor, e) {
        if (e.key === " " && e.ctrlKey) {
          e.preventDefault();
          wanted(editor, true);
          return true;
        }
        if (box.hidden) return false;
        const n = offers.length;
        const to = { ArrowDown: (active + 1) % n, ArrowUp: (active <= 0 ? n : active) - 1 }[e.key];
        if (to !== undefined) choose(to);
        else if (e.key === "Enter" && active >= 0) take(active);
        else if (e.key === "Escape") close();
        else {
          if (["ArrowLeft", "ArrowRight", "Home", "End", "Tab", "Enter"].includes(e.key)) close();
          return false;
        }
        e.preventDefault();
        return true;
      },
      // typed hears what was typed into an editor.
      typed(editor, e) {
        clearTimeout(timer);
        const letter = e.inputType === "insertText" && /^[\w.-]$/.test(e.data || "");
        if (!letter && box.hidden) return;
        if (!letter && e.inputType !== "deleteContentBackward") { close(); return; }
        timer = setTimeout(() => wanted(editor, false), wait);
      },
    };
  }

  return { open };
})();
