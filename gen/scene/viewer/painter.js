// Draws a picture from crowds, lines and labels. All that is the graphics processor's own is
// made here on demand, from arrays that stay with the scene: after a context was lost, a new
// painter draws the same.
const painter = (() => {
  "use strict";

  function open(gl, antialiased) {
    const programs = shaders.all(gl), made = new Map(); // by what was made for: mesh, crowd or lines
    const strip = buffer(gl.ARRAY_BUFFER, new Float32Array([0, -1, 1, -1, 0, 1, 1, 1]));
    const texts = { texture: gl.createTexture(), version: -1, quads: gl.createBuffer() };

    function buffer(target, data) {
      const b = gl.createBuffer();
      gl.bindBuffer(target, b);
      gl.bufferData(target, data, gl.STATIC_DRAW);
      return b;
    }
    function attribute(at, size, stride, offset, divisor, type = gl.FLOAT) {
      gl.enableVertexAttribArray(at);
      gl.vertexAttribPointer(at, size, type, false, stride, offset);
      if (divisor) gl.vertexAttribDivisor(at, divisor);
    }
    function meshOf(mesh) {
      if (!made.has(mesh)) {
        gl.bindVertexArray(null);
        made.set(mesh, {
          at: buffer(gl.ARRAY_BUFFER, mesh.at), normal: buffer(gl.ARRAY_BUFFER, mesh.normal), edge: buffer(gl.ARRAY_BUFFER, mesh.edge),
          index: buffer(gl.ELEMENT_ARRAY_BUFFER, mesh.index), arrays: new Map(),
        });
      }
      return made.get(mesh);
    }
    // members are a crowd's array on the processor, brought up to date where it changed.
    function members(crowd) {
      let own = made.get(crowd);
      if (!own) {
        own = { data: buffer(gl.ARRAY_BUFFER, crowd.data), version: 0 };
        made.set(crowd, own);
      }
      if (own.version !== crowd.version) {
        const f = crowds.figures, from = crowd.changed[0] * f, to = Math.min(crowd.data.length, crowd.changed[1] * f);
        gl.bindBuffer(gl.ARRAY_BUFFER, own.data);
        if (to > from) gl.bufferSubData(gl.ARRAY_BUFFER, from * 4, crowd.data, from, to - from);
        own.version = crowd.version;
        crowd.changed = [Infinity, 0];
      }
      return own;
    }
    function instances(divisor) {
      const stride = crowds.figures * 4;
      attribute(3, 3, stride, 0, divisor);
      attribute(4, 4, stride, 12, divisor);
      attribute(5, 4, stride, 28, divisor, gl.UNSIGNED_BYTE);
    }
    // arrays binds a mesh to the members of a crowd: the one it has, or a coarser one.
    function arrays(mesh, crowd) {
      const shape = meshOf(mesh), data = members(crowd);
      if (shape.arrays.has(crowd)) { gl.bindVertexArray(shape.arrays.get(crowd)); return; }
      const vao = gl.createVertexArray();
      shape.arrays.set(crowd, vao);
      gl.bindVertexArray(vao);
      [shape.at, shape.normal, shape.edge].forEach((b, i) => { gl.bindBuffer(gl.ARRAY_BUFFER, b); attribute(i, i === 2 ? 4 : 3, 0, 0, 0); });
      gl.bindBuffer(gl.ARRAY_BUFFER, data.data);
      instances(1);
      gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, shape.index);
    }
    function pointArrays(crowd) {
      const data = members(crowd);
      if (data.points) { gl.bindVertexArray(data.points); return; }
      data.points = gl.createVertexArray();
      gl.bindVertexArray(data.points);
      gl.bindBuffer(gl.ARRAY_BUFFER, data.data);
      instances(0);
    }
    // forget gives back what was made for things that are no longer drawn.
    function forget(kept) {
      for (const [thing, own] of made) {
        if (kept.has(thing)) continue;
        for (const b of [own.at, own.normal, own.edge, own.index, own.data]) if (b) gl.deleteBuffer(b);
        for (const vao of [own.points, own.vao, ...(own.arrays ? own.arrays.values() : [])]) if (vao) gl.deleteVertexArray(vao);
        made.delete(thing);
      }
      for (const own of made.values()) {
        if (!own.arrays) continue;
        for (const [crowd, vao] of own.arrays) if (!kept.has(crowd)) { gl.deleteVertexArray(vao); own.arrays.delete(crowd); }
      }
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
      gl.uniform4fv(at.u_section, scene.section || [0, 0, 0, 0]);
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
      const { crowd } = item, mesh = item.mesh || crowd.mesh;
      if (!crowd.count) return;
      const mirrored = mesh.box && !scene.section && !item.clear;
      arrays(mesh, crowd);
      if (scene.section || mesh.flat || mirrored) gl.disable(gl.CULL_FACE); else gl.enable(gl.CULL_FACE);
      gl.uniform1i(at.u_mirrored, mirrored ? 1 : 0);
      gl.uniform3fv(at.u_middle, vector.between(mesh.from, mesh.to, 0.5));
      gl.uniform1i(at.u_round, mesh.round ? 1 : 0);
      gl.uniform1i(at.u_outlined, item.bare ? 0 : 1);
      gl.drawElementsInstanced(gl.TRIANGLES, mirrored ? 18 : mesh.index.length, gl.UNSIGNED_INT, 0, crowd.count);
    }
    function points(at, item, scene) {
      const { crowd } = item;
      if (!crowd.count) return;
      pointArrays(crowd);
      const across = vector.length(vector.minus(crowd.mesh.to, crowd.mesh.from)) / Math.sqrt(3), c = scene.camera;
      gl.uniform3fv(at.u_middle, vector.between(crowd.mesh.from, crowd.mesh.to, 0.5));
      gl.uniform1f(at.u_across, across * c.scale() * scene.size * (c.flat ? 1 : c.away));
      gl.drawArrays(gl.POINTS, 0, crowd.count);
    }
    function line(set) {
      let own = made.get(set);
      if (!own) {
        own = { data: gl.createBuffer(), vao: gl.createVertexArray(), version: -1 };
        made.set(set, own);
        gl.bindVertexArray(own.vao);
        gl.bindBuffer(gl.ARRAY_BUFFER, strip);
        attribute(0, 2, 0, 0, 0);
        gl.bindBuffer(gl.ARRAY_BUFFER, own.data);
        const stride = lines.figures * 4;
        attribute(1, 3, stride, 0, 1);
        attribute(2, 3, stride, 12, 1);
        attribute(3, 4, stride, 24, 1, gl.UNSIGNED_BYTE);
      }
      if (own.version !== set.version) {
        gl.bindBuffer(gl.ARRAY_BUFFER, own.data);
        gl.bufferData(gl.ARRAY_BUFFER, set.data.subarray(0, set.count * lines.figures), gl.DYNAMIC_DRAW);
        own.version = set.version;
      }
      gl.bindVertexArray(own.vao);
      gl.drawArraysInstanced(gl.TRIANGLE_STRIP, 0, 4, set.count);
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
      attribute(0, 2, 16, 0, 0);
      attribute(1, 2, 16, 8, 0);
      gl.drawArrays(gl.TRIANGLES, 0, sheet.quads.length / 4);
    }

    // draw makes one picture. solids hide what is behind them; clear ones are seen through.
    function draw(scene) {
      scene.matrix = scene.camera.matrix();
      scene.table = tables(scene.colours);
      gl.viewport(0, 0, gl.drawingBufferWidth, gl.drawingBufferHeight);
      gl.clearColor(...scene.colours.ground, 1);
      gl.depthMask(true);
      gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
      gl.enable(gl.DEPTH_TEST);
      gl.depthFunc(gl.LEQUAL);
      gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
      gl.disable(gl.BLEND);
      let at = begin("solid", scene);
      for (const item of scene.solids) if (!item.points) solid(at, item, scene);
      at = begin("point", scene);
      for (const item of scene.solids) if (item.points) points(at, item, scene);
      gl.disable(gl.CULL_FACE);
      gl.enable(gl.BLEND);
      at = begin("line", scene);
      gl.depthMask(false);
      for (const item of scene.lines) {
        gl.uniform1f(at.u_lift, item.lift || 0);
        if (item.set.count) line(item.set);
      }
      clears(scene);
      gl.disable(gl.DEPTH_TEST);
      gl.disable(gl.CULL_FACE);
      labels(scene.sheet);
      gl.depthMask(true);
    }
    // clears draws what is seen through: first how near it is, then once over what is behind,
    // so that where several lie over each other it is no darker.
    function clears(scene) {
      if (!scene.clears.length) return;
      const at = begin("solid", scene);
      for (const group of scene.clears) {
        gl.depthMask(true);
        gl.colorMask(false, false, false, false);
        for (const item of group) solid(at, { ...item, clear: true }, scene);
        gl.colorMask(true, true, true, true);
        gl.depthMask(false);
        for (const item of group) solid(at, { ...item, clear: true }, scene);
      }
    }

    return { draw, forget, antialiased };
  }
  return { open };
})();
