// Where an arm takes its tool: the chain of its joints, as the scene has it.
//
//   const a = kinematics.of(scene);         null where the scene has no arm
//   a.tip(readings, tool)             pose of that tool's TCP in the base
//   a.toward(readings, tool, pose)    readings near these that take the TCP there; null where a few steps do not
const kinematics = (() => {
  "use strict";
  const { minus, cross, turn, back, chain, position, orientation, place, follow } = vector;
  const radian = 180 / Math.PI, lever = 200; // mm: a turn of a radian counts like a way so long
  const close = 1e-4, most = 6;            // mm, and steps

  function of(scene) {
    const a = scene.arm, tools = scene.tools || [];
    if (!a) return null;
    const tip = (readings, tool) => follow(follow(arm.motions(a, readings)[a.joints.length - 1], a.flange), tools[tool].tcp);
    return { tip, toward: (readings, tool, goal) => toward(a, tip, readings, tool, goal) };
  }

  // toward goes by the slopes of the way and the turn that are left (damped least squares).
  function toward(a, tip, readings, tool, goal) {
    let now = [...readings];
    for (let step = 0; step < most; step++) {
      const at = tip(now, tool), left = apart(at, goal);
      if (Math.hypot(...left) < close) return now;
      const after = arm.motions(a, now), slopes = a.joints.map((j, i) => slope(j, after[i], position(at)));
      const gram = slopes.map((u, i) => slopes.map((v, k) => inner(u, v) + (i === k ? 1e-6 * (1 + inner(u, u)) : 0)));
      const change = solve(gram, slopes.map((u) => inner(u, left)));
      if (!change) return null;
      now = now.map((x, i) => x + change[i]);
    }
    return Math.hypot(...apart(tip(now, tool), goal)) < 0.01 ? now : null;
  }
  const inner = (u, v) => u.reduce((sum, x, i) => sum + x * v[i], 0);

  // apart is the way, mm, and the turn, as a way, that lead from one pose to another.
  function apart(from, to) {
    let q = chain(orientation(to), back(orientation(from)));
    if (q[0] < 0) q = q.map((x) => -x);
    const s = Math.hypot(q[1], q[2], q[3]), angle = s > 0 ? 2 * Math.atan2(s, q[0]) / s : 0;
    return [...minus(position(to), position(from)), ...q.slice(1).map((x) => lever * angle * x)];
  }
  // slope is what a degree, or a millimetre, of a joint does to the tip.
  function slope(j, motion, tip) {
    const axis = turn(orientation(motion), j.axis); // which its own motion leaves where it is
    if (j.slides) return [...axis, 0, 0, 0];
    return [...cross(axis, minus(tip, place(motion, j.point))), ...axis.map((x) => lever * x)].map((x) => x / radian);
  }
  // solve is Gauss's elimination with the largest pivot; null where there is none.
  function solve(matrix, right) {
    const rows = matrix.map((row, i) => [...row, right[i]]), n = rows.length;
    for (let k = 0; k < n; k++) {
      const best = rows.slice(k).reduce((top, row, i) => (Math.abs(row[k]) > Math.abs(rows[top][k]) ? i + k : top), k);
      [rows[k], rows[best]] = [rows[best], rows[k]];
      if (!(Math.abs(rows[k][k]) > 1e-12)) return null;
      for (let i = k + 1; i < n; i++) {
        const share = rows[i][k] / rows[k][k];
        for (let c = k; c <= n; c++) rows[i][c] -= share * rows[k][c];
      }
    }
    const out = Array(n).fill(0);
    for (let k = n - 1; k >= 0; k--) out[k] = (rows[k][n] - dotFrom(rows[k], out, k + 1)) / rows[k][k];
    return out;
  }
  function dotFrom(row, out, from) {
    let sum = 0;
    for (let i = from; i < out.length; i++) sum += row[i] * out[i];
    return sum;
  }
  return { of };
})();
