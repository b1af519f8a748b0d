
// A list of any length, of which only the lines in sight are in the page: a listbox of
// WAI-ARIA that keeps the keyboard itself and names its active line.
const longlist = (() => {
  "use strict";

  const beyond = 8; // lines that are ready above and below what is in sight

  // has reports whether i is in one of the ranges [first, last], which are sorted.
  function has(ranges, i) {
    let low = 0, high = ranges.length;
    while (low < high) {
      const mid = (low + high) >> 1;
      if (ranges[mid][1] < i) low = mid + 1; else high = mid;
    }
    return low < ranges.length && ranges[low][0] <= i;
  }

  // open makes a list of a name in a box. fill(row, i) writes line i into an empty row; on.point(i)
  // hears what the pointer or the keyboard is at, null for none; on.choose(i) what is chosen.
  function open(box, { name, fill, on }) {
    box.setAttribute("role", "listbox");
    box.setAttribute("aria-label", name);
    box.tabIndex = 0;
    const inner = document.createElement("div");
    inner.className = "longlist-inner";
    inner.setAttribute("role", "presentation");
    box.append(inner);
    const rows = new Map(); // by line
    let count = 0, active = -1, lit = [], now = -1, first = 0, last = -1, planned = false;

    const height = () => parseFloat(getComputedStyle(box).lineHeight) || 24;
    function plan() {
      if (planned) return;
      planned = true;
      requestAnimationFrame(() => { planned = false; draw(); });
    }
    function draw() {
      const h = height();
      inner.style.height = `${count * h}px`;
      first = Math.max(0, Math.floor(box.scrollTop / h) - beyond);
      last = Math.min(count - 1, Math.ceil((box.scrollTop + box.clientHeight) / h) + beyond);
      for (const [i, row] of rows) {
        if ((i < first || i > last) && i !== active) { row.remove(); rows.delete(i); }
      }
      for (let i = first; i <= last; i++) mark(rowOf(i), i, h);
      if (active >= 0 && active < count) mark(rowOf(active), active, h);
      const row = rows.get(active);
      if (row) box.setAttribute("aria-activedescendant", row.id); else box.removeAttribute("aria-activedescendant");
    }
    function rowOf(i) {
      let row = rows.get(i);
      if (row) return row;
      row = document.createElement("div");
      row.className = "row";
      row.id = `${box.id}-${i}`;
      row.dataset.index = i;
      row.setAttribute("role", "option");
      row.setAttribute("aria-setsize", count);
      row.setAttribute("aria-posinset", i + 1);
      fill(row, i);
      rows.set(i, row);
      inner.append(row);
      return row;
    }
    function mark(row, i, h) {
      row.style.transform = `translateY(${i * h}px)`;
      row.setAttribute("aria-selected", String(i === active));
      row.classList.toggle("kin", has(lit, i));
      row.classList.toggle("now", i === now);
      row.classList.toggle("active", i === active);
    }

    // see scrolls a line into sight, if it is not there already.
    function see(i) {
      const h = height(), top = i * h;
      if (top >= box.scrollTop && top + h <= box.scrollTop + box.clientHeight) return;
      box.scrollTop = Math.max(0, top - box.clientHeight / 3);
      plan();
    }
    function go(i) {
      active = Math.max(0, Math.min(count - 1, i));
      see(active);
      draw();
    }

    box.addEventListener("scroll", plan, { passive: true });
    new ResizeObserver(plan).observe(box);
    // A line that scrolls under a pointer at rest is not pointed at.
    let x = -1, y = -1;
    box.addEventListener("pointermove", (e) => {
      if (e.clientX === x && e.clientY === y) return;
      [x, y] = [e.clientX, e.clientY];
      const row = e.target.closest(".row");
      on.point(row ? Number(row.dataset.index) : null);
    });
    box.addEventListener("pointerleave", () => on.point(null));
    box.addEventListener("click", (e) => {
      const row = e.target.closest(".row");
      if (!row) return;
      go(Number(row.dataset.index));
      on.choose(active);
    });
    box.addEventListener("keydown", (e) => {
      const page = Math.max(1, Math.floor(box.clientHeight / height()) - 1);
      const to = { ArrowDown: active + 1, ArrowUp: active - 1, PageDown: active + page, PageUp: active - page, Home: 0, End: count - 1 }[e.key];
      if (e.ctrlKey || e.altKey || e.metaKey || !count) return;
      if (to !== undefined) {
        e.preventDefault();
        go(to);
        on.point(active);
      } else if ((e.key === "Enter" || e.key === " ") && active >= 0) {
        e.preventDefault();
        on.choose(active);
      }
    });

    return {
      // set begins a new list of so many lines.
      set(n) {
        for (const row of rows.values()) row.remove();
        rows.clear();
        count = n;
        active = Math.min(active, n - 1);
        now = -1;
        draw();
      },
      light(ranges) { lit = ranges; plan(); },
      // here marks the line that is being played; -1 for none.
      here(i, follow) {
        if (i === now) return;
        now = i;
        if (follow && i >= 0) see(i);
        plan();
      },
      see, go,
      get active() { return active; },
      get count() { return count; },
    };
  }

  return { open, has };
})();
