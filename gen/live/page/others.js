
// The other plan that this one is compared with: what differs, as a list, and its slots
// over the picture.
const others = (() => {
  "use strict";

  // item is one difference: a button where there is something to go to.
  function item(text, go) {
    const li = document.createElement("li");
    if (!go) { li.textContent = text; return li; }
    const button = document.createElement("button");
    button.type = "button";
    button.className = "finding-go";
    button.textContent = text;
    button.addEventListener("click", go);
    li.append(button);
    return li;
  }
  function section(title, items) {
    if (!items.length) return [];
    const head = document.createElement("h3"), ul = document.createElement("ul");
    head.textContent = title;
    ul.append(...items);
    return [head, ul];
  }
  // laid is the box that has the other plan's slots in the picture or not.
  function laid(scene, over) {
    const label = document.createElement("label"), box = document.createElement("input");
    label.className = "check";
    box.type = "checkbox";
    box.id = "other-laid";
    box.checked = Boolean(scene);
    box.disabled = !scene;
    box.addEventListener("change", () => over(box.checked ? scene : null));
    label.append(box, "Lay its slots over the picture");
    return label;
  }

  // show asks for the differences to a version, and fills the panel. over(scene) lays a scene over
  // the picture, transfer(n) goes to a transfer, slots(grid, names) lights slots.
  async function show(tab, panel, { version, over, transfer, slots }) {
    const was = panel.querySelector("#other-laid"), wanted = !was || was.checked;
    let answer;
    try {
      answer = await link.other(version);
      if (!answer) return;
    } catch (e) {
      if (!(e instanceof link.Refusal)) return;
      answer = { name: "", summary: e.message, moves: [], slots: [], scene: null };
    }
    tab.hidden = false;
    const head = document.createElement("p"), box = laid(answer.scene, over);
    head.textContent = `${answer.name}: ${answer.summary}`;
    if (!wanted) box.firstChild.checked = false;
    panel.replaceChildren(head, box,
      ...section("Moves", answer.moves.map((m) => item(m.text, m.a[0] ? () => transfer(m.a[0]) : null))),
      ...section("Slots", answer.slots.map((s) => item(s.text, s.only === "b" ? null : () => slots(s.grid, s.slots)))));
    over(wanted ? answer.scene : null);
  }

  return { show };
})();
