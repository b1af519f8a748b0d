// The joints of an arm over time, with the ends of their ranges. Readings are known at the ends of moves;
// between these the trace is straight, which the joints of an arm on a line are not.
//
//   const all = traces.of(states.of(scene));
//   all.joints     [{n, name, unit, lo, hi, least, at, words, said(reading)}]: least is the margin that is left where
//                  it is least, behind move at
//   traces.draw(g, look, joint, where)     draws one; where says how times and pixels belong together
const traces = (() => {
  "use strict";
  const short = (x) => String(Math.round(x * 10) / 10).replace("-", "\u2212");

  function of(s) {
    const { arm } = s.scene, { moves } = s;
    if (!arm || !moves.width) return { joints: [] };
    return { joints: arm.joints.map((j, n) => joint(s, j, n)) };
  }
  function joint(s, j, n) {
    const { moves } = s, readings = new Float64Array(s.n + 1);
    let least = Infinity, at = 0, low = Infinity, high = -Infinity;
    for (let i = 0; i < s.n; i++) {
      const r = moves.raw.joints[i * moves.width + n], margin = Math.min(r - j.lo, j.hi - r);
      readings[i + 1] = r;
      low = Math.min(low, r);
      high = Math.max(high, r);
      if (margin < least) { least = margin; at = i + 1; }
    }
    readings[0] = readings[1];
    const unit = j.unit || (j.slides ? "mm" : "\u00b0"), said = (r) => `${short(r)}${unit === "\u00b0" ? "" : " "}${unit}`;
    const words = `${j.name} goes from ${said(low)} to ${said(high)}, of a range from ${said(j.lo)} to ${said(j.hi)}; its least margin at the end of a move is ${said(least)}, after move ${at}.`;
    return { n, name: j.name, unit, lo: j.lo, hi: j.hi, least, at, words, said, readings, drawn: s.drawn, states: s };
  }

  function draw(g, look, j, where) {
    const span = j.hi - j.lo || 1, edge = 6; // px kept free beyond the range
    const y = (r) => where.top + where.height - edge - (r - j.lo) / span * (where.height - 2 * edge);
    frame(g, look, j, where, y);
    g.save();
    g.beginPath();
    g.rect(where.from, where.top, where.to - where.from, where.height);
    g.clip();
    trace(g, look, j, where, y);
    nearest(g, look, j, where, y);
    g.restore();
  }
  // frame is the ends of the range, dashed, with name and figures.
  function frame(g, look, j, where, y) {
    const end = Math.min(where.to, where.x(j.drawn[j.drawn.length - 1]));
    g.lineWidth = 1;
    g.strokeStyle = look.keep;
    g.setLineDash([6, 3]);
    for (const r of [j.lo, j.hi]) {
      g.beginPath();
      g.moveTo(where.from, Math.round(y(r)) + 0.5);
      g.lineTo(end, Math.round(y(r)) + 0.5);
      g.stroke();
    }
    g.setLineDash([]);
    g.textAlign = "left";
    g.fillStyle = look.ink;
    if (where.narrow) {
      g.fillText(`${j.name}: ${j.said(j.lo)} to ${j.said(j.hi)}, least margin ${j.said(j.least)}`, 2, where.top - 5);
      return;
    }
    g.fillText(j.name, 0, where.top + where.height / 2);
    g.fillStyle = look.quiet;
    g.textAlign = "right";
    g.fillText(j.said(j.hi), where.from - 6, y(j.hi));
    g.fillText(j.said(j.lo), where.from - 6, y(j.lo));
  }
  // trace joins the readings; where several share a pixel, it spans them.
  function trace(g, look, j, where, y) {
    const { readings, drawn } = j, n = readings.length - 1;
    let i = Math.max(0, j.states.place(where.time(where.from)).n - 1);
    g.strokeStyle = look.accent;
    g.lineWidth = 1.5;
    g.lineJoin = "round";
    g.beginPath();
    g.moveTo(where.x(drawn[i]), y(readings[i]));
    while (i < n && where.x(drawn[i]) <= where.to) {
      const pixel = Math.floor(where.x(drawn[++i]));
      let low = readings[i], high = low;
      const first = i;
      while (i < n && Math.floor(where.x(drawn[i + 1])) === pixel) { i++; low = Math.min(low, readings[i]); high = Math.max(high, readings[i]); }
      if (i - first < 3) { for (let k = first; k <= i; k++) g.lineTo(where.x(drawn[k]), y(readings[k])); continue; }
      g.lineTo(pixel, y(low));
      g.lineTo(pixel, y(high));
      g.lineTo(pixel + 0.5, y(readings[i]));
    }
    g.stroke();
  }
  // nearest marks where the margin is least.
  function nearest(g, look, j, where, y) {
    const x = where.x(j.drawn[j.at]), r = j.readings[j.at], up = r - j.lo > j.hi - r ? -1 : 1, tip = y(r);
    g.fillStyle = look.keep;
    g.beginPath();
    g.moveTo(x, tip);
    g.lineTo(x - 4, tip - 7 * up);
    g.lineTo(x + 4, tip - 7 * up);
    g.fill();
  }
  return { of, draw };
})();
