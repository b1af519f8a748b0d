// Line segments, as an array that goes to the processor as it is: both ends, then four bytes:
// line type, marks, and two that are free.
const lines = (() => {
  "use strict";
  const figures = 7;

  function open() {
    let data = new Float32Array(64 * figures), bytes = new Uint8Array(data.buffer);
    const set = { data, count: 0, version: 1 };

    function grow() {
      const more = new Float32Array(data.length * 2);
      more.set(data);
      set.data = data = more;
      bytes = new Uint8Array(data.buffer);
    }
    function add(a, b, type, marks = 0) {
      const at = set.count * figures;
      if (at + figures > data.length) grow();
      data.set(a, at);
      data.set(b, at + 3);
      bytes.set([type, marks, 0, 0], (at + 6) * 4);
      set.version++;
      return set.count++;
    }
    function clear() {
      set.count = 0;
      set.version++;
    }
    function mark(n, marks) {
      bytes[(n * figures + 6) * 4 + 1] = marks;
      set.version++;
    }
    // loop adds a closed way through points, box the twelve edges of one in a pose.
    const loop = (points, type) => points.forEach((p, i) => add(p, points[(i + 1) % points.length], type));
    function box(from, to, pose, type, marks) {
      const c = vector.corners(from, to).map((p) => vector.place(pose, p));
      for (let i = 0; i < 8; i++) for (const bit of [1, 2, 4]) if (!(i & bit)) add(c[i], c[i | bit], type, marks);
    }
    return Object.assign(set, { add, clear, mark, loop, box });
  }
  return { open, figures };
})();
