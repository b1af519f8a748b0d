
// Says why a line, a move or a line of the program is there.
const why = (() => {
  "use strict";

  // question puts a thing, as kin has it, as the server wants to be asked; null where there
  // is nothing to ask about.
  function question(thing, known) {
    if (!thing) return null;
    if (thing.line) return { file: thing.line[0], line: thing.line[1] };
    if (thing.program) return { programLine: thing.program };
    if (thing.move !== undefined) return { move: thing.move + 1 };
    const k = known.find(thing, []);
    if (k.moves.length) return { move: k.moves[0][0] + 1 };
    return k.lines.length ? { file: k.lines[0][0], line: k.lines[0][1] } : null;
  }
  function show(panel, { title, lines }) {
    const head = document.createElement("h3");
    head.textContent = title;
    panel.replaceChildren(head, ...lines.map((text) => {
      const p = document.createElement("p");
      p.textContent = text;
      return p;
    }));
  }
  // ask shows the answer in a panel; it says whether there was one.
  async function ask(panel, asked) {
    try {
      const answer = await link.why(asked);
      if (answer) show(panel, answer);
      return Boolean(answer);
    } catch (e) {
      show(panel, { title: "No answer", lines: [e.message] });
      return true;
    }
  }

  return { question, ask };
})();
