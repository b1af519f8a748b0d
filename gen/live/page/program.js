
// The program: the text that is shown, and the file that is taken away.
const program = (() => {
  "use strict";

  // text has the program of a version in a family, and which of its lines are whose:
  // {lines, own, words}; null where a later question made this one needless. Where there is
  // no program, the words say why.
  async function text(version, family) {
    try {
      const [whole, own] = await Promise.all([link.program(version, family), link.lines(version, family)]);
      if (whole === null || own === null) return null;
      const lines = whole.replace(/\n$/, "").split("\n");
      return { lines, own, words: `${lines.length} lines of the family ${family}` };
    } catch (e) {
      if (e instanceof link.Unreached) return null;
      return { lines: [], own: null, words: e.message };
    }
  }
  // file gives the program of a state to whoever asked for it, as a download; it returns its name.
  async function file(state, family) {
    const whole = await link.program(state.version, family, "1");
    if (whole === null) return "";
    const a = document.createElement("a"), plan = state.files[0].name.split("/").pop();
    a.download = plan.replace(/(\.plan)?\.ya?ml$/, "") + state.families.find((f) => f.name === family).extension;
    a.href = URL.createObjectURL(new Blob([whole], { type: "text/plain" }));
    a.click();
    setTimeout(() => URL.revokeObjectURL(a.href), 10000); // the browser has it by then
    return a.download;
  }

  return { text, file };
})();
