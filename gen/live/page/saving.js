
// Writes files back, and asks where one was changed by somebody else in between.
const saving = (() => {
  "use strict";

  // open takes the dialog. ask(name, mine, theirs) says "mine", "theirs" or "look".
  function open(dialog) {
    const part = (name) => dialog.querySelector(`[data-part=${name}]`);
    let answer = null;

    dialog.addEventListener("close", () => {
      if (answer) answer(dialog.returnValue || "look");
      answer = null;
    });
    for (const button of dialog.querySelectorAll("button[value]")) {
      button.addEventListener("click", () => dialog.close(button.value));
    }
    function show(mine, theirs) {
      const words = { "-": "only in the file", "+": "only on this page" };
      part("differences").replaceChildren(...differences.near(differences.of(theirs, mine)).map((line) => {
        const e = document.createElement("div");
        if (line === null) {
          e.className = "left-out";
          e.textContent = "…";
          return e;
        }
        const [mark, text] = line;
        e.className = { "-": "theirs", "+": "mine", " ": "" }[mark];
        if (words[mark]) {
          const said = document.createElement("span");
          said.className = "heard";
          said.textContent = `${words[mark]}: `;
          e.append(said);
        }
        e.append(`${mark} ${text}`);
        return e;
      }));
    }

    return {
      ask(name, mine, theirs) {
        part("file").textContent = name;
        show(mine, theirs);
        dialog.returnValue = "";
        dialog.showModal();
        return new Promise((resolve) => { answer = resolve; });
      },
    };
  }

  return { open };
})();
