// search.first gives the first of so many numbers, from 0, for which something holds that holds
// for all behind it; how many there are, where it holds for none.
const search = (() => {
  "use strict";
  function first(count, holds) {
    let from = 0, to = count;
    while (from < to) {
      const middle = (from + to) >> 1;
      if (holds(middle)) to = middle; else from = middle + 1;
    }
    return from;
  }
  return { first };
})();
