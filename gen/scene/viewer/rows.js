// Arrays of many things, eight figures each, as the rows of a picture that the processor can
// look things up in: so many things are drawn at once, without an array for each. (Where
// the processor is only imitated, each instance of a drawing costs as much as 40 triangles.)
const rows = (() => {
  "use strict";
  const across = 512; // things in a row

  // wide is how many things a row has where there is room for so many, whole how many there
  // are in whole rows.
  const wide = (room) => Math.min(across, Math.max(1, room));
  const whole = (room) => Math.ceil(Math.max(1, room) / wide(room)) * wide(room);

  // make gives the picture for the array of a thing; bring takes over what has changed since.
  function make(gl, thing) {
    const own = { texture: gl.createTexture(), wide: wide(thing.room), data: thing.data, version: thing.version };
    gl.bindTexture(gl.TEXTURE_2D, own.texture);
    gl.pixelStorei(gl.UNPACK_PREMULTIPLY_ALPHA_WEBGL, false);
    gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_MIN_FILTER, gl.NEAREST);
    gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_MAG_FILTER, gl.NEAREST);
    gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA32F, own.wide * 2, thing.data.length / 8 / own.wide, 0, gl.RGBA, gl.FLOAT, thing.data);
    thing.changed = [Infinity, 0];
    return own;
  }
  function bring(gl, thing, own) {
    gl.bindTexture(gl.TEXTURE_2D, own.texture);
    if (own.version === thing.version) return;
    const first = Math.floor(thing.changed[0] / own.wide), last = Math.ceil(thing.changed[1] / own.wide);
    gl.pixelStorei(gl.UNPACK_PREMULTIPLY_ALPHA_WEBGL, false);
    if (last > first) gl.texSubImage2D(gl.TEXTURE_2D, 0, 0, first, own.wide * 2, last - first, gl.RGBA, gl.FLOAT, thing.data, first * own.wide * 8);
    own.version = thing.version;
    thing.changed = [Infinity, 0];
  }
  return { wide, whole, make, bring };
})();
