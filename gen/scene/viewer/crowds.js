// A crowd is one mesh that stands in many places. Its members are kept without gaps, so that
// nothing is drawn for those that are not there, in an array that goes to the processor as
// it is: position, quaternion, then four bytes: look, marks, and two that are free.
const crowds = (() => {
  "use strict";
  const figures = 8; // a member's room in the array, of four bytes each

  // open makes a crowd for keys below room, without members.
  function open(mesh, room) {
    const data = new Float32Array(Math.max(1, room) * figures), bytes = new Uint8Array(data.buffer);
    const keyAt = new Int32Array(Math.max(1, room)), placeOf = new Int32Array(Math.max(1, room)).fill(-1);
    const crowd = { mesh, data, count: 0, version: 1, changed: [0, room] };

    function touch(place) {
      crowd.version++;
      crowd.changed = [Math.min(crowd.changed[0], place), Math.max(crowd.changed[1], place + 1)];
    }
    function put(key, at, q, look, marks = 0) {
      const old = placeOf[key], place = old >= 0 ? old : crowd.count++;
      keyAt[place] = key;
      placeOf[key] = place;
      data.set(at, place * figures);
      data.set(q, place * figures + 3);
      bytes.set([look, marks, 0, 0], (place * figures + 7) * 4);
      touch(place);
    }
    // take fills the gap with the last member.
    function take(key) {
      const place = placeOf[key];
      if (place < 0) return;
      const last = --crowd.count;
      data.copyWithin(place * figures, last * figures, (last + 1) * figures);
      keyAt[place] = keyAt[last];
      placeOf[keyAt[place]] = place;
      placeOf[key] = -1;
      touch(place);
    }
    function mark(key, marks) {
      const place = placeOf[key];
      if (place < 0) return;
      bytes[(place * figures + 7) * 4 + 1] = marks;
      touch(place);
    }
    function look(key, n) {
      const place = placeOf[key];
      if (place < 0 || bytes[(place * figures + 7) * 4] === n) return;
      bytes[(place * figures + 7) * 4] = n;
      touch(place);
    }
    const has = (key) => placeOf[key] >= 0;
    const keys = () => Array.from(keyAt.subarray(0, crowd.count));
    const at = (key) => Array.from(data.subarray(placeOf[key] * figures, placeOf[key] * figures + 3));
    return Object.assign(crowd, { put, take, mark, look, has, keys, at });
  }
  // single is a crowd of one, which stands where its mesh says until it is put elsewhere.
  function single(mesh, look, at = [0, 0, 0], q = vector.still) {
    const crowd = open(mesh, 1);
    crowd.put(0, at, q, look);
    return crowd;
  }

  return { open, single, figures };
})();
