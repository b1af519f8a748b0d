// handing.out(title) is a place on the page that hands out a text: to be copied, or saved as a
// file. It is an element with show(text, file) for a text that is ready, and lacks(why).
const handing = (() => {
  "use strict";
  const { make } = paper;
  let count = 0;

  function out(title) {
    const id = `text-${++count}`;
    const text = make("textarea", { id, class: "code", readonly: "", rows: 8, spellcheck: "false" });
    const copy = make("button", { type: "button" }, "Copy");
    const save = make("a", { class: "button", download: "" });
    const told = make("p", { role: "status" });
    const ready = make("div", { hidden: "" }, make("label", { for: id }, title), text, make("div", { class: "controls" }, copy, save));
    const host = make("div", { class: "handed" }, told, ready);
    copy.addEventListener("click", async () => {
      text.select();
      try {
        await navigator.clipboard.writeText(text.value);
        told.textContent = "Copied.";
      } catch {
        told.textContent = "The text is marked: copy it with the keys of this browser.";
      }
    });
    return Object.assign(host, {
      show(value, file) {
        if (text.value === value && save.download === file && !ready.hidden) return;
        save.download = file;
        save.textContent = `Save as ${file}`;
        text.value = value;
        URL.revokeObjectURL(save.href);
        save.href = URL.createObjectURL(new Blob([value], { type: "text/plain" }));
        told.textContent = "";
        ready.hidden = false;
      },
      lacks(why) {
        told.textContent = why;
        ready.hidden = true;
      },
    });
  }
  return { out };
})();
