
// Lays two texts beside each other, line by line.
const differences = (() => {
  "use strict";

  const most = 4e6; // pairs of lines that are compared; more are told as one change

  // of gives [mark, line] each: " " in both, "-" only in the first, "+" only in the second.
  function of(first, second) {
    const a = first.split("\n"), b = second.split("\n"), head = [], tail = [];
    while (a.length && b.length && a[0] === b[0]) { head.push([" ", a.shift()]); b.shift(); }
    while (a.length && b.length && a[a.length - 1] === b[b.length - 1]) { tail.unshift([" ", a.pop()]); b.pop(); }
    return [...head, ...middle(a, b), ...tail];
  }
  // middle finds the longest common sequence of lines.
  function middle(a, b) {
    if (a.length * b.length > most) return [...a.map((l) => ["-", l]), ...b.map((l) => ["+", l])];
    const wide = b.length + 1, long = new Uint32Array((a.length + 1) * wide);
    for (let i = a.length - 1; i >= 0; i--) {
      for (let j = b.length - 1; j >= 0; j--) {
        long[i * wide + j] = a[i] === b[j] ? long[(i + 1) * wide + j + 1] + 1 : Math.max(long[(i + 1) * wide + j], long[i * wide + j + 1]);
      }
    }
    const out = [];
    let i = 0, j = 0;
    while (i < a.length || j < b.length) {
      if (i < a.length && j < b.length && a[i] === b[j]) { out.push([" ", a[i]]); i++; j++; }
      else if (j >= b.length || (i < a.length && long[(i + 1) * wide + j] >= long[i * wide + j + 1])) out.push(["-", a[i++]]);
      else out.push(["+", b[j++]]);
    }
    return out;
  }
  // near keeps the changes and some lines around them; null stands for what is left out.
  function near(all, around = 3) {
    const keep = new Set();
    all.forEach(([mark], i) => {
      if (mark !== " ") for (let k = i - around; k <= i + around; k++) keep.add(k);
    });
    const out = [];
    all.forEach((line, i) => {
      if (keep.has(i)) out.push(line);
      else if (out.length && out[out.length - 1] !== null) out.push(null);
    });
    return out;
  }

  return { of, near };
})();
