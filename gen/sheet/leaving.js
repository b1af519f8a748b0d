// leaving.asks(): from now on the browser asks before the page is closed or read anew,
// because what was ticked and typed is in its memory only.
const leaving = (() => {
  "use strict";
  let some = false;
  addEventListener("beforeunload", (e) => { if (some) e.preventDefault(); });
  return { asks: () => { some = true; } };
})();
