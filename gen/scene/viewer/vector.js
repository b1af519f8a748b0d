// Vectors are [x, y, z], quaternions [w, x, y, z], poses [x, y, z, w, qx, qy, qz];
// matrices have 16 figures, column by column, as WebGL takes them.
const vector = (() => {
  "use strict";
  const plus = (a, b) => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
  const minus = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
  const times = (a, s) => [a[0] * s, a[1] * s, a[2] * s];
  const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
  const length = (a) => Math.hypot(a[0], a[1], a[2]);
  const between = (a, b, t) => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t, a[2] + (b[2] - a[2]) * t];
  function unit(a) {
    const l = length(a);
    return l > 0 ? times(a, 1 / l) : [0, 0, 0];
  }
  // across is some unit vector at a right angle to a.
  function across(a) {
    const k = Math.abs(a[0]) < Math.abs(a[1]) ? (Math.abs(a[0]) < Math.abs(a[2]) ? 0 : 2) : (Math.abs(a[1]) < Math.abs(a[2]) ? 1 : 2);
    const e = [0, 0, 0];
    e[k] = 1;
    return unit(cross(a, e));
  }

  const still = [1, 0, 0, 0];
  // turn turns the vector a by the quaternion q.
  function turn(q, a) {
    const u = [q[1], q[2], q[3]], c = cross(u, a), d = cross(u, c);
    return [a[0] + 2 * (q[0] * c[0] + d[0]), a[1] + 2 * (q[0] * c[1] + d[1]), a[2] + 2 * (q[0] * c[2] + d[2])];
  }
  const back = (q) => [q[0], -q[1], -q[2], -q[3]];
  // chain turns by b first and by a then.
  function chain(a, b) {
    return [
      a[0] * b[0] - a[1] * b[1] - a[2] * b[2] - a[3] * b[3],
      a[0] * b[1] + a[1] * b[0] + a[2] * b[3] - a[3] * b[2],
      a[0] * b[2] - a[1] * b[3] + a[2] * b[0] + a[3] * b[1],
      a[0] * b[3] + a[1] * b[2] - a[2] * b[1] + a[3] * b[0],
    ];
  }
  function about(axis, degrees) {
    const half = degrees * Math.PI / 360, s = Math.sin(half);
    return [Math.cos(half), axis[0] * s, axis[1] * s, axis[2] * s];
  }
  // turned is a share t of the way from the quaternion a to b, the shorter way round.
  function turned(a, b, t) {
    let d = a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3];
    const sign = d < 0 ? -1 : 1;
    d = Math.min(1, Math.abs(d));
    const angle = Math.acos(d), s = Math.sin(angle);
    const [u, v] = s < 1e-6 ? [1 - t, t] : [Math.sin((1 - t) * angle) / s, Math.sin(t * angle) / s];
    return a.map((x, i) => u * x + sign * v * b[i]);
  }

  const position = (pose) => pose.slice(0, 3);
  const orientation = (pose) => pose.slice(3, 7);
  const pose = (at, q) => [...at, ...q];
  // place gives the base coordinates of a point of a pose.
  const place = (p, a) => plus(position(p), turn(orientation(p), a));
  const follow = (p, q) => pose(place(p, position(q)), chain(orientation(p), orientation(q)));
  function inverse(p) {
    const q = back(orientation(p));
    return pose(times(turn(q, position(p)), -1), q);
  }

  function multiply(a, b) {
    const out = new Float32Array(16);
    for (let column = 0; column < 4; column++) {
      for (let row = 0; row < 4; row++) {
        let sum = 0;
        for (let k = 0; k < 4; k++) sum += a[k * 4 + row] * b[column * 4 + k];
        out[column * 4 + row] = sum;
      }
    }
    return out;
  }
  // apply gives the clip coordinates of a point, four figures.
  const apply = (m, a) => [0, 1, 2, 3].map((i) => m[i] * a[0] + m[4 + i] * a[1] + m[8 + i] * a[2] + m[12 + i]);

  // corners are the eight corners of a box.
  const corners = (from, to) => Array.from({ length: 8 }, (_, i) => [i & 1 ? to[0] : from[0], i & 2 ? to[1] : from[1], i & 4 ? to[2] : from[2]]);
  // around is the box around points, as [from, to].
  function around(points) {
    const from = [Infinity, Infinity, Infinity], to = [-Infinity, -Infinity, -Infinity];
    for (const p of points) {
      for (let k = 0; k < 3; k++) {
        from[k] = Math.min(from[k], p[k]);
        to[k] = Math.max(to[k], p[k]);
      }
    }
    return [from, to];
  }

  return {
    plus, minus, times, dot, cross, length, unit, across, between, still, turn, back, chain, about, turned,
    position, orientation, pose, place, follow, inverse, multiply, apply, corners, around,
  };
})();
