
// On paper the texts stand as a whole, with their numbers, behind findings and figures.
const paper = (() => {
  "use strict";

  function numbered(text) {
    const rows = text.replace(/\n$/, "").split("\n"), wide = String(rows.length).length;
    return rows.map((row, i) => `${String(i + 1).padStart(wide)}  ${row}`).join("\n");
  }
  // open fills a section right before it is printed. files() gives {name, text} each.
  function open(section, files) {
    addEventListener("beforeprint", () => {
      section.replaceChildren(...files().flatMap(({ name, text }) => {
        const head = document.createElement("h2"), body = document.createElement("pre");
        head.textContent = name;
        body.textContent = numbered(text);
        return [head, body];
      }));
    });
    addEventListener("afterprint", () => section.replaceChildren());
  }

  return { open };
})();
