
// Figures of the plan that can be turned: each has a stepper, a field and a slider. A
// turn is looked at as a draft first and goes into the text when the hand rests.
const knobs = (() => {
  "use strict";

  const rest = 400; // ms without a turn

  // worded writes a figure as the knob's text has it: its unit and decimals stay.
  function worded(knob, value) {
    const decimals = Math.max(places(knob.step), places(value));
    const figure = knob.whole ? String(Math.round(value)) : String(Number(value.toFixed(Math.min(decimals, 4))));
    return /^[-+]?[\d.]+/.test(knob.text) ? knob.text.replace(/^[-+]?[\d.]+/, figure) : figure;
  }
  const places = (x) => (String(x).split(".")[1] || "").length;

  // open fills a box. on.turn(knob, text) shows a figure as a draft, on.keep(knob, text)
  // writes it into the text, on.point(knob or null).
  function open(box, on) {
    let known = [], rows = new Map(), turned = null, timer = 0, pressed = false;
    box.addEventListener("pointerdown", () => { pressed = true; });
    addEventListener("pointerup", () => { pressed = false; if (turned) later(); });
    addEventListener("pointercancel", () => { pressed = false; });

    function row(k, heading) {
      const e = document.createElement("div");
      e.className = "knob";
      e.dataset.knob = k.path;
      const name = document.createElement("span"), field = document.createElement("input"), slider = document.createElement("input");
      const said = `${heading} ${k.name}${k.unit ? `, ${k.unit}` : ""}`;
      name.className = "knob-name";
      name.textContent = k.name;
      const unit = document.createElement("span");
      unit.className = "quiet";
      unit.textContent = k.unit ? ` ${k.unit}` : "";
      name.append(unit);
      field.type = "number";
      slider.type = "range";
      field.setAttribute("aria-label", said);
      slider.setAttribute("aria-label", `${said}, slider`);
      const button = (sign, way) => {
        const b = document.createElement("button");
        b.type = "button";
        b.textContent = sign;
        b.setAttribute("aria-label", `${way < 0 ? "less" : "more"} ${said}`);
        b.addEventListener("click", () => turn(e.dataset.knob, Number(field.value) + way * (rows.get(e.dataset.knob).k.step || 1)));
        return b;
      };
      for (const input of [field, slider]) {
        input.addEventListener("input", () => { if (input.value !== "") turn(e.dataset.knob, Number(input.value)); });
      }
      e.append(name, button("−", -1), field, button("+", 1), slider);
      e.addEventListener("pointerenter", () => on.point(rows.get(e.dataset.knob).k));
      e.addEventListener("focusin", () => on.point(rows.get(e.dataset.knob).k));
      e.addEventListener("pointerleave", () => on.point(null));
      return { e, k, field, slider };
    }
    function fill(r, k) {
      r.k = k;
      const step = k.step || (k.whole ? 1 : "any");
      const at = document.activeElement;
      for (const input of [r.field, r.slider]) {
        input.min = k.least ?? "";
        input.max = k.most ?? "";
        input.step = input === r.field && !k.whole ? "any" : step;
        if (!(turned && turned.path === k.path) && !(input === at && Number(input.value) === k.value)) input.value = k.value;
      }
    }
    // turn goes to a value and shows it.
    function turn(path, value) {
      const r = rows.get(path), k = r.k;
      const least = k.least ?? -Infinity, most = k.most ?? Infinity;
      value = Math.max(least, Math.min(most, value));
      if (turned && turned.path !== path) keep();
      if (!turned) turned = { path, knob: k };
      turned.text = worded(turned.knob, value);
      for (const input of [r.field, r.slider]) if (input !== document.activeElement || Number(input.value) !== value) input.value = value;
      on.turn(turned.knob, turned.text);
      later();
    }
    // A slider that is held keeps the keyboard, which writing into the text would take.
    function later() {
      clearTimeout(timer);
      timer = setTimeout(() => { if (!pressed) keep(); }, rest);
    }
    function keep() {
      clearTimeout(timer);
      if (!turned) return;
      const { knob, text } = turned;
      turned = null;
      on.keep(knob, text);
      moved(knob, text);
    }
    // moved notes what a figure that was written has changed in its line, until the server says it anew.
    function moved(knob, text) {
      const longer = [...text].length - [...knob.text].length;
      for (const k of known) {
        if (k.file !== knob.file || k.line !== knob.line || k.column <= knob.column) continue;
        k.column += longer;
        k.end += longer;
      }
      knob.end += longer;
      knob.text = text;
    }
    function build(list) {
      rows = new Map();
      const groups = new Map();
      for (const k of list) groups.set(k.group, [...(groups.get(k.group) || []), k]);
      const focus = document.activeElement && document.activeElement.closest("[data-knob]");
      box.replaceChildren(...[...groups].map(([name, inner]) => {
        const set = document.createElement("fieldset"), legend = document.createElement("legend");
        legend.textContent = name;
        set.append(legend, ...inner.map((k) => {
          const r = row(k, name);
          rows.set(k.path, r);
          return r.e;
        }));
        return set;
      }));
      const again = focus && rows.get(focus.dataset.knob);
      if (again) again.field.focus({ preventScroll: true });
    }

    return {
      show(list) {
        const same = list.length === known.length && list.every((k, i) => k.path === known[i].path && k.unit === known[i].unit && k.group === known[i].group);
        if (!same) build(list);
        known = list;
        for (const k of list) fill(rows.get(k.path), k);
      },
      keep,
      see(file, line) {
        const k = known.find((one) => one.file === file && one.line === line);
        if (k) rows.get(k.path).e.scrollIntoView({ block: "nearest" });
      },
      light(at) {
        for (const r of rows.values()) r.e.classList.toggle("kin", at(r.k.file, r.k.line));
      },
    };
  }

  return { open, worded };
})();
