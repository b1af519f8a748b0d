// Draws a picture from crowds, lines and labels. All that is the graphics processor's own is
// made here on demand, from arrays that stay with the scene: after a context was lost, a new
// painter draws the same.
const painter = (() => {
  "use strict";

  function open(gl) {
    const programs = shaders.all(gl), made = new Map(); // by what was made for: mesh, crowd or lines
    const texts = { texture: gl.createTexture(), version: -1, quads: gl.createBuffer() };
    const mostCorners = 8000; // of all copies of a mesh

    function buffer(target, data) {
      const b = gl.createBuffer();
      gl.bindBuffer(target, b);
      gl.bufferData(target, data, gl.STATIC_DRAW);
      return b;
    }
    function attribute(at, size, stride, offset) {
      gl.enableVertexAttribArray(at);
      gl.vertexAttribPointer(at, size, gl.FLOAT, false, stride, offset);
    }
    // meshOf is a mesh on the processor, so many times that few drawings are enough for a crowd.
    function meshOf(mesh, room) {
      if (made.has(mesh)) return made.get(mesh);
      const corners = mesh.at.length / 3, copies = Math.max(1, Math.min(128, room, Math.floor(mostCorners / corners)));
      const repeat = (data) => { const out = new Float32Array(data.length * copies); for (let i = 0; i < copies; i++) out.set(data, i * data.length); return out; };
      const indexes = (part) => Uint32Array.from({ length: part.length * copies }, (_, i) => part[i % part.length] + Math.floor(i / part.length) * corners);
      const own = { vao: gl.createVertexArray(), buffers: [], copies, corners, parts: [] };
      gl.bindVertexArray(own.vao);
      [mesh.at, mesh.normal, mesh.edge].forEach((data, i) => {
        own.buffers.push(buffer(gl.ARRAY_BUFFER, repeat(data)));
        attribute(i, i === 2 ? 4 : 3, 0, 0);
      });
      // All of it, then what is seen of it if it is turned.
      own.parts = [mesh.index.length, mesh.seen];
      own.buffers.push(buffer(gl.ELEMENT_ARRAY_BUFFER, concat(indexes(mesh.index), indexes(mesh.index.subarray(0, mesh.seen)))));
      made.set(mesh, own);
      return own;
    }
    function concat(a, b) {
      const out = new Uint32Array(a.length + b.length);
      out.set(a);
      out.set(b, a.length);
      return out;
    }
    // bind makes the members of a crowd, or lines, known to the program in use.
    function bind(thing, at) {
      let own = made.get(thing);
      if (own && own.data !== thing.data) { gl.deleteTexture(own.texture); own = null; } // it has grown
      if (own) rows.bring(gl, thing, own);
      else made.set(thing, own = rows.make(gl, thing));
      gl.uniform1i(at.u_wide, own.wide);
    }
    // forget gives back what was made for things that are no longer drawn.
    function forget() {
      for (const own of made.values()) {
        for (const b of own.buffers || []) gl.deleteBuffer(b);
        if (own.vao) gl.deleteVertexArray(own.vao);
        if (own.texture) gl.deleteTexture(own.texture);
      }
      made.clear();
    }

    // smooth is where a picture with smooth edges is drawn first; null in a hurry.
    let smooth = null;
    function smoothly() {
      const w = gl.drawingBufferWidth, h = gl.drawingBufferHeight, samples = Math.min(4, gl.getParameter(gl.MAX_SAMPLES));
      if (smooth && smooth.w === w && smooth.h === h) return smooth;
      if (smooth) { gl.deleteFramebuffer(smooth.frame); gl.deleteRenderbuffer(smooth.colour); gl.deleteRenderbuffer(smooth.depth); }
      smooth = { w, h, frame: gl.createFramebuffer(), colour: gl.createRenderbuffer(), depth: gl.createRenderbuffer() };
      gl.bindFramebuffer(gl.FRAMEBUFFER, smooth.frame);
      for (const [what, format, place] of [["colour", gl.RGB8, gl.COLOR_ATTACHMENT0], ["depth", gl.DEPTH_COMPONENT24, gl.DEPTH_ATTACHMENT]]) {
        gl.bindRenderbuffer(gl.RENDERBUFFER, smooth[what]);
        gl.renderbufferStorageMultisample(gl.RENDERBUFFER, samples, format, w, h);
        gl.framebufferRenderbuffer(gl.FRAMEBUFFER, place, gl.RENDERBUFFER, smooth[what]);
      }
      return smooth;
    }
    function show({ w, h, frame }) {
      gl.bindFramebuffer(gl.READ_FRAMEBUFFER, frame);
      gl.bindFramebuffer(gl.DRAW_FRAMEBUFFER, null);
      gl.blitFramebuffer(0, 0, w, h, 0, 0, w, h, gl.COLOR_BUFFER_BIT, gl.NEAREST);
      gl.invalidateFramebuffer(gl.READ_FRAMEBUFFER, [gl.COLOR_ATTACHMENT0, gl.DEPTH_ATTACHMENT]);
      gl.bindFramebuffer(gl.FRAMEBUFFER, null);
    }

    // ---- what holds for a whole picture --------------------------------------------

    const mixed = (a, b, t) => a.map((x, i) => x * (1 - t) + b[i] * t);
    function tables(colours) {
      return {
        fill: new Float32Array(looks.solids.flatMap((s) => [...mixed(colours[s.fill], colours.ground, s.pale || 0), s.opacity])),
        line: new Float32Array(looks.solids.flatMap((s) => [...colours[s.line], s.width])),
        pattern: new Float32Array(looks.solids.map((s) => s.pattern || 0)),
        colour: new Float32Array(looks.types.flatMap((t) => [...colours[t.colour], t.width])),
        dashes: new Float32Array(looks.types.flatMap((t) => t.dashes || [0, 0, 0, 0])),
      };
    }
    function begin(name, scene) {
      const { program, at } = programs[name], { camera: c, size, table, colours } = scene;
      gl.useProgram(program);
      gl.uniformMatrix4fv(at.u_view, false, scene.matrix);
      gl.uniform4fv(at.u_lit, [...colours.accent, 1]);
      gl.uniform4fv(at.u_section, scene.section || [0, 0, 0, 1]);
      gl.uniform1i(at.u_cut, scene.section ? 1 : 0);
      gl.uniform4fv(at.u_grey, [...colours.faint, scene.greyed ? 0.65 : 0]);
      gl.uniform1f(at.u_size, size);
      if (name === "line") {
        gl.uniform2f(at.u_room, gl.drawingBufferWidth, gl.drawingBufferHeight);
        gl.uniform4fv(at.u_colour, table.colour);
        gl.uniform4fv(at.u_dashes, table.dashes);
        return at;
      }
      gl.uniform4fv(at.u_fill, table.fill);
      gl.uniform4fv(at.u_line, table.line);
      if (at.u_pattern) gl.uniform1fv(at.u_pattern, table.pattern);
      if (at.u_cutline) gl.uniform3fv(at.u_cutline, colours.ink);
      if (at.u_eye) gl.uniform4fv(at.u_eye, c.flat ? [...vector.times(c.forward(), -1), 0] : [...c.eye(), 1]);
      return at;
    }

    // ---- the kinds of things ---------------------------------------------------------

    function solid(at, item, scene) {
      const { crowd } = item, mesh = item.mesh || crowd.mesh, way = scene.section || item.clear ? 0 : mesh.way;
      if (!crowd.count) return;
      const own = meshOf(mesh, crowd.room);
      gl.bindVertexArray(own.vao);
      bind(crowd, at);
      if (scene.section || mesh.flat || way) gl.disable(gl.CULL_FACE); else gl.enable(gl.CULL_FACE);
      gl.uniform1i(at.u_way, way);
      gl.uniform3fv(at.u_middle, vector.between(mesh.from, mesh.to, 0.5));
      gl.uniform1i(at.u_round, mesh.round ? 1 : 0);
      gl.uniform1i(at.u_outlined, item.bare ? 0 : 1);
      gl.uniform1i(at.u_flat, mesh.flat ? 1 : 0);
      gl.uniform1i(at.u_disc, mesh.disc ? 1 : 0);
      copies(own, way ? 1 : 0, crowd.count, at);
    }
    // copies draws whole sets of copies first, and what remains then.
    function copies(own, part, count, at) {
      const each = own.parts[part], from = part * own.parts[0] * own.copies * 4, sets = Math.floor(count / own.copies), left = count % own.copies;
      gl.uniform1i(at.u_copies, own.copies);
      gl.uniform1i(at.u_corners, own.corners);
      gl.uniform1i(at.u_first, 0);
      if (sets) gl.drawElementsInstanced(gl.TRIANGLES, each * own.copies, gl.UNSIGNED_INT, from, sets);
      gl.uniform1i(at.u_first, sets * own.copies);
      if (left) gl.drawElements(gl.TRIANGLES, each * left, gl.UNSIGNED_INT, from);
    }
    // all draws those solids that a program is for.
    function all(name, items, scene) {
      if (!items.length) return;
      const at = begin(name, scene), one = name === "point" ? points : solid;
      for (const item of items) one(at, item, scene);
    }
    function points(at, item, scene) {
      const { crowd } = item;
      if (!crowd.count) return;
      gl.bindVertexArray(null);
      bind(crowd, at);
      const across = vector.length(vector.minus(crowd.mesh.to, crowd.mesh.from)) / Math.sqrt(3), c = scene.camera;
      gl.uniform3fv(at.u_middle, vector.between(crowd.mesh.from, crowd.mesh.to, 0.5));
      gl.uniform1f(at.u_across, Math.sqrt(item.every) * across * c.scale() * scene.size * (c.flat ? 1 : c.away));
      gl.uniform1i(at.u_every, item.every);
      gl.drawArrays(gl.POINTS, 0, Math.ceil(crowd.count / item.every));
    }
    function line(at, set) {
      gl.bindVertexArray(null);
      bind(set, at);
      gl.drawArrays(gl.TRIANGLES, 0, set.count * 6);
    }
    function labels(sheet) {
      const { program, at } = programs.label;
      if (!sheet || !sheet.quads.length) return;
      gl.useProgram(program);
      gl.bindTexture(gl.TEXTURE_2D, texts.texture);
      if (texts.version !== sheet.version) {
        gl.pixelStorei(gl.UNPACK_PREMULTIPLY_ALPHA_WEBGL, true);
        gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA, gl.RGBA, gl.UNSIGNED_BYTE, sheet.canvas);
        gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_MIN_FILTER, gl.NEAREST);
        gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_MAG_FILTER, gl.NEAREST);
        texts.version = sheet.version;
      }
      gl.uniform2f(at.u_room, gl.drawingBufferWidth, gl.drawingBufferHeight);
      gl.uniform2f(at.u_sheet, sheet.canvas.width, sheet.canvas.height);
      gl.bindVertexArray(null);
      gl.bindBuffer(gl.ARRAY_BUFFER, texts.quads);
      gl.bufferData(gl.ARRAY_BUFFER, new Float32Array(sheet.quads), gl.DYNAMIC_DRAW);
      attribute(0, 2, 16, 0);
      attribute(1, 2, 16, 8);
      gl.drawArrays(gl.TRIANGLES, 0, sheet.quads.length / 4);
      gl.disableVertexAttribArray(0);
      gl.disableVertexAttribArray(1);
    }

    // draw makes one picture, with smooth edges unless it is in a hurry. solids hide what is behind them; clear ones are seen through.
    function draw(scene) {
      scene.matrix = scene.camera.matrix();
      scene.table = tables(scene.colours);
      const frame = scene.hurried ? null : smoothly();
      gl.bindFramebuffer(gl.FRAMEBUFFER, frame && frame.frame);
      gl.viewport(0, 0, gl.drawingBufferWidth, gl.drawingBufferHeight);
      gl.clearColor(...scene.colours.ground, 1);
      gl.depthMask(true);
      gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
      gl.enable(gl.DEPTH_TEST);
      gl.depthFunc(gl.LEQUAL);
      gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
      gl.disable(gl.BLEND);
      const kinds = { point: [], solid: [], disc: [], cut: [] };
      for (const item of scene.solids) kinds[item.points ? "point" : scene.section ? "cut" : item.crowd.hollow ? "disc" : "solid"].push(item);
      for (const [name, items] of Object.entries(kinds)) all(name, items, scene);
      gl.disable(gl.CULL_FACE);
      gl.enable(gl.BLEND);
      const at = begin("line", scene);
      gl.depthMask(false);
      for (const item of scene.lines) {
        gl.uniform1f(at.u_lift, item.lift || 0);
        gl.uniform1f(at.u_thin, item.set.thin || 1);
        if (item.set.count) line(at, item.set);
      }
      clears(scene);
      gl.disable(gl.DEPTH_TEST);
      gl.disable(gl.CULL_FACE);
      labels(scene.sheet);
      gl.depthMask(true);
      if (frame) show(frame);
    }
    // clears draws what is seen through: first how near it is, then once over what is behind,
    // so that where several lie over each other it is no darker.
    function clears(scene) {
      if (!scene.clears.length) return;
      const at = begin(scene.section ? "cut" : "solid", scene);
      for (const group of scene.clears) {
        gl.depthMask(true);
        gl.colorMask(false, false, false, false);
        for (const item of group) solid(at, { ...item, clear: true }, scene);
        gl.colorMask(true, true, true, true);
        gl.depthMask(false);
        for (const item of group) solid(at, { ...item, clear: true }, scene);
      }
    }

    return { draw, forget };
  }
  return { open };
})();
