// play shows the job move by move: the cell in three dimensions, the time as a picture, and
// the lines of plan and program that a move rests on and became. Where the browser draws
// nothing in three dimensions the flat picture stands there.
const play = (() => {
  "use strict";
  const { byId, make } = paper, { scene } = paper.data;
  const s = states.of(scene);

  function look() {
    try {
      const v = viewer.open(byId("view"), { list: byId("seen"), page: true });
      if (v) {
        v.show(scene);
        legend.fill(byId("legend"));
        for (const [what, how] of viewer.help) byId("view-keys").append(make("div", {}, make("dt", {}, what), make("dd", {}, how)));
        return v;
      }
    } catch (e) {
      byId("view-why").textContent = e.message;
    }
    flat();
    return null;
  }
  // flat puts the picture of the sheet where the view would be; on paper it has its own place.
  function flat() {
    const picture = document.querySelector("#drawing .drawing"), own = picture.parentNode;
    byId("view-room").hidden = true;
    byId("view-none").hidden = false;
    const here = () => byId("view-none").append(picture), back = () => own.append(picture);
    addEventListener("beforeprint", back);
    addEventListener("afterprint", here);
    here();
  }

  // lines fills a box with numbered lines and marks some of them.
  function lines(box, all, isHere) {
    box.textContent = "";
    let here = null;
    for (const [n, text] of all) {
      const line = make("span", {}, make("b", {}, `${n} `), text || " ");
      if (isHere(n)) { line.className = "here"; line.setAttribute("aria-current", "true"); here = here || line; }
      box.append(line);
    }
    box.scrollTop = 0;
    if (here) box.scrollTop = Math.max(0, here.offsetTop - box.offsetTop - box.clientHeight / 3);
  }
  function planLines(now) {
    if (!s.n) return;
    const i = Math.max(0, now - 1), [file, line] = scene.moves.place.slice(2 * i, 2 * i + 2), { name, lines: all } = scene.plan[file];
    byId("plan-file").textContent = now ? `${name}, line ${line}` : name;
    lines(byId("plan-lines"), (all || []).filter(([n]) => Math.abs(n - line) <= 12), (n) => now > 0 && n === line);
  }
  const program = scene.program.lines, placeOf = new Map(program.map(([n], i) => [n, i]));
  function programLines(now) {
    const box = byId("program-lines"), i = Math.max(0, now - 1), [from, to] = scene.moves.lines.slice(2 * i, 2 * i + 2);
    if (!from) {
      box.textContent = s.n ? "No line of its own." : "";
      return;
    }
    lines(box, program.slice(Math.max(0, placeOf.get(from) - 4), placeOf.get(to) + 6), (n) => now > 0 && n >= from && n <= to);
  }

  const view = look();
  const clock = clockwork.open({ states: s, viewer: view, say: panel.speaker(byId("said")) });
  panel.open(clock);
  timeline.open(byId("timeline"), clock);
  function follow() {
    const { now } = clock, slot = now ? s.slotOf(now) : null;
    if (view) view.light({ slots: slot ? [slot] : [], moves: [now - 1, now - 1] });
    planLines(now);
    programLines(now);
  }
  clock.on("move", follow);
  follow();
  for (const b of document.querySelectorAll("#looks button")) b.addEventListener("click", () => view.look(b.value));
  return { states: s, viewer: view, clock };
})();
