// From where the scene is seen: a target, two angles and a distance. Parallel views show the
// plane through the target at the scale that the other kind would show it.
const camera = (() => {
  "use strict";
  const { plus, minus, times, dot, cross, unit, length } = vector;
  const field = 32 * Math.PI / 180, slope = Math.tan(field / 2); // of the height of the picture
  const radians = Math.PI / 180;

  function open() {
    // heading 0 looks along +Y, as a person in front of the bench does; pitch 90 looks down.
    const c = { target: [0, 0, 0], heading: -28, pitch: 32, away: 1000, flat: false, size: [1, 1], bounds: [[0, 0, 0], [1, 1, 1]] };

    const forward = () => {
      const h = c.heading * radians, p = c.pitch * radians;
      return [-Math.sin(h) * Math.cos(p), Math.cos(h) * Math.cos(p), -Math.sin(p)];
    };
    const right = () => [Math.cos(c.heading * radians), Math.sin(c.heading * radians), 0];
    const up = () => cross(right(), forward());
    const eye = () => minus(c.target, times(forward(), c.away));
    const aspect = () => c.size[0] / c.size[1];
    // scale is how many pixels a millimetre gets at the target.
    const scale = () => c.size[1] / (2 * c.away * slope);

    // depths are how near and how far something is that is worth drawing.
    function depths() {
      const e = eye(), f = forward(), all = vector.corners(...c.bounds).map((p) => dot(minus(p, e), f));
      const far = Math.max(...all, c.away) * 1.05 + 10, near = Math.min(...all) * 0.9;
      return c.flat ? [Math.min(near, c.away) - far, far] : [Math.max(near, far / 2000, 0.5), far];
    }
    function matrix() {
      const r = right(), u = up(), f = forward(), e = eye(), [near, far] = depths();
      const view = new Float32Array([r[0], u[0], -f[0], 0, r[1], u[1], -f[1], 0, r[2], u[2], -f[2], 0, -dot(r, e), -dot(u, e), dot(f, e), 1]);
      const p = new Float32Array(16), deep = far - near;
      if (c.flat) {
        const h = c.away * slope;
        p[0] = 1 / (h * aspect()); p[5] = 1 / h; p[10] = -2 / deep; p[14] = -(far + near) / deep; p[15] = 1;
      } else {
        p[0] = 1 / (slope * aspect()); p[5] = 1 / slope; p[10] = -(far + near) / deep; p[11] = -1; p[14] = -2 * far * near / deep;
      }
      return vector.multiply(p, view);
    }
    // ray is the line of sight through a point of the picture, in pixels from its top left.
    function ray(x, y) {
      const u = (2 * x / c.size[0] - 1) * aspect() * slope, v = (1 - 2 * y / c.size[1]) * slope;
      const side = plus(times(right(), u), times(up(), v));
      if (c.flat) return { from: plus(eye(), times(side, c.away)), along: forward() };
      return { from: eye(), along: unit(plus(forward(), side)) };
    }
    // pixel is where a point is seen, and how deep; null behind the eye.
    function pixel(m, p) {
      const [x, y, z, w] = vector.apply(m, p);
      return w <= 0 ? null : [(x / w + 1) / 2 * c.size[0], (1 - y / w) / 2 * c.size[1], z / w, w];
    }
    // near is how many pixels a millimetre gets at a point, and at least those at the nearest
    // point of a box.
    function near([from, to]) {
      if (c.flat) return scale();
      const e = eye(), close = e.map((x, k) => Math.max(from[k], Math.min(to[k], x)));
      return c.size[1] / (2 * Math.max(1, length(minus(close, e))) * slope);
    }

    function orbit(dx, dy) {
      c.heading = (c.heading - dx * 0.4) % 360;
      c.pitch = Math.max(-89, Math.min(90, c.pitch + dy * 0.4));
      c.flat = false;
    }
    function pan(dx, dy) {
      const s = 1 / scale();
      c.target = plus(c.target, plus(times(right(), -dx * s), times(up(), dy * s)));
    }
    // zoom by a factor, so that what is seen at (x, y) stays there.
    function zoom(factor, x = c.size[0] / 2, y = c.size[1] / 2) {
      const away = Math.max(5, Math.min(c.away * factor, 1e6)), s = 1 / scale(), k = 1 - away / c.away;
      const dx = (x - c.size[0] / 2) * s * k, dy = (c.size[1] / 2 - y) * s * k;
      c.target = plus(c.target, plus(times(right(), dx), times(up(), dy)));
      c.away = away;
    }
    // fit moves back until a box is seen whole, and to where it is in the middle of the picture.
    function fit(box, margin = 1.06) {
      const all = vector.corners(...box);
      c.target = times(plus(box[0], box[1]), 0.5);
      c.away = Math.max(1, length(minus(box[1], box[0]))) * 4;
      for (let i = 0; i < 6; i++) {
        const m = matrix(), seen = all.map((p) => pixel(m, p));
        if (seen.includes(null)) { c.away *= 2; continue; }
        const [from, to] = vector.around(seen.map((p) => [p[0], p[1], 0]));
        pan(c.size[0] / 2 - (from[0] + to[0]) / 2, c.size[1] / 2 - (from[1] + to[1]) / 2);
        c.away = Math.max(1, c.away * Math.max((to[0] - from[0]) / c.size[0], (to[1] - from[1]) / c.size[1]) * margin);
      }
    }

    return Object.assign(c, { forward, right, up, eye, scale, matrix, ray, pixel, near, orbit, pan, zoom, fit });
  }
  return { open };
})();
