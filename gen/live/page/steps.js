
// The first steps, which are there until they are closed once. Some browsers keep nothing
// for a page; then they are there each time.
const steps = (() => {
  "use strict";

  const key = "first-steps";

  function open(section, opener, closer) {
    function show(shown) {
      section.hidden = !shown;
      opener.setAttribute("aria-expanded", String(shown));
      try { localStorage.setItem(key, shown ? "" : "closed"); } catch { /* see above */ }
    }
    let kept = "";
    try { kept = localStorage.getItem(key); } catch { /* see above */ }
    show(kept !== "closed");
    opener.addEventListener("click", () => show(section.hidden));
    closer.addEventListener("click", () => { show(false); opener.focus(); });
  }

  return { open };
})();
