
// Tells the comments, keys and values of a line apart. It looks at one line alone and
// only colours: what the line means, the server says.
const highlight = (() => {
  "use strict";

  // The sorts of piece, in the order in which they are tried at a place of a line.
  const yaml = [
    ["", /\s+/y],
    ["comment", /(?<=^|\s)#.*$/y],
    ["text", /"(?:[^"\\]|\\.)*"|'(?:[^']|'')*'/y],
    ["mark", /[{}[\],]|[-?:](?=\s|$)/y],
    ["tie", /[&*][^\s,[\]{}]+/y],
    ["key", /[^\s#:,[\]{}"'&*-][^:,[\]{}#]*?(?=\s*:(?:\s|$))/y],
    ["figure", /[-+]?\d+(?:\.\d+)?(?=[\s,\]}]|$)/y],
    ["value", /[^\s,[\]{}]+/y],
  ];
  const table = [
    ["comment", /^\s*#.*$/y],
    ["text", /"(?:[^"]|"")*"/y],
    ["mark", /[,;\t]/y],
    ["figure", /[-+]?\d+(?:\.\d+)?(?=[,;\t]|$)/y],
    ["value", /[^,;\t"]+/y],
  ];

  // pieces cuts a line: [sort, from, to] each, without gaps.
  function pieces(text, file) {
    const sorts = /\.csv$/i.test(file) ? table : yaml, out = [];
    for (let at = 0; at < text.length;) {
      let sort = "", to = at + 1;
      for (const [name, form] of sorts) {
        form.lastIndex = at;
        const found = form.exec(text);
        if (!found || !found[0]) continue;
        [sort, to] = [name, at + found[0].length];
        break;
      }
      out.push([sort, at, to]);
      at = to;
    }
    return out;
  }

  return { pieces };
})();
