// The controls of the clockwork, on every page that has it.
//
//   panel.build(host)          makes them in an element, where the page's own HTML has none
//   panel.open(clock)          wires them, and says what goes on
//   panel.speaker(element)     a say for clockwork.open, by a live region
// By id: play, back, forward, to-start, to-end (buttons), position (range), transfer (number) with jump, pace (select); of
// what follows, what there is: now-clock, now-move, now-transfer, now-tip, now-gripper, now-joints (texts), said (live region).
const panel = (() => {
  "use strict";
  const byId = (id) => document.getElementById(id);

  function make(parent, name, attributes, ...children) {
    const e = document.createElement(name);
    for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, v);
    e.append(...children);
    parent.append(e);
    return e;
  }
  function build(host) {
    host.setAttribute("role", "group");
    host.setAttribute("aria-label", "Controls");
    make(host, "p", { id: "now-clock", class: "clock" });
    const first = make(host, "div", { class: "controls" });
    const button = (parent, id, text) => make(parent, "button", { type: "button", id }, text);
    for (const [id, text] of [["play", "Play"], ["back", "Step back"], ["forward", "Step forward"], ["to-start", "To start"], ["to-end", "To end"]]) button(first, id, text);
    byId("play").setAttribute("aria-pressed", "false");
    const second = make(host, "div", { class: "controls" });
    make(second, "label", { for: "position" }, "Move");
    make(second, "input", { type: "range", id: "position", min: 0, max: 1, value: 0, step: 1 });
    const third = make(host, "div", { class: "controls" });
    make(third, "label", { for: "transfer" }, "Transfer");
    make(third, "input", { type: "number", id: "transfer", min: 1, max: 1, value: 1, step: 1, inputmode: "numeric" });
    button(third, "jump", "Jump");
    make(third, "label", { for: "pace" }, "Pace");
    make(third, "select", { id: "pace" });
    make(host, "p", { id: "said", class: "heard", role: "status", "aria-live": "polite" });
  }

  const speaker = (element) => (text) => { element.textContent = text; };
  const put = (id, text) => { const e = byId(id); if (e) e.textContent = text; };

  function open(clock) {
    paces(clock);
    const on = (id, event, f) => byId(id).addEventListener(event, f);
    on("play", "click", clock.toggle);
    on("back", "click", () => clock.step(-1));
    on("forward", "click", () => clock.step(1));
    on("to-start", "click", clock.toStart);
    on("to-end", "click", clock.toEnd);
    on("position", "input", () => clock.seek(Number(byId("position").value)));
    on("jump", "click", () => jump(clock));
    on("transfer", "keydown", (e) => { if (e.key === "Enter") jump(clock); });
    on("pace", "change", () => { clock.rate = Number(byId("pace").value); });
    clock.on("move", told);
    clock.on("change", ticked);
    clock.on("play", played);
    told(clock);
    ticked(clock);
    played(clock);
  }
  function paces(clock) {
    const pace = byId("pace");
    pace.textContent = "";
    for (const rate of clockwork.rates) {
      const option = make(pace, "option", { value: rate }, rate === 1 ? "as planned" : `${rate} \u00d7`);
      option.selected = rate === clock.rate;
    }
  }
  // jump goes to the transfer that was asked for, or to the nearest that there is.
  function jump(clock) {
    const box = byId("transfer"), list = clock.states.transfers;
    if (!list.length) return;
    const n = Math.max(list[0].n, Math.min(list[list.length - 1].last, Math.round(Number(box.value)) || 1));
    clock.toTransfer(n);
    box.value = n;
  }

  // told says what holds now. Numbers that somebody types meanwhile stay.
  function told(clock) {
    const { states: s, telling: say, now } = clock, one = s.transferAt(now), position = byId("position"), box = byId("transfer");
    const state = s.at(now);
    put("now-move", say.sentence(now));
    put("now-transfer", say.transfer(one ? one.n : 0));
    put("now-gripper", say.gripper(state));
    position.max = s.n;
    position.value = now;
    position.setAttribute("aria-valuetext", say.sentence(now));
    box.max = Math.max(1, ...s.transfers.slice(-1).map((x) => x.last));
    if (one && document.activeElement !== box) box.value = one.n;
    byId("back").disabled = byId("to-start").disabled = now === 0;
    byId("forward").disabled = byId("to-end").disabled = clock.at.n === s.n;
    byId("play").disabled = s.n === 0;
  }
  // ticked says what goes on while a move does.
  function ticked(clock) {
    put("now-clock", clock.telling.clock(clock.at.n, clock.at.t));
    put("now-tip", clock.telling.tip(clock.state));
    put("now-joints", clock.telling.joints(clock.state));
  }
  function played(clock) {
    byId("play").textContent = clock.playing ? "Pause" : "Play";
    byId("play").setAttribute("aria-pressed", String(clock.playing));
  }
  return { build, open, speaker };
})();
