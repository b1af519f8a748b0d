
// The server counts columns in characters (Unicode code points) from 1, a script counts
// in units of UTF-16 from 0.
const columns = (() => {
  "use strict";

  function index(text, column) {
    let i = 0;
    for (let n = 1; n < column && i < text.length; n++) i += text.codePointAt(i) > 0xffff ? 2 : 1;
    return i;
  }
  const column = (text, index) => [...text.slice(0, index)].length + 1;

  // span is where a finding stands in its line: [from, to), the whole line where it has
  // no column, and the word where it has no end.
  function span(text, from, to) {
    if (!from) return [text.length - text.trimStart().length, text.trimEnd().length || 1];
    const a = index(text, from);
    if (to > from) return [a, Math.max(a + 1, index(text, to))];
    const word = /^[^\s,\]}]+/.exec(text.slice(a));
    return [a, a + (word ? word[0].length : 1)];
  }

  return { index, column, span };
})();
