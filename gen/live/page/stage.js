
// The view with its tools, and the time below it. It hands a scene to the viewer, the
// states and the clockwork, and says what is pointed at and where the time stands.
const stage = (() => {
  "use strict";

  const byId = (id) => document.getElementById(id);

  // open makes the pane: on.point(thing), on.choose(thing), on.now(move) and on.say(words),
  // with things as kin has them.
  function open(on) {
    const room = byId("view-pane"), said = byId("view-said");
    let seen = null, clock = null, scene = null, about = 0, lit = "", chosenPath = false;
    seen = viewer.open(byId("view-canvas"), { list: byId("seen"), page: true });
    if (!seen) said.textContent = "This browser draws nothing in three dimensions (it has no WebGL 2). Everything else works.";
    if (seen) seen.on("pick", (thing, how) => (how === "choose" ? on.choose(thing) : on.point(thing)));

    if (seen) {
      legend.fill(byId("legend"));
      byId("view-help").append(...viewer.help.map(([what, how]) => {
        const row = document.createElement("div"), dt = document.createElement("dt"), dd = document.createElement("dd");
        dt.textContent = what;
        dd.textContent = how;
        row.append(dt, dd);
        return row;
      }));
    }

    // ---- tools -----------------------------------------------------------------

    const tools = byId("view-tools");
    tools.addEventListener("click", (e) => {
      const button = e.target.closest("[data-look]");
      if (button && seen) seen.look(button.dataset.look);
    });
    const pressed = (button) => {
      const now = button.getAttribute("aria-pressed") !== "true";
      button.setAttribute("aria-pressed", String(now));
      return now;
    };
    const sweep = () => {
      const on = byId("swept").getAttribute("aria-pressed") === "true";
      if (seen && !seen.swept(on ? about : 0) && on) on.say("Nothing is known of the room that this transfer takes.");
    };
    byId("swept").addEventListener("click", () => { pressed(byId("swept")); sweep(); });
    byId("measure").addEventListener("click", () => {
      const now = pressed(byId("measure"));
      if (seen) seen.measure(now);
      if (now) on.say("Measure: choose two points in the view.");
    });
    if (seen) seen.on("measure", (result) => { if (result) on.say(result.words); });
    byId("path-shown").addEventListener("change", () => {
      chosenPath = true;
      if (seen) seen.path(byId("path-shown").value);
    });
    function cut() {
      const axis = byId("section-axis").value, slider = byId("section-at");
      slider.hidden = !axis;
      if (!seen) return;
      if (!axis || !scene) { seen.section(null); return; }
      const i = "xyz".indexOf(axis), [low, high] = [scene.bounds[0][i], scene.bounds[1][i]];
      const at = low + (high - low) * Number(slider.value) / 100;
      slider.setAttribute("aria-valuetext", `${axis.toUpperCase()} ${Math.round(at)} mm`);
      seen.section({ axis, at });
    }
    byId("section-axis").addEventListener("change", cut);
    byId("section-at").addEventListener("input", cut);
    byId("slots-before").addEventListener("click", () => { if (clock && about) clock.seek(clock.states.before(about), 0); });
    byId("slots-after").addEventListener("click", () => { if (clock && about) clock.seek(clock.states.after(about), 0); });

    // of makes a transfer the one that the tools are about.
    function of(transfer) {
      if (!transfer || transfer === about) return;
      about = transfer;
      sweep();
    }

    return {
      show(next) {
        const first = !scene;
        scene = next;
        lit = "";
        if (seen) seen.show(scene, !first);
        time();
        if (!about) of(1); else sweep();
        if (!chosenPath) byId("path-shown").value = scene.moves.transfers > path.many ? "now" : "all"; // as the viewer does
        cut();
      },
      // light marks kin. What has none in the picture costs no new picture.
      light(kin) {
        const parts = [kin.slots, kin.transfers, kin.keepouts, kin.frames, kin.moves.length ? [kin.moves[0][0], kin.moves[kin.moves.length - 1][1]] : null];
        const key = JSON.stringify(parts);
        if (!seen || key === lit) return;
        lit = key;
        seen.light({ slots: parts[0], transfers: parts[1], keepouts: parts[2], frames: parts[3], moves: parts[4] });
      },
      // old greys the picture, for a reason; "" has it in colour.
      old(reason) {
        room.classList.toggle("greyed", Boolean(reason));
        said.classList.toggle("old", Boolean(reason));
        said.textContent = reason;
        if (seen) seen.greyed(Boolean(reason));
      },
      // over lays another scene over this one; null takes it away.
      over(other) { if (seen) seen.over(other); },
      go(move) { if (clock) { clock.pause(); clock.seek(move, 0); } },
      of,
      get viewer() { return seen; },
      get clock() { return clock; },
    };

    function time() {
      const s = states.of(scene);
      if (clock) { clock.use(s); return; }
      clock = clockwork.open({ states: s, viewer: seen, say: panel.speaker(byId("said")) });
      panel.open(clock);
      timeline.open(byId("timeline"), clock);
      clock.on("move", () => {
        if (clock.now && scene.moves.transfer) of(scene.moves.transfer[clock.now - 1]);
        on.now(clock.now - 1);
      });
    }
  }

  return { open };
})();
