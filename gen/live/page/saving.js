
// Writes files back, and asks where one was changed by somebody else in between.
const saving = (() => {
  "use strict";

  // open takes the dialog, in which one chooses "mine", "theirs" or "look".
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

    function ask(name, mine, theirs) {
      part("file").textContent = name;
      show(mine, theirs);
      dialog.returnValue = "";
      dialog.showModal();
      return new Promise((resolve) => { answer = resolve; });
    }
    // put writes a text over what has a digest; where that is not on disk any more, it says what is.
    async function put(p, text, digest) {
      try {
        return { done: await link.save(p.name, text, digest) };
      } catch (e) {
        if (!(e instanceof link.Refusal) || e.status !== 409) throw e;
        return { disk: JSON.parse(e.text) };
      }
    }

    return {
      // save writes a paper and says in a sentence what came of it; "" where a later question
      // made this one needless.
      async save(p, files) {
        for (let base = p.digest; ;) {
          const text = p.editor.text, { done, disk } = await put(p, files.written(p, text), base);
          if (!disk) {
            if (done) files.saved(p, text, done.digest);
            return done ? `${p.name} is saved.` : "";
          }
          const theirs = disk.text.replace(/\r\n?/g, "\n");
          files.choose(p.name);
          const answered = disk.digest ? await ask(p.name, text, theirs) : "mine"; // nothing is there to be lost
          if (answered === "look") return "Nothing is saved. Save again when you have looked.";
          if (answered === "theirs") {
            p.editor.change(theirs, true);
            files.saved(p, theirs, disk.digest);
            return `${p.name} is as it is on disk. Undo brings your text back.`;
          }
          base = disk.digest;
        }
      },
    };
  }

  return { open };
})();
