// What the timeline shows, as a table and sentences: timetable.fill(parent, spent, traces).
const timetable = (() => {
  "use strict";

  function add(parent, name, text, attributes) {
    const e = document.createElement(name);
    if (text !== undefined) e.textContent = text;
    for (const [k, v] of Object.entries(attributes || {})) e.setAttribute(k, v);
    parent.append(e);
    return e;
  }
  function fill(parent, spent, { joints }) {
    const { kinds } = spending, used = kinds.map((_, i) => i).filter((i) => spent.sum(i).moves);
    const table = add(parent, "table");
    add(table, "caption", "What the time goes to, seconds");
    const top = add(add(table, "thead"), "tr");
    for (const text of ["Stop", "Part", ...used.map((i) => kinds[i].says), "Together"]) add(top, "th", text, { scope: "col" });
    const body = add(table, "tbody");
    const line = (name, part, of) => {
      const tr = add(body, "tr");
      add(tr, "th", name, { scope: "row" });
      add(tr, "td", part);
      for (const i of used) add(tr, "td", amount(kinds[i], of(i)));
      add(tr, "td", used.reduce((sum, i) => sum + of(i).seconds, 0).toFixed(1));
    };
    spent.stops.forEach((s, k) => { if (spent.totals[k].some((x) => x.moves)) line(s.name, s.part, (i) => spent.totals[k][i]); });
    line("All", "", spent.sum);
    for (const j of joints) add(parent, "p", j.words);
  }
  const amount = (kind, { seconds, moves }) => (!moves ? "" : kind.unknown ? `${moves} of unknown length` : seconds.toFixed(1));
  return { fill };
})();
