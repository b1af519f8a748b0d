
// The bar above the panes that says what stands in the way: the server is gone, the
// plan was deleted, a file was changed by somebody else.
const notice = (() => {
  "use strict";

  function open(bar) {
    const told = new Map(); // by topic: words and buttons; the last one is shown
    function show() {
      const [words, acts] = [...told.values()].pop() || ["", []];
      bar.hidden = !words;
      if (bar.firstElementChild.textContent !== words) bar.firstElementChild.textContent = words;
      bar.lastElementChild.replaceChildren(...acts.map(([name, act]) => {
        const b = document.createElement("button");
        b.type = "button";
        b.textContent = name;
        b.addEventListener("click", act);
        return b;
      }));
    }
    return {
      // say tells something about a topic, with buttons [name, act]; "" takes it back.
      say(topic, words, acts = []) {
        told.delete(topic);
        if (words) told.set(topic, [words, acts]);
        show();
      },
    };
  }

  return { open };
})();
