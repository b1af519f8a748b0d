// ticks counts the boxes of each group that are ticked. Without this script they can be
// ticked all the same.
const ticks = (() => {
  "use strict";
  const groups = [...document.querySelectorAll("#checks .group")].map((group) => ({
    boxes: [...group.querySelectorAll("input")], said: group.querySelector(".counted"),
  }));
  function count({ boxes, said }) {
    const done = boxes.filter((b) => b.checked).length;
    said.textContent = `${done} of ${boxes.length} ticked`;
  }
  // A browser may bring back the ticks of an earlier look at the page: whoever reads it anew
  // has checked nothing yet.
  function clear() {
    for (const group of groups) {
      for (const b of group.boxes) b.checked = false;
      count(group);
    }
  }
  for (const group of groups) {
    for (const b of group.boxes) b.addEventListener("change", () => { count(group); leaving.asks(); });
  }
  addEventListener("pageshow", (e) => { if (!e.persisted) clear(); });
  clear();
  return { groups };
})();
