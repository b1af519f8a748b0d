// Draws the timeline: the ruler, the transfers, and a row for each stop.
//
//   timedrawing.draw(g, look, job, where)   gives how high it is; job is {states, spent, rows, rowOf}
//   timedrawing.high(job, where)            the same without drawing
// where is {from, to, narrow, x(seconds), time(x)}: the pixels between which time goes by, whether names stand above
// their rows instead of beside them, and how times, with nominal waits, and pixels belong together.
const timedrawing = (() => {
  "use strict";
  const row = 22, head = 22, gap = 4, bin = 3, letters = 13; // px
  const steps = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 30, 60, 120, 300, 600, 1200, 1800, 3600, 7200, 18000, 36000];
  const rounds = [2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000]; // of transfers that share a box

  function draw(g, look, job, where) {
    ruler(g, look, job.states, where);
    transfers(g, look, job.states, where);
    job.rows.forEach((r, i) => name(g, look, job, r, top(i, where), where));
    doings(g, look, job, where);
    return high(job, where);
  }
  const top = (i, where) => head + row + gap + i * (row + (where.narrow ? letters : 0)) + (where.narrow ? letters : 0);
  const high = (job, where) => top(job.rows.length, where) - (where.narrow ? letters : 0);
  const end = (states, where) => Math.min(where.to, where.x(states.drawn[states.n]));

  function line(g, a, b, c, d) {
    g.lineWidth = 1;
    g.beginPath();
    g.moveTo(a, b);
    g.lineTo(c, d);
    g.stroke();
  }
  function text(g, colour, words, x, y) {
    g.fillStyle = colour;
    g.textAlign = "left";
    g.fillText(words, x, y);
  }

  // ---- the ruler --------------------------------------------------------------------

  // ruler tells known seconds: waits of unknown length take room, but no time.
  function ruler(g, look, states, where) {
    const apart = (where.x(1) - where.x(0)), step = steps.find((s) => s * apart >= 78) || steps[steps.length - 1];
    const first = knownAt(states, where.time(where.from)), last = knownAt(states, where.time(where.to));
    g.strokeStyle = look.rule;
    for (let k = Math.ceil(first / step - 1e-9); k * step <= last + 1e-9; k++) {
      const x = Math.round(where.x(drawnAt(states, k * step))) + 0.5, words = mark(k * step);
      line(g, x, 14, x, head);
      if (x + g.measureText(words).width < where.to) text(g, look.quiet, words, x + 3, 11);
    }
    line(g, where.from, head + 0.5, end(states, where), head + 0.5);
  }
  function mark(s) {
    if (s < 60) return `${Math.round(s * 10) / 10} s`;
    const whole = Math.round(s), two = (n) => String(n).padStart(2, "0"), h = Math.floor(whole / 3600), m = Math.floor(whole / 60) % 60;
    if (h) return `${h} h ${two(m)} min`;
    return whole % 60 ? `${m} min ${two(whole % 60)} s` : `${m} min`;
  }
  // knownAt and drawnAt change between times without and with the nominal waits.
  function knownAt({ until, place, n: all }, seconds) {
    const { n, t } = place(seconds);
    return n < all ? until[n] + (until[n + 1] - until[n]) * t : until[n];
  }
  function drawnAt({ until, drawn, n }, seconds) {
    const last = Math.max(0, search.first(n + 1, (i) => until[i] > seconds) - 1);
    return drawn[last] + (last < n ? seconds - until[last] : 0);
  }

  // ---- the transfers ----------------------------------------------------------------

  // transfers draws a box for each, or where they are narrow one for so many that their numbers
  // can be read.
  function transfers(g, look, { transfers: list, drawn, n }, where) {
    if (!where.narrow) text(g, look.quiet, "Transfer", 0, head + row / 2 + 2);
    if (!list.length) return;
    const each = (where.x(drawn[n]) - where.x(0)) / list.length, widest = g.measureText(list[list.length - 1].last).width + 8;
    const per = each >= widest ? 1 : rounds.find((k) => k * each >= 2 * widest + 8) || list.length;
    for (let box = Math.floor(search.first(list.length, (i) => where.x(drawn[list[i].end]) >= where.from) / per); box * per < list.length; box++) {
      const of = list.slice(box * per, (box + 1) * per), last = of[of.length - 1];
      const a = Math.max(where.from, where.x(drawn[of[0].first])), b = where.x(drawn[last.end]);
      if (a > where.to) break;
      g.fillStyle = box % 2 ? look.faint : look.due;
      g.fillRect(a, head + 3, b - a, row - 4);
      g.strokeStyle = look.quiet;
      line(g, Math.round(a) + 0.5, head + 3, Math.round(a) + 0.5, head + row - 1);
      const words = of[0].n === last.last ? String(last.n) : `${of[0].n}\u2013${last.last}`;
      if (g.measureText(words).width + 6 < b - a) text(g, look.ink, words, a + 4, head + row / 2 + 2);
    }
  }
  // ---- the rows ---------------------------------------------------------------------

  function name(g, look, { states }, r, y, where) {
    g.strokeStyle = look.rule;
    line(g, where.from, y + row - 1.5, end(states, where), y + row - 1.5);
    if (where.narrow) text(g, look.quiet, `${r.name}${r.part ? `: ${r.part}` : ""}`, 2, y - 6);
    else text(g, look.ink, shortened(g, r.name, where.from - 8), 0, y + row / 2 - 1);
  }
  function shortened(g, words, room) {
    if (g.measureText(words).width <= room) return words;
    let k = words.length;
    while (k > 1 && g.measureText(`${words.slice(0, k)}\u2026`).width > room) k--;
    return `${words.slice(0, k)}\u2026`;
  }

  // doings draws what the time goes to: a box for every move, or where there are more moves than
  // can be told apart, columns in which each kind has its part of the time.
  function doings(g, look, { states, spent, rows, rowOf }, where) {
    const { drawn, place, n } = states, fills = hatching.fills(g, look), columns = rows.map(() => new Map());
    const first = place(where.time(where.from)).n, last = Math.min(n - 1, place(where.time(where.to)).n), many = last - first > 2 * where.to;
    for (let i = first; i <= last; i++) {
      const a = Math.max(where.from, where.x(drawn[i])), b = Math.min(where.to, where.x(drawn[i + 1])), kind = spent.doing[i], r = rowOf[spent.stop[i]];
      if (kind < 0 || b <= a) continue;
      if (many && b - a < bin) share(columns[r], kind, a, b);
      else block(g, look, fills[kind], a, b, top(r, where));
    }
    columns.forEach((all, r) => { for (const [x, parts] of all) column(g, fills, parts, x, top(r, where)); });
  }
  function block(g, look, fill, a, b, y) {
    g.fillStyle = fill;
    g.fillRect(a, y, b - a, row - 4);
    g.strokeStyle = look.ink;
    g.lineWidth = 1;
    if (b - a >= 8) g.strokeRect(a + 0.5, y + 0.5, b - a - 1, row - 5);
  }
  function share(all, kind, a, b) {
    for (let x = Math.floor(a / bin) * bin; x < b; x += bin) {
      if (!all.has(x)) all.set(x, new Float64Array(spending.kinds.length));
      all.get(x)[kind] += (Math.min(b, x + bin) - Math.max(a, x)) / bin;
    }
  }
  function column(g, fills, parts, x, y) {
    let up = y + row - 4;
    parts.forEach((part, kind) => {
      const tall = part * (row - 4);
      g.fillStyle = fills[kind];
      g.fillRect(x, up - tall, bin, tall);
      up -= tall;
    });
  }
  return { draw, high, letters };
})();
