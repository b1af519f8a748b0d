// Line segments, in an array that goes to the processor as it is, eight figures each: one end,
// the line type and 16 times the marks, the other end, and nothing.
const lines = (() => {
  "use strict";
  const figures = 8;

  function open() {
    const set = { data: new Float32Array(rows.whole(64) * figures), room: 64, count: 0, version: 1, changed: [0, 0] };

    function grow() {
      set.room *= 4;
      const more = new Float32Array(rows.whole(set.room) * figures);
      more.set(set.data);
      set.data = more;
    }
    function touch(n) {
      set.version++;
      set.changed = [Math.min(set.changed[0], n), Math.max(set.changed[1], n + 1)];
    }
    function add(a, b, type) {
      if (set.count === set.room) grow();
      const at = set.count * figures;
      set.data.set(a, at);
      set.data[at + 3] = type;
      set.data.set(b, at + 4);
      touch(set.count);
      return set.count++;
    }
    const clear = () => { set.count = 0; };
    function mark(n, marks) {
      const own = n * figures + 3;
      if (set.data[own] >> 4 === marks) return;
      set.data[own] = (set.data[own] & 15) + 16 * marks;
      touch(n);
    }
    const ends = (n) => [set.data.subarray(n * figures, n * figures + 3), set.data.subarray(n * figures + 4, n * figures + 7)];
    // loop adds a closed way through points, box the twelve edges of one in a pose.
    const loop = (points, type) => points.forEach((p, i) => add(p, points[(i + 1) % points.length], type));
    function box(from, to, pose, type) {
      const c = vector.corners(from, to).map((p) => vector.place(pose, p));
      for (let i = 0; i < 8; i++) for (const bit of [1, 2, 4]) if (!(i & bit)) add(c[i], c[i | bit], type);
    }
    return Object.assign(set, { add, clear, mark, ends, loop, box });
  }
  return { open };
})();
