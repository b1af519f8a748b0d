
// What the server says of the plan, in the heading and in the pane of findings and figures.
const facts = (() => {
  "use strict";

  const byId = (id) => document.getElementById(id);
  const errors = (state) => state.findings.some((f) => f.severity === "error");

  // element makes one with a text or with children.
  function element(name, ...inner) {
    const e = document.createElement(name);
    e.append(...inner);
    return e;
  }

  function show(state) {
    const wrong = errors(state), count = findings.count(state.findings);
    byId("summary").textContent = wrong ? `${count}: nothing is written` : [state.summary, count].filter(Boolean).join("; ");
    byId("summary").classList.toggle("error", wrong);
    byId("findings-tab").textContent = state.findings.length ? `Findings (${state.findings.length})` : "Findings";
    byId("findings-said").textContent = count || `No error. ${state.summary}`;
    const left = state.notLookedAt;
    byId("not-looked").replaceChildren(...(left.length ? [element("h3", "Not looked at"), element("ul", ...left.map((text) => element("li", text)))] : []));
    byId("figures").replaceChildren(...state.figures.map(({ name, text }) => element("div", element("dt", name), element("dd", text))));
    families(state);
  }
  // families fills the choice of them once: they stay what they were when the server started.
  function families(state) {
    const box = byId("family");
    if (box.options.length) return;
    box.append(...state.families.map((f) => new Option(f.name, f.name)));
    [...box.options].forEach((o, i) => { o.title = state.families[i].doc; });
    box.value = state.family;
  }
  // unsaved says how many files are not saved, on the button and in the window's title.
  function unsaved(count, title) {
    byId("save").disabled = !count;
    byId("save").textContent = count > 1 ? `Save ${count} files` : "Save";
    byId("title").textContent = title;
    document.title = `${count ? "• " : ""}${title}`;
  }

  return { show, errors, unsaved };
})();
