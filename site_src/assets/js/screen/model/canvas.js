// Draws a model with WebGL2: soft light, lines of the part and its outline, and what is cut as hatched.
(function () {
  "use strict";

  const MOST_PIXELS = 2; // for each CSS px: more costs frames and shows nothing

  const HEAD = `#version 300 es
precision highp float;
uniform mat3 turn; uniform vec3 at; uniform vec3 middle; uniform vec2 scale; uniform float depth; uniform vec4 cut;
vec4 seen(vec3 place) {
  float z = (turn * (place - middle)).z;
  vec3 view = turn * (place - at);
  return vec4(view.xy * scale, -z * depth, 1.0);
}`;
  const CUT = `#version 300 es
precision highp float;
uniform vec4 cut;
bool gone(vec3 place) { return dot(cut.xyz, place) > cut.w; }`;

  // Two soft lights and one that comes from everywhere, a little more from above: as generator/geometry/render/shading.py.
  const FACES = [`${HEAD}
in vec3 place; in vec3 normal; out vec3 own; out vec3 facing;
void main() { own = place; facing = turn * normal; gl_Position = seen(place); }`, `${CUT}
uniform vec3 tint; uniform bool closed; in vec3 own; in vec3 facing; out vec4 colour;
void main() {
  if (gone(own)) discard;
  vec3 n = normalize(facing);
  if (!gl_FrontFacing && closed) { colour = vec4(tint * 0.5, 1.0); return; }
  if (n.z < 0.0 && !closed) n = -n;
  float light = 0.34 + 0.13 * n.y + 0.62 * max(dot(n, normalize(vec3(-0.45, 0.55, 0.75))), 0.0)
    + 0.2 * max(dot(n, normalize(vec3(0.7, 0.1, 0.5))), 0.0) + 0.08 * max(dot(n, normalize(vec3(0.0, -0.6, 0.3))), 0.0);
  float shine = 0.14 * pow(max(dot(n, normalize(normalize(vec3(-0.45, 0.55, 0.75)) + vec3(0.0, 0.0, 1.0))), 0.0), 36.0);
  colour = vec4(min(tint * light + shine, 1.0), 1.0);
}`];

  // A line is a thin strip that faces the eye; one that is no line of the part is drawn only where the surface turns away.
  const LINES = [`${HEAD}
uniform vec2 size; uniform float wide;
in vec2 side; in vec3 one; in vec3 two; in vec3 normal; in vec3 other; in float strong; out vec3 own; out float ink;
void main() {
  bool front = (turn * normal).z > 0.0;
  bool outline = front != ((turn * other).z > 0.0);
  own = mix(one, two, side.x);
  ink = outline ? 1.0 : strong;
  if (strong == 0.0 && !outline) { gl_Position = vec4(2.0, 2.0, 2.0, 1.0); return; }
  vec4 a = seen(one); vec4 b = seen(two);
  vec2 run = (b.xy - a.xy) * size;
  float far = length(run);
  vec2 along = far > 0.0 ? run / far : vec2(1.0, 0.0);
  vec2 aside = vec2(-along.y, along.x) * side.y + along * (side.x * 2.0 - 1.0) * 0.4;
  vec4 here = side.x < 0.5 ? a : b;
  gl_Position = vec4(here.xy + aside * wide * (outline ? 1.25 : 1.0) / size, here.z - 0.0025, 1.0);
}`, `${CUT}
uniform vec3 colour_of_ink; in vec3 own; in float ink; out vec4 colour;
void main() { if (gone(own)) discard; colour = vec4(colour_of_ink, ink); }`];

  const SHEET = [`${HEAD}
in vec3 place;
void main() { gl_Position = seen(place); }`, `#version 300 es
precision highp float;
uniform vec3 tint; uniform vec3 colour_of_ink; uniform float pixels; out vec4 colour;
void main() {
  float stripe = mod((gl_FragCoord.x + gl_FragCoord.y) / pixels, 11.0);
  colour = vec4(stripe < 1.5 ? colour_of_ink : tint, 1.0);
}`];

  const LOOKS = {
    light: { ground: [0.965, 0.973, 0.98], tint: [0.6, 0.67, 0.74], ink: [0.125, 0.15, 0.18], cut: [0.93, 0.8, 0.6], hatch: [0.42, 0.27, 0.08] },
    pit: { ground: [0.086, 0.11, 0.125], tint: [0.47, 0.53, 0.59], ink: [0.02, 0.03, 0.035], cut: [0.62, 0.5, 0.33], hatch: [0.2, 0.12, 0.03] },
  };
  const NO_CUT = [0, 0, 0, 1];

  /** @param {HTMLCanvasElement} canvas @param {TurnModel} model @param {ModelDrawing} drawing @returns {ModelCanvas | null} null without WebGL2 */
  function modelCanvas(canvas, model, drawing) {
    const gl = canvas.getContext("webgl2", { antialias: true, stencil: true, alpha: false, powerPreference: "low-power" });
    if (!gl) return null;
    let made = build(gl, drawing);
    return {
      show: (view) => { if (!gl.isContextLost()) draw(gl, made, model, view, fitted(canvas)); },
      again: () => { made = build(gl, drawing); },
    };
  }

  /** @param {HTMLCanvasElement} canvas @returns {number} pixels for each CSS px */
  function fitted(canvas) {
    const pixels = Math.min(globalThis.devicePixelRatio || 1, MOST_PIXELS);
    const [width, height] = [canvas.clientWidth, canvas.clientHeight].map((side) => Math.max(Math.round(side * pixels), 1));
    if (canvas.width !== width || canvas.height !== height) { canvas.width = width; canvas.height = height; }
    return pixels;
  }

  /** @param {WebGL2RenderingContext} gl @param {ModelDrawing} drawing */
  function build(gl, drawing) {
    const faces = program(gl, FACES, ["place", "normal"]);
    const lines = program(gl, LINES, ["side", "one", "two", "normal", "other", "strong"]);
    const sheet = program(gl, SHEET, ["place"]);
    const corners = held(gl, Float32Array.from([0, -1, 0, 1, 1, -1, 1, 1]));
    const strips = (/** @type {WebGLBuffer | null} */ edges) => array(gl, () => {
      attribute(gl, corners, 0, 2, 0, 0, 0);
      [[1, 3, 0], [2, 3, 3], [3, 3, 6], [4, 3, 9], [5, 1, 12]].forEach(([at, wide, from]) => attribute(gl, edges, at, wide, 52, 4 * from, 1));
    });
    const cut = held(gl, new Float32Array(0));
    const plane = held(gl, new Float32Array(0));
    const [places, normals] = [held(gl, drawing.places), held(gl, drawing.normals)];
    return {
      faces, lines, sheet, cut, plane,
      surface: array(gl, () => { attribute(gl, places, 0, 3, 0, 0, 0); attribute(gl, normals, 1, 3, 0, 0, 0); }),
      count: drawing.places.length / 3,
      edges: strips(held(gl, drawing.edges)), edgeCount: drawing.edges.length / 13,
      rims: strips(cut), planes: array(gl, () => attribute(gl, plane, 0, 3, 0, 0, 0)),
      rimCount: 0, told: /** @type {PlaneCut | null} */ (null),
    };
  }

  /** @param {WebGL2RenderingContext} gl @param {string[]} sources @param {string[]} names of the attributes, in order */
  function program(gl, sources, names) {
    const made = /** @type {WebGLProgram} */ (gl.createProgram());
    [gl.VERTEX_SHADER, gl.FRAGMENT_SHADER].forEach((kind, at) => {
      const shader = gl.createShader(kind);
      if (!shader) return;
      gl.shaderSource(shader, sources[at]);
      gl.compileShader(shader);
      gl.attachShader(made, shader);
    });
    names.forEach((name, at) => gl.bindAttribLocation(made, at, name));
    gl.linkProgram(made);
    if (!gl.getProgramParameter(made, gl.LINK_STATUS) && !gl.isContextLost()) throw new Error(gl.getProgramInfoLog(made) || "no program");
    /** @type {Map<string, WebGLUniformLocation | null>} */
    const places = new Map();
    const place = (/** @type {string} */ name) => {
      if (!places.has(name)) places.set(name, gl.getUniformLocation(made, name));
      return places.get(name) || null;
    };
    return { made, place };
  }

  /** @param {WebGL2RenderingContext} gl @param {Float32Array} numbers */
  function held(gl, numbers) {
    const buffer = gl.createBuffer();
    gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
    gl.bufferData(gl.ARRAY_BUFFER, numbers, gl.STATIC_DRAW);
    return buffer;
  }

  /** @param {WebGL2RenderingContext} gl @param {() => void} filled */
  function array(gl, filled) {
    const made = gl.createVertexArray();
    gl.bindVertexArray(made);
    filled();
    gl.bindVertexArray(null);
    return made;
  }

  /** @param {WebGL2RenderingContext} gl @param {WebGLBuffer | null} buffer @param {number} at @param {number} wide @param {number} step @param {number} from @param {number} each */
  function attribute(gl, buffer, at, wide, step, from, each) {
    gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
    gl.enableVertexAttribArray(at);
    gl.vertexAttribPointer(at, wide, gl.FLOAT, false, step, from);
    gl.vertexAttribDivisor(at, each);
  }

  /** @param {WebGL2RenderingContext} gl @param {ReturnType<typeof build>} made @param {TurnModel} model @param {ModelView} view @param {number} pixels */
  function draw(gl, made, model, view, pixels) {
    const look = LOOKS[view.isPit ? "pit" : "light"];
    const { width, height } = gl.canvas;
    if (made.told !== view.cut) tellCut(gl, made, model, view.cut);
    const use = (/** @type {{ made: WebGLProgram, place: (name: string) => WebGLUniformLocation | null }} */ each) => {
      gl.useProgram(each.made);
      place(gl, each.place, model, view, width / pixels, height / pixels);
      gl.uniform3fv(each.place("colour_of_ink"), look.ink);
      return each.place;
    };
    gl.viewport(0, 0, width, height);
    gl.clearColor(look.ground[0], look.ground[1], look.ground[2], 1);
    gl.colorMask(true, true, true, true);
    gl.depthMask(true);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT | gl.STENCIL_BUFFER_BIT);
    gl.enable(gl.DEPTH_TEST);
    gl.depthFunc(gl.LEQUAL);
    gl.disable(gl.BLEND);
    const faces = use(made.faces);
    gl.uniform3fv(faces("tint"), look.tint);
    gl.uniform1i(faces("closed"), model.isClosed ? 1 : 0);
    gl.bindVertexArray(made.surface);
    gl.drawArrays(gl.TRIANGLES, 0, made.count);
    if (view.cut && model.isClosed) {
      inside(gl, made.count);
      const sheet = use(made.sheet);
      gl.uniform3fv(sheet("tint"), look.cut);
      gl.uniform3fv(sheet("colour_of_ink"), look.hatch);
      gl.uniform1f(sheet("pixels"), pixels);
      gl.bindVertexArray(made.planes);
      gl.drawArrays(gl.TRIANGLES, 0, 6);
      gl.disable(gl.STENCIL_TEST);
    }
    gl.enable(gl.BLEND);
    gl.blendFunc(gl.SRC_ALPHA, gl.ONE_MINUS_SRC_ALPHA);
    gl.depthMask(false);
    const lines = use(made.lines);
    gl.uniform2f(lines("size"), width / 2, height / 2);
    gl.uniform1f(lines("wide"), 0.75 * pixels);
    gl.bindVertexArray(made.edges);
    gl.drawArraysInstanced(gl.TRIANGLE_STRIP, 0, 4, made.edgeCount);
    if (view.cut) {
      gl.uniform4f(lines("cut"), NO_CUT[0], NO_CUT[1], NO_CUT[2], NO_CUT[3]);
      gl.bindVertexArray(made.rims);
      gl.drawArraysInstanced(gl.TRIANGLE_STRIP, 0, 4, made.rimCount);
    }
    gl.bindVertexArray(null);
  }

  /** Mark where one looks into material: more backs than fronts of faces are left there.
   * @param {WebGL2RenderingContext} gl @param {number} count */
  function inside(gl, count) {
    gl.enable(gl.STENCIL_TEST);
    gl.stencilFunc(gl.ALWAYS, 0, 255);
    gl.stencilOpSeparate(gl.BACK, gl.KEEP, gl.KEEP, gl.INCR_WRAP);
    gl.stencilOpSeparate(gl.FRONT, gl.KEEP, gl.KEEP, gl.DECR_WRAP);
    gl.colorMask(false, false, false, false);
    gl.depthMask(false);
    gl.disable(gl.DEPTH_TEST);
    gl.drawArrays(gl.TRIANGLES, 0, count);
    gl.colorMask(true, true, true, true);
    gl.depthMask(true);
    gl.enable(gl.DEPTH_TEST);
    gl.stencilFunc(gl.NOTEQUAL, 0, 255);
    gl.stencilOp(gl.KEEP, gl.KEEP, gl.KEEP);
  }

  /** @param {WebGL2RenderingContext} gl @param {ReturnType<typeof build>} made @param {TurnModel} model @param {PlaneCut | null} cut */
  function tellCut(gl, made, model, cut) {
    made.told = cut;
    if (!cut) return;
    const ends = spares.model.cutLines(model, cut);
    const edges = new Float32Array((ends.length / 6) * 13);
    for (let i = 0; i < ends.length / 6; i += 1) {
      edges.set(ends.subarray(6 * i, 6 * i + 6), 13 * i);
      edges[13 * i + 12] = 1;
    }
    gl.bindBuffer(gl.ARRAY_BUFFER, made.cut);
    gl.bufferData(gl.ARRAY_BUFFER, edges, gl.DYNAMIC_DRAW);
    gl.bindBuffer(gl.ARRAY_BUFFER, made.plane);
    gl.bufferData(gl.ARRAY_BUFFER, spares.model.cutSheet(model.box, cut), gl.DYNAMIC_DRAW);
    made.rimCount = ends.length / 6;
  }

  /** @param {WebGL2RenderingContext} gl @param {(name: string) => WebGLUniformLocation | null} at @param {TurnModel} model @param {ModelView} view
   * @param {number} width @param {number} height in CSS px */
  function place(gl, at, { box }, { camera, cut }, width, height) {
    const { turned } = spares.model;
    const axes = [turned(camera.turn, [1, 0, 0]), turned(camera.turn, [0, 1, 0]), turned(camera.turn, [0, 0, 1])];
    const middle = box.low.map((low, axis) => (low + box.high[axis]) / 2);
    const far = Math.hypot(...box.low.map((low, axis) => box.high[axis] - low)) * 0.55 || 1;
    const away = cut ? [0, 0, 0, cut.sign * cut.at] : NO_CUT;
    if (cut) away[cut.axis] = cut.sign;
    gl.uniformMatrix3fv(at("turn"), false, axes.flat());
    gl.uniform3fv(at("at"), camera.at);
    gl.uniform3fv(at("middle"), middle);
    gl.uniform2f(at("scale"), 2 / (width * camera.mmPerPx), 2 / (height * camera.mmPerPx));
    gl.uniform1f(at("depth"), 1 / far);
    gl.uniform4fv(at("cut"), away);
  }

  spares.screen = { ...spares.screen, modelCanvas };
})();
