
"use strict";
// Lights up what belongs to the line under the pointer or the keyboard. Without
// this script the numbers still lead from column to column.
(() => {
  const answer = document.getElementById("answer");
  const greeting = answer.textContent;
  const moves = [...document.querySelectorAll("#moves li")];
  const program = [...document.querySelectorAll("#program li")];
  const words = (text) => (text || "").split(" ").filter(Boolean);
  const linesOf = new Map();
  for (const line of program) {
    const move = line.dataset.move;
    if (move) linesOf.set(move, [...(linesOf.get(move) || []), line]);
  }
  const byId = (id) => document.getElementById(id);

  // kin gives the lines that a line was made by or made, and those it rests on.
  function kin(line) {
    const made = [], rests = [];
    const column = line.closest("section").id;
    if (column === "plan") {
      for (const move of moves) {
        const own = move.dataset.made === line.id;
        if (!own && !words(move.dataset.rests).includes(line.id)) continue;
        (own ? made : rests).push(move, ...(linesOf.get(move.id) || []));
      }
      made.push(...program.filter((l) => l.dataset.made === line.id));
      return { made, rests };
    }
    const move = column === "moves" ? line : byId(line.dataset.move);
    if (!move) {
      if (line.dataset.made) made.push(byId(line.dataset.made));
      return { made, rests };
    }
    made.push(move, ...(linesOf.get(move.id) || []));
    if (move.dataset.made) made.push(byId(move.dataset.made));
    rests.push(...words(move.dataset.rests).map(byId));
    return { made, rests };
  }

  function sentence(line, { made, rests }) {
    const column = line.closest("section").id;
    const count = (list, where) => list.filter((l) => l.closest("section").id === where).length;
    if (column === "plan") {
      const own = count(made, "moves"), leaning = count(rests, "moves");
      if (own) return `Line ${line.id.slice(1)} made ${own} of the moves shown here.`;
      const lines = count(made, "program");
      if (lines) return `Line ${line.id.slice(1)} made ${lines} of the program lines shown here.`;
      return leaning ? `${leaning} of the moves shown here depend on this line.` : "No move shown here depends on this line.";
    }
    const move = column === "moves" ? line : byId(line.dataset.move);
    if (!move) return made.length ? `Line ${made[0].id.slice(1)} of the plan made this line, not a single move.` : "No single move made this line.";
    const text = move.querySelector(".does").firstChild.textContent.trim();
    return `Move ${move.id.slice(1)}: ${text}. ${move.dataset.why}`;
  }

  let lit = [], current = null;
  function clear() {
    for (const line of lit) line.classList.remove("made", "rests", "here");
    lit = [];
    current = null;
  }
  function light(line) {
    if (!line || line === current) return;
    clear();
    current = line;
    const found = kin(line);
    for (const l of found.rests) l.classList.add("rests");
    for (const l of found.made) { l.classList.remove("rests"); l.classList.add("made"); }
    line.classList.add("here");
    lit = [line, ...found.made, ...found.rests];
    answer.textContent = sentence(line, found);
    show(line, [...found.made, ...found.rests]);
  }
  // show brings kin of each other column into view, where none is.
  function show(line, all) {
    for (const column of document.querySelectorAll("main section")) {
      const here = all.filter((l) => l.closest("section") === column);
      if (column === line.closest("section") || here.length === 0 || here.some((l) => inView(l, column))) continue;
      column.scrollTop = here[0].offsetTop - column.clientHeight / 3;
    }
  }
  function inView(l, column) {
    const top = l.offsetTop - column.scrollTop;
    return top >= 0 && top + l.offsetHeight <= column.clientHeight;
  }
  const columns = document.querySelector(".columns");
  // A column that scrolls under a pointer at rest is no pointing.
  let x = -1, y = -1;
  columns.addEventListener("mousemove", (e) => {
    if (e.clientX === x && e.clientY === y) return;
    [x, y] = [e.clientX, e.clientY];
    light(e.target.closest("li"));
  });
  columns.addEventListener("focusin", (e) => light(e.target.closest("li")));
  // A link moves the keyboard along with the eye.
  columns.addEventListener("click", (e) => {
    const link = e.target.closest("a");
    if (!link) return;
    const goal = byId(link.hash.slice(1));
    const inner = goal && goal.querySelector("a");
    if (inner) { e.preventDefault(); goal.scrollIntoView({ block: "center" }); inner.focus({ preventScroll: true }); }
  });
  document.addEventListener("keydown", (e) => {
    if (e.key === "Escape") { clear(); answer.textContent = greeting; }
    const line = e.target.closest && e.target.closest("li");
    if (!line || (e.key !== "ArrowDown" && e.key !== "ArrowUp")) return;
    const links = [...line.closest("section").querySelectorAll("a.number")];
    const next = links[links.indexOf(e.target) + (e.key === "ArrowDown" ? 1 : -1)];
    if (next) { e.preventDefault(); next.focus(); }
  });
})();
