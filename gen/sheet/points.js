// points makes the cells for what was touched again, or read at a slot, into fields to type
// in, and says at once how far that is from where the plan has it; of three points or more
// how well they agree with each other; and hands out a file of touched points.
const points = (() => {
  "use strict";
  const { make } = paper;
  const axes = ["X", "Y", "Z"];
  const length = (v) => Math.hypot(...v);
  const minus = (a, b) => a.map((x, i) => x - b[i]);
  const figure = (x, decimals) => x.toFixed(decimals).replace(/^-(?=[0.]*$)/, "").replace("-", "\u2212");
  const apart = (v) => axes.map((axis, i) => `${axis} ${figure(v[i], 2)}`).join(", ");

  // ---- one figure ---------------------------------------------------------------

  // number reads a figure with a decimal point or comma; undefined for an empty field, and a
  // text that says what is wrong.
  function number(text) {
    const plain = text.trim().replace("\u2212", "-").replace(",", ".");
    if (plain === "") return undefined;
    if (!/^[-+]?(\d+\.?\d*|\.\d+)$/.test(plain)) return "not a number: write it like 12.5 or 12,5, with nothing else";
    const value = Number(plain);
    return Math.abs(value) > 1e5 ? "more than 100 m: is it in mm?" : value;
  }
  function field(axis, id, changed) {
    const input = make("input", { id, inputmode: "decimal", autocomplete: "off", placeholder: " " });
    const wrong = make("p", { id: `${id}-wrong`, class: "wrong", hidden: "" });
    const f = { value: undefined, wrong, label: make("label", { for: id }, axis, input) };
    input.addEventListener("input", () => {
      leaving.asks();
      const value = number(input.value), bad = typeof value === "string";
      f.value = bad ? undefined : value;
      wrong.textContent = bad ? `${axis} is ${value}` : "";
      wrong.hidden = !bad;
      for (const [name, on] of [["aria-invalid", "true"], ["aria-describedby", wrong.id]]) {
        if (bad) input.setAttribute(name, on); else input.removeAttribute(name);
      }
      changed();
    });
    return f;
  }

  // ---- one point ----------------------------------------------------------------

  function judge(off, tolerance) {
    if (off > tolerance) return `more than ${tolerance} mm`;
    return off > tolerance / 2 ? `within ${tolerance} mm, but above half of it` : `within ${tolerance} mm`;
  }
  // row is a point of a set, in its cell of the page.
  function row(set, point, cell, id, changed) {
    const fields = axes.map((axis) => field(axis, `${id}-${axis.toLowerCase()}`, changed));
    const said = make("p", { class: "off", "aria-live": "polite" });
    cell.append(
      make("div", { class: "typed", role: "group", "aria-label": `${point.name}, mm` }, ...fields.map((f) => f.label)),
      ...fields.map((f) => f.wrong), said);
    return {
      point,
      at: () => (fields.every((f) => f.value !== undefined) ? fields.map((f) => f.value) : null),
      show(at, want, left) {
        said.className = "off";
        said.textContent = "";
        if (!at) return;
        const off = minus(at, want), bad = length(off) > set.tolerance;
        if (bad) said.className = "off bad";
        said.textContent = `${bad ? "! " : ""}${figure(length(off), 2)} mm off: ${apart(off)}; ${judge(length(off), set.tolerance)}`
          + (left === undefined ? "" : `. Best fit leaves ${figure(left, 3)} mm`);
      },
    };
  }

  // ---- all points of a table ------------------------------------------------------

  // together says what points that were typed say together.
  function together(set, rows, found) {
    if (found.why) return `No fit: ${found.why}.`;
    const said = [
      `Best fit of ${rows.length} points: largest residual ${figure(found.largest, 3)} mm at ${rows[found.worst].point.name}, root mean square ${figure(found.rms, 3)} mm; tolerance ${set.tolerance} mm.`,
      `On average they lie ${apart(found.shift)} mm from where the plan has them, turned by ${figure(found.degrees, 3)}\u00b0.`,
    ];
    if (found.largest > set.tolerance) said.push("They do not agree with each other: touch them again, the worst one first.");
    else if (rows.some((r) => r.off > set.tolerance)) said.push("They agree with each other, but not with the plan: what they are on stands elsewhere, so measure it anew.");
    return said.join(" ");
  }
  // spot says how far readings of one place lie apart, which a tool's tip was held on.
  function spot(set, rows) {
    const middle = axes.map((_, i) => rows.reduce((sum, r) => sum + r.at()[i], 0) / rows.length);
    const worst = Math.max(...rows.map((r) => length(minus(r.at(), middle))));
    return `All poses hold one tip on one spot: the ${rows.length} readings lie up to ${figure(worst, 3)} mm from their mean; tolerance ${set.tolerance} mm.`;
  }
  // miss says how far the fourth corner is from where the other three put it.
  function miss(set, rows) {
    if (set.form !== "corners" || rows.length !== 4) return "";
    // Opposite corners of a parallelogram have the same middle, whichever way they are listed.
    const at = rows.map((r) => r.at()), want = rows.map((r) => r.point.want[0]);
    const across = [1, 2, 3].reduce((far, k) => (length(minus(want[k], want[0])) > length(minus(want[far], want[0])) ? k : far), 1);
    const [b, c] = [1, 2, 3].filter((k) => k !== across);
    const off = axes.map((_, i) => at[0][i] + at[across][i] - at[b][i] - at[c][i]);
    return ` The fourth corner misses the other three by ${figure(length(off), 3)} mm.`;
  }

  function table(set, cells, number) {
    const choice = set.in.length > 1 && make("select", { id: `in-${number}` }, ...set.in.map((c, i) => make("option", { value: i }, c.name)));
    const handed = handing.out(`Points of ${set.name}, as a file`);
    const said = make("p", { role: "status" });
    const changed = () => update(set, rows, choice ? Number(choice.value) : 0, said, handed);
    const rows = set.points.map((point, i) => row(set, point, cells[i], `p${number}-${i}`, changed));
    const below = make("div", { class: "below" }, said), whole = cells[0].closest("section.wide");
    if (choice) {
      whole.before(make("p", { class: "controls" }, make("label", { for: choice.id }, "Read in the coordinates of"), choice));
      choice.addEventListener("change", changed);
    }
    if (set.form) below.append(make("details", {}, make("summary", {}, "Typed points as a file"), make("p", {}, use(set)), handed));
    whole.after(below);
    changed();
  }
  function use(set) {
    const what = set.kind === "grid" ? "grid" : "frame";
    return `\u201cgridferry fit ${what} FILE\u201d works it out. The same keys go under the ${what === "grid" ? "grid\u2019s name in the plan" : "frame\u2019s name in the cell, or in its file of measured values"}.`;
  }
  function update(set, rows, read, said, handed) {
    const typed = [];
    for (const r of rows) {
      const at = r.at();
      r.off = at ? length(minus(at, r.point.want[read])) : 0;
      if (at) typed.push(r); else r.show(null);
    }
    const found = set.form && typed.length > 2 ? fit.rigid(typed.map((r) => r.point.want[read]), typed.map((r) => r.at())) : null;
    typed.forEach((r, i) => r.show(r.at(), r.point.want[read], found && found.lengths ? found.lengths[i] : undefined));
    said.textContent = found ? together(set, typed, found) + miss(set, typed) : !set.form && typed.length > 1 ? spot(set, typed) : "";
    const wanted = set.form === "three_points" ? 3 : Math.min(3, rows.length);
    if (typed.length < wanted || typed.length < 3) handed.lacks(`Three points are needed; ${typed.length} of ${rows.length} are typed in whole.`);
    else if (found && found.why) handed.lacks(`There is no file: ${found.why}.`);
    else handed.show(file(set, typed, set.in[read]), `touched-${set.name}.yaml`);
  }

  // ---- the file -------------------------------------------------------------------

  // quoted is any text between the quotation marks of YAML, in which JSON's escapes hold.
  const quoted = (text) => JSON.stringify(text).replace(/[\u007f-\u009f\u2028\u2029\ufeff]/g, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, "0")}`);
  const vector = (v) => `[${v.map((x) => String(Number(x.toFixed(4)) + 0)).join(", ")}]`;
  // placed is a point that was read, in the coordinates that the file has.
  const placed = (at, { r, t }) => r.map((line, i) => line[0] * at[0] + line[1] * at[1] + line[2] * at[2] + t[i]);

  function file(set, rows, read) {
    const head = `# ${set.kind === "slots" ? "slots of the grid" : `the ${set.kind}`} ${set.name}, typed in on the job sheet\n`;
    const each = (line) => rows.map((r) => line(r.point, placed(r.at(), read))).join("");
    const tolerance = `tolerance: ${set.tolerance}\n`;
    switch (set.form) {
      case "three_points":
        return `${head}three_points:\n${each((p, at) => `  ${p.name}: ${vector(at)}\n`)}`;
      case "corners":
        return `${head}corners:\n${each((p, at) => `  ${p.name}: ${vector(at)}\n`)}${set.pitch ? `nominal_pitch: ${vector(set.pitch)}\n` : ""}${tolerance}`;
    }
    return `${head}best_fit:\n  ${tolerance}  points:\n${each((p, at) => `    - {name: ${quoted(p.name)}, nominal: ${vector(p.nominal)}, measured: ${vector(at)}}\n`)}`;
  }

  const tables = [...document.querySelectorAll("#points table.points")];
  paper.data.points.forEach((set, i) => table(set, [...tables[i].querySelectorAll("td.write")], i));
  return { number };
})();
