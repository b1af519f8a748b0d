// The moves of a scene, by their numbers from 0. What is empty may be left out of a scene.
const movelist = (() => {
  "use strict";

  class List {
    constructor(moves) {
      const m = moves || {};
      this.raw = m;
      this.n = m.n || 0;
      this.of = m.of || this.n;
      this.turns = m.turns && m.turns.length ? m.turns : [vector.still];
      const numbers = (name) => new Set(m[name] || []);
      this.through = numbers("through");
      this.unknown = numbers("unknown");
      this.settling = numbers("settle");
      this.unreached = numbers("unreached"); // where the arm and its tool part company
      this.width = m.joints && this.n ? m.joints.length / this.n : 0;
      this.motions = [];
      for (let i = 0; i < this.n; i++) if (this.moves(i)) this.motions.push(i);
    }
    kind(i) { return this.raw.kinds[this.raw.kind[i]]; }
    moves(i) { const k = this.kind(i); return k === "travel" || k === "straight"; }
    works(i) { const k = this.kind(i); return (k === "grip" || k === "release") && this.slot(i) !== null; }
    role(i) { return this.raw.roles && this.raw.role ? this.raw.roles[this.raw.role[i]] : ""; }
    tip(i) { return this.raw.at.slice(3 * i, 3 * i + 3); }
    turn(i) { return this.turns[this.raw.turn[i] || 0]; }
    tool(i) { return this.raw.tool ? this.raw.tool[i] : 0; }
    slot(i) {
      const s = this.raw.slot;
      return s && s[2 * i] >= 0 ? [s[2 * i], s[2 * i + 1]] : null;
    }
    some(name, i) { const all = this.raw[name]; return all ? all[i] : undefined; }
    transfer(i) { return this.raw.transfer ? this.raw.transfer[i] : 0; }
    carries(i) { return this.transfer(i) ? this.transfer(i) + (this.some("behind", i) || 0) : 0; }
    seconds(i) { return this.raw.seconds ? this.raw.seconds[i] : 0; }
    words(i) { return this.raw.words ? this.raw.words[i] : this.kind(i); }
    joints(i) { return this.width ? this.raw.joints.slice(this.width * i, this.width * (i + 1)) : null; }
    // before is the last motion before move i; -1 for none.
    before(i) {
      const k = search.first(this.motions.length, (at) => this.motions[at] >= i);
      return k ? this.motions[k - 1] : -1;
    }
  }
  return { of: (scene) => new List(scene.moves) };
})();
