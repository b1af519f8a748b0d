// How much care a picture gets: all of it while the view rests, less while it moves and the
// machine cannot keep up. Level 0 is everything, 1 leaves rough edges, and from 2 on far parts are
// shown more coarsely. Whatever was drawn in a hurry is drawn again once nothing moves.
const pace = (() => {
  "use strict";
  const slow = 21, rest = 170, pause = 600, most = 4; // milliseconds, and the last level

  // open asks redraw for the picture of a view at rest.
  function open(redraw) {
    let level = 0, last = 0, mean = 0, run = 0, timer = 0, resting = false;

    // moves says that something has changed.
    function moves() {
      clearTimeout(timer);
      resting = false;
    }
    // frame gives the level of the picture that is drawn at a time.
    function frame(time) {
      const gap = time - last;
      last = time;
      if (resting || gap > pause) { run = 0; resting = false; return 0; }
      mean = run++ ? mean * 0.7 + gap * 0.3 : gap;
      if (run > 3 && mean > slow && level < most) { level++; run = 0; }
      if (run > 200 && mean < slow * 0.82 && level > 0) { level--; run = 0; }
      if (level) timer = setTimeout(() => { resting = true; redraw(); }, rest);
      return level;
    }
    return { moves, frame, level: () => level };
  }
  return { open };
})();
