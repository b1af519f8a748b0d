// paper is the page: what it was given as data, and elements found and made.
//   paper.make("p", { class: "told" }, "text or element", …)
const paper = (() => {
  "use strict";
  const byId = (id) => document.getElementById(id);
  // make gives an element: attributes as they are written, but for undefined ones, and texts that
  // stay texts.
  function make(name, attributes, ...inside) {
    const e = document.createElement(name);
    for (const [k, v] of Object.entries(attributes || {})) if (v !== undefined) e.setAttribute(k, v);
    e.append(...inside);
    return e;
  }
  for (const e of document.querySelectorAll(".scripted")) e.hidden = false;
  return { byId, make, data: JSON.parse(byId("job-data").textContent) };
})();
