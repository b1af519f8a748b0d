// What is said of a state, in words.
//
//   const say = telling.of(states.of(scene));
//   say.sentence(n)       "Move 12 of 765: straight to tray A1, 80 mm/s"
//   say.clock(n, t)       "1 min 02 s and 2 waits of unknown length, of about 6 min 39 s"
//   say.transfer(number)  "7 to 8 of 30: infeed A1 → stack A7.1, infeed B1 → stack A8.1"
//   say.tip(state), say.gripper(state), say.label([grid, slot]), say.doing(n)
//   telling.seconds(x)    a time as people say it
const telling = (() => {
  "use strict";
  const minus = "\u2212";

  function of(s) {
    const { scene, moves } = s, grids = scene.grids || [], raw = moves.raw;
    const waits = pastWaits(moves);
    const label = ([g, index]) => slots.name(grids[g], index);
    const say = { label };
    say.sentence = (n) => {
      if (n <= 0) return s.n ? "Before the first move" : "The plan makes no move";
      const end = n === s.n && s.n < moves.of ? ". The page holds no more moves" : "";
      return `Move ${n} of ${moves.of}: ${moves.words(n - 1)}${end}`;
    };
    say.clock = (n, t) => {
      const known = n < s.n ? s.until[n] + (s.until[n + 1] - s.until[n]) * (t || 0) : s.until[s.n];
      const { inputs, hands } = waits(t > 0 ? n + 1 : n), more = [];
      if (inputs) more.push(inputs === 1 ? "a wait of unknown length" : `${inputs} waits of unknown length`);
      if (hands) more.push(hands === 1 ? "a change of tool by hand" : `${hands} changes of tool by hand`);
      return `${[seconds(known), ...more].join(" and ")}, of about ${scene.clock || seconds(s.until[s.n])}`;
    };
    say.transfer = (number) => {
      const all = raw.ofTransfers || 0, one = number ? s.transfer(number) : null;
      if (!one) return `none, of ${all}`;
      const first = one.n <= number && number <= one.last ? one.n : number, ways = [];
      for (let k = first; k <= one.last; k++) {
        const e = s.ends(k);
        if (e) ways.push(`${e.part ? `${e.part}, ` : ""}${e.from ? label(e.from) : ""}${e.to ? ` \u2192 ${label(e.to)}` : ""}`.trim());
      }
      return `${first}${one.last > first ? ` to ${one.last}` : ""} of ${all}${ways.length ? `: ${ways.join(", ")}` : ""}`;
    };
    say.tip = ({ tip }) => (tip ? `X ${coordinate(tip[0])}, Y ${coordinate(tip[1])}, Z ${coordinate(tip[2])} mm` : "not known yet");
    say.gripper = (state) => {
      const load = state.load === null ? "" : `, ${state.load} kg set in the controller`;
      if (state.bare) return `no tool on the flange${load}`;
      if (!state.holds.length) return `holds nothing${load}`;
      const names = new Set(state.holds.map((h) => h.part || grids[h.grid].part));
      return `holds ${[...names].join(", ")}, picked up at ${state.holds.map((h) => label([h.grid, h.slot])).join(", ")}${load}`;
    };
    say.joints = ({ joints }) => (joints && scene.arm ? scene.arm.joints.map((j, i) => `${j.name} ${coordinate(joints[i])} ${j.unit}`).join(", ") : "");
    return say;
  }

  // pastWaits counts the waits, and the changes by hand, before a state.
  function pastWaits(moves) {
    const all = [...moves.unknown].sort((a, b) => a - b), inputs = all.filter((i) => moves.kind(i) === "await"), hands = all.filter((i) => moves.kind(i) === "select");
    const before = (list, n) => search.first(list.length, (i) => list[i] >= n);
    return (n) => ({ inputs: before(inputs, n), hands: before(hands, n) });
  }

  const coordinate = (x) => (Math.round(x * 10) / 10 + 0).toFixed(1).replace("-", minus); // + 0 turns -0 into 0
  function seconds(x) {
    if (x < 59.95) return `${x.toFixed(1)} s`;
    const whole = Math.round(x), two = (n) => String(n).padStart(2, "0");
    if (whole < 3600) return `${Math.floor(whole / 60)} min ${two(whole % 60)} s`;
    const minutes = Math.round(x / 60);
    return `${Math.floor(minutes / 60)} h ${two(minutes % 60)} min`;
  }

  return { of, seconds };
})();
