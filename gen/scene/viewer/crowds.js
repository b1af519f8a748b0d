// A crowd is one mesh that stands in many places. Its members are kept without gaps, so that
// nothing is drawn for those that are not there, in an array that goes to the processor as
// it is, eight figures each: position, quaternion, then its look and 16 times its marks.
const crowds = (() => {
  "use strict";
  const figures = 8;

  // open makes a crowd for keys below room, without members.
  function open(mesh, room) {
    const data = new Float32Array(rows.whole(room) * figures), keyAt = new Int32Array(room), placeOf = new Int32Array(room).fill(-1);
    const crowd = { mesh, data, room, count: 0, version: 1, changed: [0, room] };

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
      data[place * figures + 7] = look + 16 * marks;
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
      const place = placeOf[key], own = place * figures + 7;
      if (place < 0 || data[own] >> 4 === marks) return;
      data[own] = (data[own] & 15) + 16 * marks;
      touch(place);
    }
    const has = (key) => placeOf[key] >= 0;
    return Object.assign(crowd, { put, take, mark, has });
  }
  // single is a crowd of one, which stands where its mesh says until it is put elsewhere.
  function single(mesh, look, at = [0, 0, 0], q = vector.still) {
    const crowd = open(mesh, 1);
    crowd.put(0, at, q, look);
    return crowd;
  }

  return { open, single };
})();
