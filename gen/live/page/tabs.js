
// Tabs as WAI-ARIA has them: the arrow keys go from tab to tab, and the panel of the
// chosen one is shown.
const tabs = (() => {
  "use strict";

  // open takes a tab list in which every tab names its panel by aria-controls.
  // on(tab) hears which one was chosen.
  function open(list, on = () => {}) {
    const all = () => [...list.querySelectorAll("[role=tab]")];
    function choose(tab, focus) {
      for (const t of all()) {
        const here = t === tab;
        t.setAttribute("aria-selected", String(here));
        t.tabIndex = here ? 0 : -1;
        document.getElementById(t.getAttribute("aria-controls")).hidden = !here;
      }
      if (focus) tab.focus();
      on(tab);
    }
    list.addEventListener("click", (e) => {
      const tab = e.target.closest("[role=tab]");
      if (tab) choose(tab);
    });
    list.addEventListener("keydown", (e) => {
      const tab = e.target.closest("[role=tab]"), row = all(), i = row.indexOf(tab);
      const to = { ArrowRight: i + 1, ArrowLeft: i - 1, Home: 0, End: row.length - 1 }[e.key];
      if (i < 0 || to === undefined) return;
      e.preventDefault();
      choose(row[(to + row.length) % row.length], true);
    });
    return { choose, get chosen() { return all().find((t) => t.getAttribute("aria-selected") === "true"); } };
  }

  return { open };
})();
