
// The list of findings: what is wrong, where, by which rule, and what to do about it.
const findings = (() => {
  "use strict";

  const words = { error: "Error", warning: "Warning" };

  function place(f) {
    if (!f.line) return f.file || "";
    return `${f.file}, line ${f.line}${f.column ? `, column ${f.column}` : ""}`;
  }
  function count(list) {
    const tell = (n, one, more) => (n ? [`${n} ${n === 1 ? one : more}`] : []);
    const errors = list.filter((f) => f.severity === "error").length;
    return [...tell(errors, "error", "errors"), ...tell(list.length - errors, "warning", "warnings")].join(", ");
  }

  // open fills a list: on.go(finding), on.apply(finding), on.point(finding or null).
  function open(list, on) {
    let shown = [];
    const item = (f, i) => {
      const e = document.createElement("li"), head = document.createElement("button"), word = document.createElement("b");
      e.dataset.rule = f.rule;
      e.dataset.n = i;
      e.className = f.severity;
      head.type = "button";
      head.className = "finding-go";
      word.textContent = `${f.severity === "error" ? "✕" : "!"} ${words[f.severity] || f.severity}: `;
      const where = document.createElement("span");
      where.className = "quiet";
      where.textContent = ` ${place(f)} [${f.rule}]`;
      head.append(word, f.message, where);
      head.addEventListener("click", () => on.go(f));
      e.append(head);
      for (const n of f.notes || []) {
        const note = document.createElement("p");
        note.textContent = `${n.message}${n.line ? ` (${place(n)})` : ""}`;
        e.append(note);
      }
      if (f.hint) e.append(hint(f));
      return e;
    };
    function hint(f) {
      const e = document.createElement("p");
      e.textContent = `Hint: ${f.hint} `;
      if (f.fix) {
        const button = document.createElement("button");
        button.type = "button";
        button.className = "apply";
        button.textContent = `Write “${f.fix.text}”`;
        button.addEventListener("click", () => on.apply(f));
        e.append(button);
      }
      return e;
    }
    for (const [event, at] of [["pointerover", true], ["focusin", true], ["pointerleave", false], ["focusout", false]]) {
      list.addEventListener(event, (e) => {
        const li = at && e.target.closest("li");
        on.point(li ? shown[li.dataset.n] : null);
      });
    }

    return {
      show(found) {
        if (JSON.stringify(found) === JSON.stringify(shown)) return; // the keyboard may stand in it
        shown = found;
        list.replaceChildren(...found.map(item));
      },
      light(which) {
        [...list.children].forEach((li, i) => li.classList.toggle("kin", which.includes(i)));
      },
      see(i) {
        if (list.children[i]) list.children[i].scrollIntoView({ block: "nearest" });
      },
    };
  }

  return { open, place, count };
})();
