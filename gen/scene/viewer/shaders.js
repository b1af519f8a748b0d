// The programs of the graphics processor.
const shaders = (() => {
  "use strict";
  const solids = looks.solids.length, types = looks.types.length;

  const lookUp = `
    uniform highp sampler2D u_rows; // of rows.js
    uniform int u_wide;
    vec4 figures(int n, int second) { return texelFetch(u_rows, ivec2(n % u_wide * 2 + second, n / u_wide), 0); }
    vec3 turned(vec4 q, vec3 a) { return a + 2.0 * cross(q.yzw, cross(q.yzw, a) + q.x * a); }`;

  // Faces and their outlines in one: an outline is where a face is near its edge, or where a
  // round side turns away. So no edge is drawn that is hidden, and none costs a triangle.
  const solidVertex = `#version 300 es
    // A solid that is the same from many sides is turned so that the faces which it has are seen.
    layout(location=0) in vec3 a_at;
    layout(location=1) in vec3 a_normal;
    layout(location=2) in vec4 a_edge;
    ${lookUp}
    uniform int u_first, u_copies, u_corners; // a mesh has copies of itself, of so many corners, for the members from the first on
    uniform mat4 u_view;
    uniform vec4 u_eye; // a point, or a direction with w = 0
    uniform int u_way; // 0 as it is, 1 mirrored as a box, 2 turned as a cylinder
    uniform vec3 u_middle;
    uniform vec4 u_fill[${solids}];
    uniform vec4 u_line[${solids}];
    uniform vec4 u_lit;
    out vec4 v_edge;
    out vec3 v_normal, v_place, v_sight;
    flat out vec4 v_fill, v_line;
    flat out vec2 v_kind;
    void main() {
      int n = u_first + gl_InstanceID * u_copies + gl_VertexID / u_corners;
      vec4 one = figures(n, 0), two = figures(n, 1), i_turn = vec4(one.w, two.xyz);
      vec3 i_at = one.xyz;
      int look = int(two.w) & 15, marks = int(two.w) >> 4;
      vec3 at = a_at, normal = a_normal;
      if (u_way > 0) {
        vec4 back = vec4(i_turn.x, -i_turn.yzw);
        vec3 eye = turned(back, u_eye.xyz - i_at * u_eye.w) - u_middle * u_eye.w;
        vec3 side = vec3(eye.x < 0.0 ? -1.0 : 1.0, eye.y < 0.0 ? -1.0 : 1.0, eye.z < 0.0 ? -1.0 : 1.0);
        if (u_way == 2) {
          vec2 u = length(eye.xy) > 1e-6 ? -normalize(eye.xy) : vec2(1.0, 0.0); // its half is toward -X
          mat2 turn = mat2(u.x, u.y, -u.y, u.x);
          at.xy = u_middle.xy + turn * (at.xy - u_middle.xy);
          normal.xy = turn * normal.xy;
          side.xy = vec2(1.0);
        }
        at = u_middle + side * (at - u_middle);
        normal *= side;
      }
      v_place = i_at + turned(i_turn, at);
      v_normal = turned(i_turn, normal);
      v_sight = u_eye.xyz - v_place * u_eye.w;
      v_edge = a_edge;
      v_fill = u_fill[look];
      v_line = u_line[look];
      v_kind = vec2(look, marks);
      if (marks > 0) v_line = vec4(u_lit.rgb, 1.6 + float(marks));
      gl_Position = u_view * vec4(v_place, 1.0);
    }`;
  // WHOLE, CUT or DISC: only pictures with a section, and discs, throw fragments away: otherwise
  // the processor can tell early what is hidden.
  const solidFragment = (kind) => `#version 300 es
    #define ${kind}
    precision highp float;
    in vec4 v_edge;
    in vec3 v_normal, v_place, v_sight;
    flat in vec4 v_fill, v_line;
    flat in vec2 v_kind;
    uniform vec4 u_section; // what lies beyond is cut away
    uniform vec3 u_cutline;
    uniform float u_pattern[${solids}];
    uniform float u_size; // pixels of the picture to one of the page
    uniform bool u_round, u_outlined, u_flat, u_disc;
    uniform vec4 u_grey; // towards which colour, and how far
    out vec4 colour;
    // gap is where a dashed outline has none: along x or y of the picture, whichever it runs along.
    bool gap(float edge) {
      float along = abs(dFdx(edge)) > abs(dFdy(edge)) ? gl_FragCoord.y : gl_FragCoord.x;
      return fract(along / (7.0 * u_size)) > 0.6;
    }
    float outline(float width, bool dashed) {
      if (u_disc) {
        float rim = length(v_edge.xy), step = max(fwidth(rim), 1e-6);
        if (gap(rim) && dashed) return 0.0;
        return (1.0 - smoothstep(width - 0.5, width + 0.5, (1.0 - rim) / step)) * smoothstep(2.0, 6.0, 1.0 / step);
      }
      vec4 step = fwidth(v_edge), far = v_edge / max(step, vec4(1e-6));
      vec4 line = (1.0 - smoothstep(vec4(width - 0.5), vec4(width + 0.5), far)) * smoothstep(vec4(3.0), vec4(9.0), 1.0 / max(step, vec4(1e-6)));
      if (dashed) line *= vec4(gap(v_edge.x) ? 0.0 : 1.0, gap(v_edge.y) ? 0.0 : 1.0, gap(v_edge.z) ? 0.0 : 1.0, gap(v_edge.w) ? 0.0 : 1.0);
      float most = max(max(line.x, line.y), max(line.z, line.w));
      if (u_round) {
        float face = abs(dot(normalize(v_normal), normalize(v_sight)));
        most = max(most, 1.0 - smoothstep(width - 0.5, width + 0.5, face / max(2.0 * fwidth(face), 0.004)));
      }
      return most;
    }
    float stripes(float period, float share) {
      float s = (gl_FragCoord.x + gl_FragCoord.y) / (period * u_size), d = abs(fract(s) - 0.5) * period * u_size;
      return 1.0 - smoothstep(share * u_size - 0.5, share * u_size + 0.5, d);
    }
    void main() {
      #ifndef WHOLE
      if (dot(u_section.xyz, v_place) > u_section.w || u_disc && dot(v_edge.xy, v_edge.xy) > 1.0) discard;
      #endif
      vec3 normal = normalize(v_normal);
      float pattern = u_pattern[int(v_kind.x)];
      vec4 paint = vec4(v_fill.rgb * (1.0 - 0.16 * abs(normal.y) - 0.08 * abs(normal.x) - 0.2 * max(0.0, -normal.z)), v_fill.a);
      if (pattern == 2.0) paint.a *= 0.12 + 0.88 * stripes(8.0, 0.7);
      #ifdef CUT
      if (!gl_FrontFacing && !u_flat) paint = vec4(mix(v_fill.rgb, u_cutline, stripes(6.0, 0.6)), 1.0);
      else
      #endif
      if (u_outlined) {
        float line = outline(v_line.a * u_size, (pattern == 1.0 || pattern == 4.0) && v_kind.y < 0.5);
        #ifdef DISC
        if (pattern > 2.5 && line < 0.5) discard;
        #endif
        paint = vec4(mix(paint.rgb, v_line.rgb, line), max(paint.a, line));
      }
      paint.rgb = mix(paint.rgb, u_grey.rgb, u_grey.a);
      colour = vec4(paint.rgb * paint.a, paint.a);
    }`;

  // Lines have a width in pixels at any distance; each is a strip across its two ends.
  const lineVertex = `#version 300 es
    ${lookUp}
    uniform mat4 u_view;
    uniform vec2 u_room; // of the picture, in its pixels
    uniform float u_size;
    uniform vec4 u_colour[${types}];
    uniform vec4 u_dashes[${types}];
    uniform vec4 u_lit;
    uniform float u_thin, u_lift; // towards the eye, so that lines on faces are seen
    out vec2 v_at; // along and across, in pixels
    out vec3 v_place;
    flat out vec4 v_colour, v_dashes;
    flat out float v_half;
    void main() {
      int n = gl_VertexID / 6, k = gl_VertexID % 6;
      vec2 a_corner = vec2(k == 1 || k == 3 || k == 4 ? 1.0 : 0.0, k == 2 || k == 4 || k == 5 ? 1.0 : -1.0); // along, across
      vec4 one = figures(n, 0);
      vec3 i_from = one.xyz, i_to = figures(n, 1).xyz;
      int type = int(one.w) & 15, marks = int(one.w) >> 4;
      vec4 a = u_view * vec4(i_from, 1.0), b = u_view * vec4(i_to, 1.0);
      float da = a.w + a.z, db = b.w + b.z;
      gl_Position = vec4(2.0, 2.0, 2.0, 1.0);
      if (da <= 0.0 && db <= 0.0) return;
      float ta = da < 0.0 ? da / (da - db) + 1e-5 : 0.0, tb = db < 0.0 ? da / (da - db) - 1e-5 : 1.0;
      vec4 a2 = mix(a, b, ta), b2 = mix(a, b, tb);
      vec2 pa = a2.xy / a2.w * u_room * 0.5, pb = b2.xy / b2.w * u_room * 0.5;
      float far = max(length(pb - pa), 1e-4);
      vec2 way = (pb - pa) / far, side = vec2(-way.y, way.x);
      v_colour = u_colour[type];
      v_half = v_colour.a * 0.5 * u_size * u_thin;
      if (marks > 0) { v_colour.rgb = u_lit.rgb; v_half += (0.3 + 0.5 * float(marks)) * u_size; }
      v_dashes = u_dashes[type] * u_size;
      float reach = v_half + 0.5;
      vec2 at = mix(pa, pb, a_corner.x) + side * a_corner.y * reach + way * (a_corner.x - 0.5);
      v_at = vec2(a_corner.x > 0.5 ? far + 0.5 : -0.5, a_corner.y * reach);
      v_place = mix(i_from, i_to, mix(ta, tb, a_corner.x));
      vec4 end = a_corner.x > 0.5 ? b2 : a2;
      gl_Position = vec4(at / u_room * 2.0, end.z / end.w - u_lift, 1.0);
    }`;
  const lineFragment = `#version 300 es
    precision highp float;
    in vec2 v_at;
    in vec3 v_place;
    flat in vec4 v_colour, v_dashes;
    flat in float v_half;
    uniform vec4 u_section;
    uniform bool u_cut;
    uniform vec4 u_grey;
    out vec4 colour;
    void main() {
      float cover = clamp(v_half + 0.5 - abs(v_at.y), 0.0, 1.0), whole = v_dashes.x + v_dashes.y + v_dashes.z + v_dashes.w;
      if (whole > 0.0) {
        float s = mod(v_at.x, whole);
        bool gap = s > v_dashes.x && s < v_dashes.x + v_dashes.y || s > whole - v_dashes.w;
        if (gap) cover = 0.0;
      }
      if (u_cut && dot(u_section.xyz, v_place) > u_section.w) cover = 0.0;
      colour = vec4(mix(v_colour.rgb, u_grey.rgb, u_grey.a) * cover, cover);
    }`;

  // Far parts are no more than points of their colour.
  const pointVertex = `#version 300 es
    ${lookUp}
    uniform mat4 u_view;
    uniform vec3 u_middle;
    uniform vec4 u_fill[${solids}];
    uniform vec4 u_line[${solids}];
    uniform vec4 u_lit;
    uniform float u_across; // of one, in pixels at w = 1
    uniform int u_every; // so many members share a point
    flat out vec4 v_fill;
    out vec3 v_place;
    void main() {
      vec4 one = figures(gl_VertexID * u_every, 0), two = figures(gl_VertexID * u_every, 1);
      v_place = one.xyz + turned(vec4(one.w, two.xyz), u_middle);
      gl_Position = u_view * vec4(v_place, 1.0);
      gl_PointSize = max(1.0, u_across / gl_Position.w);
      int look = int(two.w) & 15;
      v_fill = mix(u_fill[look], vec4(u_line[look].rgb, 1.0), 0.3);
      if (two.w > 15.5) v_fill = u_lit;
    }`;
  const pointFragment = `#version 300 es
    precision mediump float;
    in highp vec3 v_place;
    flat in vec4 v_fill;
    uniform highp vec4 u_section;
    uniform bool u_cut;
    uniform vec4 u_grey;
    out vec4 colour;
    void main() {
      if (u_cut && dot(u_section.xyz, v_place) > u_section.w) discard;
      colour = vec4(mix(v_fill.rgb, u_grey.rgb, u_grey.a), 1.0);
    }`;

  // Labels are pieces of one picture that holds all texts.
  const labelVertex = `#version 300 es
    layout(location=0) in vec2 a_corner;
    layout(location=1) in vec2 a_from;
    uniform vec2 u_room, u_sheet;
    out vec2 v_from;
    void main() {
      v_from = a_from / u_sheet;
      gl_Position = vec4(a_corner.x / u_room.x * 2.0 - 1.0, 1.0 - a_corner.y / u_room.y * 2.0, 0.0, 1.0);
    }`;
  const labelFragment = `#version 300 es
    precision mediump float;
    in vec2 v_from;
    uniform sampler2D u_texts;
    out vec4 colour;
    void main() { colour = texture(u_texts, v_from); }`;

  function compile(gl, kind, text) {
    const shader = gl.createShader(kind);
    gl.shaderSource(shader, text);
    gl.compileShader(shader);
    if (!gl.getShaderParameter(shader, gl.COMPILE_STATUS) && !gl.isContextLost()) throw new Error(gl.getShaderInfoLog(shader));
    return shader;
  }
  // link makes a program, with the places of its uniforms by name.
  function link(gl, vertex, fragment) {
    const program = gl.createProgram(), at = {};
    gl.attachShader(program, compile(gl, gl.VERTEX_SHADER, vertex));
    gl.attachShader(program, compile(gl, gl.FRAGMENT_SHADER, fragment));
    gl.linkProgram(program);
    if (!gl.getProgramParameter(program, gl.LINK_STATUS) && !gl.isContextLost()) throw new Error(gl.getProgramInfoLog(program));
    const count = gl.getProgramParameter(program, gl.ACTIVE_UNIFORMS) || 0;
    for (let i = 0; i < count; i++) {
      const name = gl.getActiveUniform(program, i).name.replace("[0]", "");
      at[name] = gl.getUniformLocation(program, name);
    }
    return { program, at };
  }
  const all = (gl) => ({
    solid: link(gl, solidVertex, solidFragment("WHOLE")), cut: link(gl, solidVertex, solidFragment("CUT")), disc: link(gl, solidVertex, solidFragment("DISC")),
    line: link(gl, lineVertex, lineFragment),
    point: link(gl, pointVertex, pointFragment), label: link(gl, labelVertex, labelFragment),
  });
  return { all };
})();
