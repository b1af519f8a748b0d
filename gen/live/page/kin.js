
// What belongs together: slots, moves, lines of the files, lines of the program and
// findings. Everything is looked up in one scene and the findings of one state.
const kin = (() => {
  "use strict";

  const none = { slots: [], moves: [], lines: [], program: [], findings: [], transfers: [], keepouts: [], frames: [] };

  // ranges folds sorted numbers into [first, last] each.
  function ranges(numbers) {
    const out = [];
    for (const n of numbers) {
      if (out.length && out[out.length - 1][1] >= n - 1) out[out.length - 1][1] = Math.max(n, out[out.length - 1][1]);
      else out.push([n, n]);
    }
    return out;
  }

  function of(scene) {
    const moves = (scene && scene.moves) || { n: 0 }, n = moves.n;
    const byLine = new Map(), bySlot = new Map();
    const put = (map, key, i) => { const list = map.get(key); if (list) list.push(i); else map.set(key, [i]); };
    const key = (f, line) => f * 1e7 + line;
    const fileOf = new Map(((scene && scene.files) || []).map((name, f) => [name, f]));
    for (let i = 0; i < n; i++) {
      if (moves.place) put(byLine, key(moves.place[2 * i], moves.place[2 * i + 1]), i);
      if (moves.slot && moves.slot[2 * i] >= 0) put(bySlot, key(moves.slot[2 * i], moves.slot[2 * i + 1]), i);
    }
    const parts = { slots: (scene && scene.grids) || [], keepouts: (scene && scene.keepouts) || [], frames: (scene && scene.frames) || [] };
    const placed = (sort, f, line) => parts[sort].flatMap((p, i) => (p.place && p.place[0] === f && p.place[1] === line ? [i] : []));

    const slotsOf = (list) => {
      const seen = new Map();
      for (const i of list) {
        const g = moves.slot ? moves.slot[2 * i] : -1;
        if (g >= 0) seen.set(key(g, moves.slot[2 * i + 1]), [g, moves.slot[2 * i + 1]]);
      }
      return [...seen.values()];
    };
    const linesOf = (list) => {
      const seen = new Map();
      for (const i of list) if (moves.place) seen.set(key(moves.place[2 * i], moves.place[2 * i + 1]), [scene.files[moves.place[2 * i]], moves.place[2 * i + 1]]);
      return [...seen.values()];
    };
    const programOf = (list) => {
      if (!moves.lines) return [];
      return ranges(list.flatMap((i) => {
        const [a, b] = [moves.lines[2 * i], moves.lines[2 * i + 1]];
        return a ? Array.from({ length: Math.min(b - a, 1000) + 1 }, (_, k) => a + k) : [];
      }).sort((a, b) => a - b));
    };
    const withMoves = (list) => ({
      ...none, moves: ranges(list), slots: slotsOf(list), lines: linesOf(list), program: programOf(list),
      transfers: moves.transfer ? [...new Set(list.map((i) => moves.transfer[i]).filter(Boolean))] : [],
    });

    const finders = {
      move: (i) => withMoves([i]),
      slot: ([g, s]) => {
        const k = withMoves(bySlot.get(key(g, s)) || []), grid = parts.slots[g];
        const own = grid.place ? [[scene.files[grid.place[0]], grid.place[1]]] : [];
        return { ...k, slots: [[g, s]], lines: [...own, ...k.lines] };
      },
      line: ([file, line]) => {
        const f = fileOf.get(file), k = withMoves(byLine.get(key(f ?? -1, line)) || []);
        if (f === undefined) return { ...k, lines: [[file, line]] };
        const whole = placed("slots", f, line).flatMap((g) => shownOf(parts.slots[g]).map((s) => [g, s]));
        return { ...k, lines: [[file, line]], slots: [...k.slots, ...whole], keepouts: placed("keepouts", f, line), frames: placed("frames", f, line) };
      },
      program: (line) => {
        const i = moveOfProgram(line);
        return i < 0 ? { ...none, program: [[line, line]] } : withMoves([i]);
      },
      slots: (list) => ({ ...none, slots: list }),
      keepout: (i) => ({ ...none, keepouts: [i], lines: lineOf(parts.keepouts[i]) }),
      frame: (i) => ({ ...none, frames: [i], lines: lineOf(parts.frames[i]) }),
      finding: (f) => {
        const k = f.line ? finders.line([f.file, f.line]) : { ...none };
        const own = slotsOfFinding(f);
        return own.length ? { ...k, slots: own } : k;
      },
    };
    const slotsOfFinding = (f) => f.slots.map(([grid, text]) => slotNamed(grid, text)).filter(Boolean);
    const lineOf = (p) => (p && p.place ? [[scene.files[p.place[0]], p.place[1]]] : []);
    const shownOf = (grid) => grid.index || Array.from({ length: Math.min(grid.count || 0, 20000) }, (_, i) => i);
    const named = new Map(); // slots by grid and label, for the grids that were asked for
    function slotNamed(grid, text) {
      const g = parts.slots.findIndex((p) => p.name === grid);
      if (g < 0) return null;
      if (!named.has(g)) named.set(g, new Map(shownOf(parts.slots[g]).map((s) => [slots.label(parts.slots[g], s), s])));
      const s = named.get(g).get(text);
      return s === undefined ? null : [g, s];
    }
    // moveOfProgram is the move that made a line of the program; -1 for none.
    function moveOfProgram(line) {
      if (!moves.lines) return -1;
      let low = 0, high = n - 1, best = -1;
      while (low <= high) {
        let mid = (low + high) >> 1;
        const was = mid;
        while (mid <= high && !moves.lines[2 * mid]) mid++; // moves without a line of their own
        if (mid > high) { high = was - 1; continue; }
        if (moves.lines[2 * mid] <= line) { best = mid; low = mid + 1; } else high = was - 1;
      }
      return best >= 0 && moves.lines[2 * best + 1] >= line ? best : -1;
    }

    return {
      // find gives the kin of one thing, such as {move: 4}, and the findings at its lines and slots.
      find(thing, findings) {
        const [sort, value] = Object.entries(thing)[0];
        const k = finders[sort](value);
        const lines = new Set(k.lines.map(([f, line]) => `${f}:${line}`));
        const named = sort === "slot" ? new Set(k.slots.map(([g, s]) => slots.name(parts.slots[g], s))) : new Set();
        const at = findings.flatMap((f, i) => ((sort === "finding" && f === value) || lines.has(`${f.file}:${f.line}`) || f.slots.some((s) => named.has(s.join(" "))) ? [i] : []));
        return { ...k, findings: at };
      },
      // wrong is the slots that findings speak of, for when nothing is pointed at.
      wrong: (findings) => ({ ...none, slots: findings.flatMap(slotsOfFinding) }),
      slotsNamed: (grid, names) => names.map((name) => slotNamed(grid, name)).filter(Boolean),
      // words names a thing of the view.
      words(thing) {
        if (thing.slot) return `Slot ${slots.name(parts.slots[thing.slot[0]], thing.slot[1])}`;
        if (thing.move !== undefined) return `Move ${thing.move + 1}: ${moves.words[thing.move]}`;
        if (thing.keepout !== undefined) return `Keep-out box ${parts.keepouts[thing.keepout].name}`;
        return thing.frame !== undefined ? `Frame ${parts.frames[thing.frame].name}` : "";
      },
    };
  }

  return { of, ranges, none };
})();
