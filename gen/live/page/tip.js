
// Shows findings at the pointer. It stays while the pointer is on it, and Escape takes it
// away (WCAG 2.2, 1.4.13).
const tip = (() => {
  "use strict";

  const wait = 200; // ms for the way from the text to the tip

  function open(box) {
    let hiding = 0;
    box.addEventListener("pointerleave", hide);
    addEventListener("keydown", (e) => { if (e.key === "Escape") box.hidden = true; });

    function hide() {
      clearTimeout(hiding);
      hiding = setTimeout(() => { if (!box.matches(":hover")) box.hidden = true; }, wait);
    }
    function show(editor, line, found) {
      clearTimeout(hiding);
      const texts = found.flatMap((f) => [`${f.severity}: ${f.message} [${f.rule}]`, ...(f.hint ? [`Hint: ${f.hint}`] : [])]);
      box.replaceChildren(...texts.map((text) => {
        const e = document.createElement("p");
        e.textContent = text;
        return e;
      }));
      box.hidden = false;
      const at = editor.placeOf(line, found[0].column || 1), room = box.getBoundingClientRect();
      box.style.left = `${Math.max(4, Math.min(at.left, innerWidth - room.width - 4))}px`;
      box.style.top = `${at.bottom + room.height < innerHeight ? at.bottom : at.top - room.height}px`;
    }
    return { show, hide };
  }

  return { open };
})();
