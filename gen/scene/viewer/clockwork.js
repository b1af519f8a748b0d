// Plays the moves: at their own pace, slower or faster, or step by step. Where it stands is
// {n, t}: n moves are done, and a share t of the next one. No timer runs while it stands still.
//
//   const c = clockwork.open({ states: s, viewer: v, say: (text) => … });    viewer and say may be left out
//   c.play(), c.pause(words), c.toggle(), c.playing
//   c.rate = 2                            times as fast as the estimate; clockwork.rates lists what is offered
//   c.step(1), c.step(-1)                 a move on, which is seen on its way, or one back
//   c.transfer(1), c.transfer(-1)         to the beginning of the next transfer, or of this one or the one before
//   c.toTransfer(number)                  its first move; of those that begin together, that of the first
//   c.seek(n, t), c.seekTime(seconds)     seconds of s.drawn, in which waits of unknown length have a nominal one
//   c.at                                  {n, t}; c.now is the state that is spoken of: the move that goes on counts as done
//   c.on("change", f)                     at every picture; c.on("move", f) when c.now changes; c.on("play", f) when it starts or stops
//   c.use(states)                         goes on with another scene, as far on in the same transfer
//   c.close()
// With reduced motion nothing glides: while it plays, move follows move, each at its time.
const clockwork = (() => {
  "use strict";
  const rates = [0.25, 0.5, 1, 2, 5, 10, 20];
  const seldom = 5000;  // ms between two things that are said while it plays
  const glide = 260;    // ms, of a step that takes no time but is to be seen
  const longestPicture = 250; // ms that go by from picture to picture at most: while nobody looks, time stands still
  const longest = 1600; // ms, of a step: nobody waits longer for one

  function open({ states: s, viewer, say }) {
    const c = { at: { n: 0, t: 0 }, now: 0, playing: false, rate: 1, states: s, telling: telling.of(s) };
    const still = matchMedia("(prefers-reduced-motion: reduce)");
    const heard = { change: [], move: [], play: [] };
    let frame = 0, timer = 0, shown = 0, spoken = 0;
    const tell = (event) => { for (const f of heard[event]) f(c); };
    const speak = (text) => { if (say && text) say(text); };

    // show draws where it stands: slots that differ since the last picture, then arm and tool.
    function show() {
      const { n, t } = c.at, now = t > 0 ? n + 1 : n;
      c.state = c.states.during(n, t, c.playing);
      if (viewer) {
        if (n !== shown) for (const [g, i, there, lies] of c.states.changes(shown, n)) viewer.put(g, i, there, lies);
        viewer.set(c.state);
      }
      shown = n;
      const moved = now !== c.now;
      c.now = now;
      tell("change");
      if (moved) tell("move");
    }
    function stop() {
      cancelAnimationFrame(frame);
      clearTimeout(timer);
      frame = timer = 0;
    }
    function put(n, t) {
      const whole = Math.max(0, Math.min(c.states.n, n));
      c.at = { n: whole, t: whole < c.states.n ? Math.max(0, Math.min(1, t || 0)) : 0 };
      if (c.at.t === 1) c.at = { n: whole + 1, t: 0 };
      show();
    }

    // ---- playing --------------------------------------------------------------

    function play() {
      if (c.playing || !c.states.n) return;
      stop();
      if (c.at.n === c.states.n) put(0, 0);
      c.playing = true;
      spoken = performance.now();
      speak("Playing");
      tell("play");
      if (still.matches) next(); else flow();
    }
    // flow lets time go by, picture by picture.
    function flow() {
      let before = performance.now();
      const tick = (time) => {
        const gone = Math.min(longestPicture, Math.max(0, time - before)) / 1000 * c.rate;
        before = Math.max(before, time);
        go(seconds() + gone);
        if (c.playing) frame = requestAnimationFrame(tick);
      };
      frame = requestAnimationFrame(tick);
    }
    // next shows the state behind the present move when its time has gone by, or a later one where
    // states would follow each other too fast to be seen.
    function next() {
      const { drawn, place } = c.states, from = seconds(), soonest = place(from + glide / 1000 * c.rate).n;
      let n = Math.max(c.at.n + 1, soonest);
      while (n < c.states.n && drawn[n] <= from) n++; // what takes no time is passed over
      timer = setTimeout(() => { reached(n); put(n, 0); if (!ended()) next(); }, Math.max(glide, (drawn[n] - from) * 1000 / c.rate));
    }
    function go(time) {
      const last = c.states.drawn[c.states.n];
      const { n, t } = time >= last ? { n: c.states.n, t: 0 } : c.states.place(time);
      reached(n);
      put(n, t);
      ended();
    }
    const seconds = () => {
      const { drawn } = c.states, { n, t } = c.at;
      return n < c.states.n ? drawn[n] + (drawn[n + 1] - drawn[n]) * t : drawn[n];
    };
    function ended() {
      if (c.at.n < c.states.n) return false;
      pause(`${c.telling.sentence(c.at.n)}. End.`);
      return true;
    }
    // reached says that a transfer begins, but not too often.
    function reached(n) {
      const one = c.states.transferAt(Math.min(n + 1, c.states.n));
      if (!one || one.first < c.at.n || one.first > n || one.first === c.at.n && c.at.t > 0 || performance.now() - spoken <= seldom) return;
      spoken = performance.now();
      speak(`Transfer ${c.telling.transfer(one.n)}`);
    }
    function pause(words) {
      if (!c.playing) return;
      c.playing = false;
      stop();
      if (c.at.t > 0) put(c.at.n, c.at.t); // the fingers are where this state has them
      tell("play");
      speak(words);
    }

    // ---- steps ------------------------------------------------------------------

    const leap = (n, t) => { pause(); stop(); put(n, t); };
    function step(by) {
      // A step that is still on its way is over when the next is asked for.
      const done = frame && !c.playing && c.at.t > 0, n = done ? c.at.n + 1 : c.at.n, t = done ? 0 : c.at.t;
      pause();
      stop();
      if (by < 0) put(t > 0 ? n : n - 1, 0);
      else if (n < c.states.n) onward(n, t);
      speak(c.telling.sentence(c.now));
    }
    // onward lets one move be seen on its way, which is worth it where something moves.
    function onward(n, t) {
      const { moves, drawn } = c.states, works = moves.works(n), takes = Math.min(longest, Math.max(works ? glide : 0, (drawn[n + 1] - drawn[n]) * (1 - t) * 1000 / c.rate));
      if (still.matches || !(takes > 0) || !(works || moves.moves(n))) { put(n + 1, 0); return; }
      const began = performance.now();
      const tick = (time) => {
        const share = Math.min(1, Math.max(0, (time - began) / takes));
        put(n, Math.max(1e-6, t + (1 - t) * share));
        frame = share < 1 ? requestAnimationFrame(tick) : 0;
      };
      tick(began);
    }
    function transfer(by) {
      const list = c.states.transfers, here = c.at.n + (c.at.t > 0 ? 0.5 : 0);
      // The state behind the first move of a transfer is the first that is told as it.
      const one = by > 0 ? list.find((x) => x.first + 1 > here) : list.findLast((x) => x.first + 1 < here);
      if (one) toTransfer(one.n); else edge(by > 0 ? c.states.n : 0);
    }
    const edge = (n) => { leap(n); speak(c.telling.sentence(n)); };
    function toTransfer(number) {
      const one = c.states.transfer(number);
      if (!one) return;
      leap(one.first + 1);
      speak(`Transfer ${c.telling.transfer(number)}. ${c.telling.sentence(c.now)}`);
    }

    function use(other) {
      pause();
      stop();
      const n = alike(c.states, c.at.n, other);
      c.states = other;
      c.telling = telling.of(other);
      shown = 0; // a scene is shown as it is before the first move
      put(n, n < other.n ? c.at.t : 0);
      tell("move"); // of which the words may be others
    }
    Object.assign(c, {
      play, pause, step, transfer, toTransfer, use, seconds,
      toggle: () => (c.playing ? pause(`Paused. ${c.telling.sentence(c.now)}`) : play()),
      toStart: () => edge(0),
      toEnd: () => edge(c.states.n),
      seek: leap,
      seekTime: (time) => { const { n, t } = c.states.place(time); leap(n, t); },
      on: (event, f) => { heard[event].push(f); },
      close: () => { pause(); stop(); for (const list of Object.values(heard)) list.length = 0; },
    });
    show();
    return c;
  }
  // alike is the state of another job that is as far on in the same transfer.
  function alike(s, n, other) {
    const was = s.transferAt(n), is = was && other.transfer(was.n);
    if (n === s.n) return other.n;
    return is ? is.first + Math.min(n - was.first, is.end - is.first) : Math.min(n, other.n);
  }
  return { open, rates };
})();
