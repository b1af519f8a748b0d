
// Talks to the server that the page came from. All addresses are relative to the
// page's own, which holds the secret.
const link = (() => {
  "use strict";

  const shortest = 500, longest = 4000; // ms between two tries to reach the server
  const asked = new Map(); // by topic, what stops the question under way

  // Refusal is an answer with another status than 200; its words are the server's.
  class Refusal extends Error {
    constructor(status, text) {
      super(text.trim() || `the server answers ${status}`);
      this.status = status;
      this.text = text;
    }
  }

  // Unreached is a question that nobody answered.
  class Unreached extends Error {}

  // ask gives the answer as text, or null where a later question on the same topic
  // made this one needless.
  async function ask(topic, address, body) {
    drop(topic);
    const stop = new AbortController();
    asked.set(topic, stop);
    const how = { signal: stop.signal, cache: "no-store" };
    if (body !== undefined) Object.assign(how, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });
    try {
      const response = await fetch(address, how);
      const text = await response.text();
      if (!response.ok) throw new Refusal(response.status, text);
      return text;
    } catch (e) {
      if (stop.signal.aborted) return null;
      throw e instanceof Refusal ? e : new Unreached(e.message);
    } finally {
      if (asked.get(topic) === stop) asked.delete(topic);
    }
  }
  async function data(topic, address, body) {
    const text = await ask(topic, address, body);
    return text === null ? null : JSON.parse(text);
  }
  function drop(topic) {
    const stop = asked.get(topic);
    if (stop) stop.abort();
  }
  const query = (values) => new URLSearchParams(Object.entries(values).filter(([, v]) => v)).toString();

  // follow listens for what the server tells by itself: on.change, on.gone and on.back (the
  // plan's file), on.lost and on.found (the server), on.other (it runs, but not at this
  // address). A page that nobody sees lets go: a browser has few connections to a server.
  function follow(on) {
    let wait = shortest, lost = false, source = null, again = 0;
    const stop = () => {
      clearTimeout(again);
      if (source) source.close();
      source = null;
    };
    const listen = () => {
      stop();
      source = new EventSource("events");
      source.onopen = () => {
        wait = shortest;
        if (lost) on.found();
        lost = false;
      };
      source.onerror = () => {
        stop();
        if (!lost) on.lost();
        lost = true;
        again = setTimeout(retry, wait);
        wait = Math.min(wait * 2, longest);
      };
      for (const name of ["change", "gone", "back"]) source.addEventListener(name, () => on[name]());
    };
    // retry looks first whether somebody answers at this address: a source does not say.
    const retry = async () => {
      try {
        await ask("alive", "state");
        listen();
      } catch (e) {
        if (e instanceof Refusal) { on.other(); return; }
        again = setTimeout(retry, wait);
        wait = Math.min(wait * 2, longest);
      }
    };
    addEventListener("pagehide", stop);
    addEventListener("pageshow", (e) => { if (e.persisted) listen(); });
    document.addEventListener("visibilitychange", () => (document.hidden ? stop() : listen()));
    listen();
  }

  return {
    Refusal, Unreached, drop, follow,
    state: (version) => data("state", `state?${query({ version })}`),
    draft: (texts, good) => data("state", "draft", { texts, good }),
    scene: (version) => data("scene", `scene?${query({ version })}`),
    lines: (version, family) => data("lines", `lines?${query({ version, family })}`),
    other: (version) => data("other", `other?${query({ version })}`),
    program: (version, family, take) => ask("program", `program?${query({ version, family, take })}`), // take: as one file
    save: (file, text, base) => data(`save ${file}`, "save", { file, text, base }),
    suggest: (question) => data("suggest", "suggest", question),
    why: (question) => data("why", "why", question),
  };
})();
