
// The files on the page: what each holds here, and what it held on disk when last read.
const papers = (() => {
  "use strict";

  // open shows files as tabs with an editor each. on.typed(paper, event), on.caret(paper,
  // line, column), on.point(paper, line, found, event), on.key(paper, event), on.tab(paper).
  function open(tabList, host, on) {
    const all = new Map(); // by name
    const choice = tabs.open(tabList, (tab) => {
      const p = all.get(tab.dataset.file);
      p.editor.plan();
      on.tab(p);
    });

    function add(file) {
      const id = `file-${all.size + 1}-${file.name.replace(/[^\w-]+/g, "-")}`, tab = document.createElement("button"), panel = document.createElement("div");
      Object.assign(tab, { type: "button", id: `${id}-tab` });
      for (const [k, v] of Object.entries({ role: "tab", "aria-controls": id, "aria-selected": "false", "data-file": file.name, tabindex: "-1" })) tab.setAttribute(k, v);
      Object.assign(panel, { id, className: "editor", hidden: true });
      for (const [k, v] of Object.entries({ role: "tabpanel", "aria-labelledby": tab.id, "data-file": file.name })) panel.setAttribute(k, v);
      tabList.append(tab);
      host.append(panel);
      const p = { name: file.name, role: file.role, tab, panel, writable: file.writable && file.whole, outside: false };
      p.editor = editor.open(panel, {
        name: file.name, text: "", readonly: !p.writable, describedBy: "plan-line editor-keys",
        on: {
          change: () => { mark(p); on.typed(p); },
          caret: (line, column) => on.caret(p, line, column),
          point: (line, found) => on.point(p, line, found),
          key: (e) => on.key(p, e),
        },
      });
      p.editor.area.addEventListener("input", (e) => on.letter(p, e));
      all.set(file.name, p);
      read(p, file);
      if (all.size === 1) choice.choose(tab);
    }
    // read takes in a file as it is on disk. A text area knows only \n as the end of a line.
    function read(p, file) {
      if (!file.whole) p.editor.area.placeholder = "This file is too long to be shown here, or no text.";
      const crlf = file.text.includes("\r\n"), text = file.text.replace(/\r\n?/g, "\n");
      if (file.digest === p.past) return; // looked up before the last save
      if (file.digest === p.digest) p.past = "";
      const unsaved = p.saved !== undefined && p.editor.text !== p.saved;
      if (unsaved && text !== p.editor.text) {
        p.outside = p.digest !== file.digest; // saving will ask
        return;
      }
      Object.assign(p, { saved: text, digest: file.digest, crlf, outside: false });
      p.editor.change(text, false);
      mark(p);
    }
    function mark(p) {
      const unsaved = changed(p);
      const name = p.name.split("/").pop();
      p.tab.textContent = unsaved ? `${name} •` : name;
      p.tab.title = `${p.role || ""} ${p.name}${unsaved ? ", not saved" : ""}`.trim();
      if (unsaved) p.tab.setAttribute("aria-label", `${name}, not saved`); else p.tab.removeAttribute("aria-label");
    }
    const changed = (p) => p.editor.text !== p.saved;
    const written = (p, text) => (p.crlf ? text.replaceAll("\n", "\r\n") : text);
    function remove(p) {
      p.tab.remove();
      p.panel.remove();
      p.editor.close();
      all.delete(p.name);
      if (choice.chosen || !all.size) return;
      choice.choose([...all.values()][0].tab);
    }

    return {
      // take takes in the files of a state; those that the plan has no more use for go,
      // unless they hold something unsaved or the plan has errors: half written it names none.
      take({ files, good, version }, disk) {
        for (const f of files) {
          const p = all.get(f.name);
          if (!p) add(f); else if (disk) read(p, f);
        }
        const names = new Set(files.map((f) => f.name));
        if (good === version) for (const p of [...all.values()]) if (!names.has(p.name) && !changed(p)) remove(p);
      },
      // unsaved is the texts that the disk does not hold, by name.
      unsaved() {
        return Object.fromEntries([...all.values()].filter(changed).map((p) => [p.name, written(p, p.editor.text)]));
      },
      texts: () => Object.fromEntries([...all.values()].map((p) => [p.name, written(p, p.editor.text)])),
      written,
      changed: () => [...all.values()].filter(changed),
      // saved notes that the disk now holds a text.
      saved(p, text, digest) {
        Object.assign(p, { saved: text, past: p.digest === digest ? "" : p.digest, digest, outside: false });
        mark(p);
      },
      get: (name) => all.get(name),
      each: () => [...all.values()],
      get chosen() { return choice.chosen && all.get(choice.chosen.dataset.file); },
      choose(name) {
        const p = all.get(name);
        if (p && this.chosen !== p) choice.choose(p.tab);
        return p;
      },
    };
  }

  return { open };
})();
