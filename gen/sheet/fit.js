// fit.rigid(from, to) is the turn and shift with the least squared distance between points
// and those that they are laid upon: never mirrored, never stretched, as gen/fit has it.
//   { off: [[x, y, z], …] what is left of each, lengths: […], largest, worst: index, rms,
//     degrees: of the turn, shift: of the middle }, or { why: "…" } where there is no answer.
const fit = (() => {
  "use strict";
  const minDistance = 1, minRatio = Math.sin(Math.PI / 180); // as gen/fit/limits.go says why
  const minus = (a, b) => a.map((x, i) => x - b[i]);
  const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  const mean = (points) => [0, 1, 2].map((i) => points.reduce((sum, p) => sum + p[i], 0) / points.length);
  const length = (v) => Math.hypot(...v);

  // eigen gives the eigenvalues of a symmetric matrix and, as columns, their vectors: rotations
  // about two axes at a time put what is beside the diagonal to 0 (C. G. J. Jacobi, 1846).
  function eigen(matrix) {
    const n = matrix.length, a = matrix.map((row) => [...row]);
    const v = a.map((row, i) => row.map((_, k) => (i === k ? 1 : 0)));
    for (let sweep = 0; sweep < 60; sweep++) {
      let beside = 0;
      for (let p = 0; p < n; p++) for (let q = p + 1; q < n; q++) beside += Math.abs(a[p][q]);
      if (beside === 0) break;
      for (let p = 0; p < n; p++) for (let q = p + 1; q < n; q++) rotate(a, v, p, q);
    }
    return { values: a.map((row, i) => row[i]), vectors: v };
  }
  function rotate(a, v, p, q) {
    if (a[p][q] === 0) return;
    const theta = (a[q][q] - a[p][p]) / (2 * a[p][q]);
    const t = (theta < 0 ? -1 : 1) / (Math.abs(theta) + Math.hypot(theta, 1));
    const c = 1 / Math.hypot(t, 1), s = t * c;
    const mix = (rows, i) => { const x = rows[i][p], y = rows[i][q]; rows[i][p] = c * x - s * y; rows[i][q] = s * x + c * y; };
    for (let i = 0; i < a.length; i++) { mix(a, i); mix(v, i); }
    for (let i = 0; i < a.length; i++) {
      const x = a[p][i], y = a[q][i];
      a[p][i] = c * x - s * y;
      a[q][i] = s * x + c * y;
    }
    a[p][q] = a[q][p] = 0;
  }

  // turn is the rotation that lays points about their middle best upon others: the eigenvector of
  // the largest eigenvalue is its quaternion (B. K. P. Horn, J. Opt. Soc. Am. A 4(4), 1987, 629-642).
  function turn(from, to) {
    const m = [0, 1, 2].map((i) => [0, 1, 2].map((k) => from.reduce((sum, p, n) => sum + p[i] * to[n][k], 0)));
    const { values, vectors } = eigen([
      [m[0][0] + m[1][1] + m[2][2], m[1][2] - m[2][1], m[2][0] - m[0][2], m[0][1] - m[1][0]],
      [m[1][2] - m[2][1], m[0][0] - m[1][1] - m[2][2], m[0][1] + m[1][0], m[2][0] + m[0][2]],
      [m[2][0] - m[0][2], m[0][1] + m[1][0], m[1][1] - m[0][0] - m[2][2], m[1][2] + m[2][1]],
      [m[0][1] - m[1][0], m[2][0] + m[0][2], m[1][2] + m[2][1], m[2][2] - m[0][0] - m[1][1]],
    ]);
    const best = values.indexOf(Math.max(...values));
    const [w, x, y, z] = vectors.map((row) => row[best]);
    return { w, r: [
      [w * w + x * x - y * y - z * z, 2 * (x * y - w * z), 2 * (x * z + w * y)],
      [2 * (x * y + w * z), w * w - x * x + y * y - z * z, 2 * (y * z - w * x)],
      [2 * (x * z - w * y), 2 * (y * z + w * x), w * w - x * x - y * y + z * z],
    ] };
  }

  // spreads are how far points lie about their middle along their principal directions, largest first.
  function spreads(about) {
    const sum = [0, 1, 2].map((i) => [0, 1, 2].map((k) => about.reduce((s, p) => s + p[i] * p[k], 0)));
    return eigen(sum).values.map((x) => Math.sqrt(Math.max(0, x))).sort((a, b) => b - a);
  }
  function closest(points) {
    let least = Infinity;
    points.forEach((p, i) => { for (const q of points.slice(0, i)) least = Math.min(least, length(minus(p, q))); });
    return least;
  }
  const squares = (list) => list.reduce((sum, v) => sum + dot(v, v), 0);

  function rigid(from, to) {
    if (from.length < 3) return { why: "three points or more are needed" };
    if (closest(to) < minDistance) return { why: `two of the points are less than ${minDistance} mm apart` };
    const start = mean(from), end = mean(to);
    const a = from.map((p) => minus(p, start)), b = to.map((p) => minus(p, end));
    for (const about of [a, b]) {
      const [long, wide] = spreads(about);
      if (wide < minRatio * long) return { why: "the points lie along one line: touch another one beside it" };
    }
    const laid = (points) => {
      const { w, r } = turn(points, b);
      return { w, off: b.map((p, i) => minus(p, r.map((row) => dot(row, points[i])))) };
    };
    const { w, off } = laid(a);
    const flat = spreads(a);
    if (flat[2] >= minRatio * flat[0] && squares(laid(a.map(([x, y, z]) => [x, y, -z])).off) < squares(off) / 4) {
      return { why: "the points fit mirrored: two are exchanged, or a sign is lost" };
    }
    const lengths = off.map(length), largest = Math.max(...lengths);
    return {
      off, lengths, largest, worst: lengths.indexOf(largest), rms: Math.sqrt(squares(off) / off.length),
      degrees: 2 * Math.acos(Math.min(1, Math.abs(w))) * 180 / Math.PI, shift: minus(end, start),
    };
  }
  return { rigid };
})();
