// Turnable view of the table. Written here because what a library would bring is far larger than the job: the ready-made
// 3-D libraries that come as a Rust package weigh from 0.7 MB (and need a web server's module loader) to 6.8 MB in every
// report, for a dozen meshes, one light and one camera. Without WebGL the still picture beside it stays.
(() => {
  "use strict";
  const scene = JSON.parse(document.getElementById("scene").textContent);
  const canvas = document.getElementById("turnable");
  const panel = document.getElementById("turnable-panel");
  const gl = canvas.getContext("webgl2", { alpha: true, antialias: true, premultipliedAlpha: false });
  if (!gl) {
    document.getElementById("turnable-none").hidden = false;
    return;
  }
  panel.hidden = false;

  // --- Small matrices, column by column -------------------------------------------------------------------------
  const product = (a, b) => {
    const m = new Float32Array(16);
    for (let c = 0; c < 4; c++)
      for (let r = 0; r < 4; r++)
        for (let k = 0; k < 4; k++) m[4 * c + r] += a[4 * k + r] * b[4 * c + k];
    return m;
  };
  const shift = (x, y, z) => new Float32Array([1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, x, y, z, 1]);
  const stretch = (x, y, z) => new Float32Array([x, 0, 0, 0, 0, y, 0, 0, 0, 0, z, 0, 0, 0, 0, 1]);
  const perspective = (across, up, near, far) => new Float32Array([1 / across, 0, 0, 0, 0, 1 / up, 0, 0,
    0, 0, (near + far) / (near - far), -1, 0, 0, 2 * near * far / (near - far), 0]);
  const orbit = (turn, tilt) => {
    const [c, s, d, e] = [Math.cos(turn), Math.sin(turn), Math.cos(tilt), Math.sin(tilt)];
    return new Float32Array([c, e * s, -d * s, 0, -s, e * c, -d * c, 0, 0, d, e, 0, 0, 0, 0, 1]);
  };
  const apply = (m, p) => [0, 1, 2].map((r) => m[r] * p[0] + m[4 + r] * p[1] + m[8 + r] * p[2] + m[12 + r]);

  // --- Shaders: one for faces, lit by the slope of the surface on the screen; one for edges --------------------
  const vertex = `#version 300 es
    in vec3 place; uniform mat4 view; uniform mat4 lens; uniform float lift; out vec3 seen;
    void main() {
      vec4 p = view * vec4(place, 1.0);
      seen = p.xyz;
      gl_Position = lens * vec4(p.xyz * (1.0 - lift), 1.0);
    }`;
  const face = `#version 300 es
    precision highp float; in vec3 seen; uniform vec3 paint; out vec4 shown;
    void main() {
      vec3 n = normalize(cross(dFdx(seen), dFdy(seen)));
      float lit = 0.42 + 0.50 * max(dot(n, vec3(-0.45, 0.65, 0.61)), 0.0) + 0.14 * max(n.z, 0.0);
      shown = vec4(paint * lit, 1.0);
    }`;
  const line = `#version 300 es
    precision highp float; in vec3 seen; uniform vec3 paint; out vec4 shown;
    void main() { shown = vec4(paint, 0.6); }`;
  const program = (fragment) => {
    const made = gl.createProgram();
    for (const [kind, text] of [[gl.VERTEX_SHADER, vertex], [gl.FRAGMENT_SHADER, fragment]]) {
      const shader = gl.createShader(kind);
      gl.shaderSource(shader, text);
      gl.compileShader(shader);
      gl.attachShader(made, shader);
    }
    gl.bindAttribLocation(made, 0, "place");
    gl.linkProgram(made);
    const of = (name) => gl.getUniformLocation(made, name);
    return { made, view: of("view"), lens: of("lens"), paint: of("paint"), lift: of("lift") };
  };
  const faces = program(face);
  const edges = program(line);

  // --- Meshes ---------------------------------------------------------------------------------------------------
  const bytes = (text) => Uint8Array.from(atob(text), (c) => c.charCodeAt(0)).buffer;
  // Edges between faces more than 30 degrees apart. Some drivers give the shortest ones a wrong depth.
  const creases = (points, corners) => {
    const shortest = 0.3;
    const normal = new Float32Array(corners.length);
    const sides = new Map();
    const drawn = [];
    for (let t = 0; t < corners.length; t += 3) {
      const [a, b, c] = [corners[t], corners[t + 1], corners[t + 2]].map((i) => points.slice(3 * i, 3 * i + 3));
      const [u, v] = [b, c].map((p) => [p[0] - a[0], p[1] - a[1], p[2] - a[2]]);
      const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
      const long = Math.hypot(...n) || 1;
      for (let k = 0; k < 3; k++) normal[t + k] = n[k] / long;
      for (let k = 0; k < 3; k++) {
        const [i, j] = [corners[t + k], corners[t + (k + 1) % 3]];
        const key = Math.min(i, j) * 65536 * 32 + Math.max(i, j);
        const other = sides.get(key);
        if (other === undefined) sides.set(key, t);
        else {
          const cosine = [0, 1, 2].reduce((sum, k) => sum + normal[t + k] * normal[other + k], 0);
          const flat = [t, other].some((s) => normal[s] === 0 && normal[s + 1] === 0 && normal[s + 2] === 0);
          const length = Math.hypot(...[0, 1, 2].map((k) => points[3 * i + k] - points[3 * j + k]));
          if (cosine < 0.87 && !flat && length > shortest) drawn.push(i, j);
        }
      }
    }
    return new Uint32Array(drawn);
  };
  const meshes = scene.meshes.map((m) => {
    const whole = new Uint16Array(bytes(m.points));
    const points = new Float32Array(whole.length);
    for (let i = 0; i < whole.length; i++) points[i] = m.low[i % 3] + whole[i] * m.step[i % 3];
    const corners = m.wide ? new Uint32Array(bytes(m.triangles)) : new Uint32Array(new Uint16Array(bytes(m.triangles)));
    const sharp = creases(points, corners);
    const made = { points, count: corners.length, sharp: sharp.length, faces: gl.createVertexArray(), edges: gl.createVertexArray() };
    const store = gl.createBuffer();
    gl.bindBuffer(gl.ARRAY_BUFFER, store);
    gl.bufferData(gl.ARRAY_BUFFER, points, gl.STATIC_DRAW);
    for (const [array, list] of [[made.faces, corners], [made.edges, sharp]]) {
      gl.bindVertexArray(array);
      gl.bindBuffer(gl.ARRAY_BUFFER, store);
      gl.enableVertexAttribArray(0);
      gl.vertexAttribPointer(0, 3, gl.FLOAT, false, 0, 0);
      gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, gl.createBuffer());
      gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, list, gl.STATIC_DRAW);
    }
    return made;
  });

  // --- What is shown --------------------------------------------------------------------------------------------
  const paints = { top: [0.80, 0.64, 0.45], tube: [0.66, 0.69, 0.73], rail: [0.66, 0.69, 0.73], bracket: [0.28, 0.55, 0.60],
    tie: [0.36, 0.62, 0.56], foot: [0.30, 0.46, 0.62], tool: [0.62, 0.55, 0.36], screw: [0.78, 0.70, 0.42] };
  const marked = [0.90, 0.33, 0.16];
  const corner = { turn: -Math.PI / 5, tilt: 0.42, near: 1 };
  const state = { ...corner, slide: [0, 0], pixel: 1, apart: 0, part: -1, middle: [0, 0, 0], half: [1, 1, 1], size: 1 };
  const slider = document.getElementById("apart");
  const choice = document.getElementById("shown");

  const bodies = () => {
    if (state.part >= 0) {
      const sort = scene.parts.find((p) => p.mesh === state.part).sort;
      return [{ mesh: state.part, sort, mark: false, m: stretch(1, 1, 1) }];
    }
    const moved = (b) => product(shift(...b.apart.map((d) => d * state.apart)), new Float32Array(b.matrix));
    return scene.bodies.map((b) => ({ mesh: b.mesh, sort: b.sort, mark: b.mark, m: moved(b) }));
  };
  const fit = (list) => {
    const low = [Infinity, Infinity, Infinity];
    const high = low.map((x) => -x);
    for (const b of list) {
      const p = meshes[b.mesh].points;
      const box = [0, 1, 2].map((k) => [scene.meshes[b.mesh].low[k], scene.meshes[b.mesh].low[k] + 65535 * scene.meshes[b.mesh].step[k]]);
      if (p.length === 0) continue;
      for (let i = 0; i < 8; i++) {
        const q = apply(b.m, [box[0][i & 1], box[1][i >> 1 & 1], box[2][i >> 2]]);
        for (let k = 0; k < 3; k++) [low[k], high[k]] = [Math.min(low[k], q[k]), Math.max(high[k], q[k])];
      }
    }
    state.middle = low.map((l, k) => (l + high[k]) / 2);
    state.half = low.map((l, k) => (high[k] - l) / 2);
    state.size = Math.hypot(...state.half);
  };
  // From how far away everything fits into the picture, whichever way it is turned at this tilt.
  const distance = (across, up) => {
    let far = 0;
    for (let a = 0; a < 24; a++) {
      const m = orbit(a * Math.PI / 12, state.tilt);
      for (let i = 0; i < 8; i++) {
        const [x, y, z] = apply(m, state.half.map((h, k) => (i >> k & 1 ? h : -h)));
        far = Math.max(far, z + Math.abs(x) / across, z + Math.abs(y) / up);
      }
    }
    return far * 1.04;
  };
  let asked = false;
  const draw = () => {
    asked = false;
    const dense = Math.min(window.devicePixelRatio || 1, 2);
    const [w, h] = [Math.round(canvas.clientWidth * dense), Math.round(canvas.clientHeight * dense)];
    if (w === 0 || h === 0) return;
    if (canvas.width !== w || canvas.height !== h) [canvas.width, canvas.height] = [w, h];
    const list = bodies();
    fit(list);
    const slope = 0.27;
    const aspect = w / h;
    const up = slope / Math.min(aspect, 1);
    const far = distance(up * aspect, up) * state.near;
    const room = 1.1 * state.size;
    const lens = perspective(up * aspect, up, Math.max(far - room, state.size / 50), far + room);
    state.pixel = 2 * up * far / Math.max(canvas.clientHeight, 1);
    const eye = product(shift(...state.slide, -far), product(orbit(state.turn, state.tilt), shift(...state.middle.map((x) => -x))));
    const ink = getComputedStyle(canvas).color.match(/[\d.]+/g).slice(0, 3).map((x) => x / 255);
    gl.viewport(0, 0, w, h);
    gl.clearColor(0, 0, 0, 0);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.enable(gl.DEPTH_TEST);
    gl.enable(gl.BLEND);
    gl.blendFuncSeparate(gl.SRC_ALPHA, gl.ONE_MINUS_SRC_ALPHA, gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
    for (const [shader, kind, field, count] of [[faces, gl.TRIANGLES, "faces", "count"], [edges, gl.LINES, "edges", "sharp"]]) {
      gl.useProgram(shader.made);
      gl.uniformMatrix4fv(shader.lens, false, lens);
      gl.uniform1f(shader.lift, shader === edges ? 0.0006 : 0);
      for (const b of list) {
        gl.uniformMatrix4fv(shader.view, false, product(eye, b.m));
        gl.uniform3fv(shader.paint, shader === edges ? ink : b.mark ? marked : paints[b.sort] || paints.tool);
        gl.bindVertexArray(meshes[b.mesh][field]);
        gl.drawElements(kind, meshes[b.mesh][count], gl.UNSIGNED_INT, 0);
      }
    }
    canvas.dataset.drawn = String(Number(canvas.dataset.drawn || 0) + 1);
  };
  const redraw = () => {
    if (!asked) requestAnimationFrame(draw);
    asked = true;
  };

  // --- Hands on it ----------------------------------------------------------------------------------------------
  const turn = (x, y) => {
    state.turn += x;
    state.tilt = Math.max(-Math.PI / 2, Math.min(Math.PI / 2, state.tilt + y));
    redraw();
  };
  const slide = (x, y) => {
    state.slide = [state.slide[0] + x * state.pixel, state.slide[1] - y * state.pixel];
    redraw();
  };
  const nearer = (factor) => {
    state.near = Math.max(0.15, Math.min(2.5, state.near * factor));
    redraw();
  };
  const fingers = new Map();
  const spread = () => {
    const [a, b] = [...fingers.values()];
    return Math.hypot(a.x - b.x, a.y - b.y);
  };
  canvas.addEventListener("pointerdown", (e) => {
    canvas.setPointerCapture(e.pointerId);
    fingers.set(e.pointerId, { x: e.clientX, y: e.clientY });
  });
  canvas.addEventListener("pointermove", (e) => {
    const last = fingers.get(e.pointerId);
    if (!last) return;
    const before = fingers.size === 2 ? spread() : 0;
    fingers.set(e.pointerId, { x: e.clientX, y: e.clientY });
    if (fingers.size === 2) nearer(before / Math.max(spread(), 1));
    const [x, y] = [e.clientX - last.x, e.clientY - last.y];
    if (fingers.size === 2) slide(x / 2, y / 2);
    else if (e.shiftKey || e.buttons === 2) slide(x, y);
    else turn(x * 0.01, y * 0.01);
  });
  canvas.addEventListener("contextmenu", (e) => e.preventDefault());
  for (const end of ["pointerup", "pointercancel"]) canvas.addEventListener(end, (e) => fingers.delete(e.pointerId));
  canvas.addEventListener("wheel", (e) => {
    if (document.activeElement !== canvas) return;
    e.preventDefault();
    nearer(Math.exp(e.deltaY * 0.001));
  }, { passive: false });
  canvas.addEventListener("keydown", (e) => {
    const step = { ArrowLeft: [-0.1, 0], ArrowRight: [0.1, 0], ArrowUp: [0, -0.1], ArrowDown: [0, 0.1] }[e.key];
    if (step && e.shiftKey) slide(-200 * step[0], -200 * step[1]);
    else if (step) turn(...step);
    else if (e.key === "+" || e.key === "=") nearer(0.9);
    else if (e.key === "-") nearer(1.1);
    else return;
    e.preventDefault();
  });
  const looks = { corner, front: { turn: 0, tilt: 0 }, side: { turn: -Math.PI / 2, tilt: 0 },
    above: { turn: 0, tilt: Math.PI / 2 }, below: { turn: -Math.PI / 5, tilt: -0.5 } };
  for (const button of panel.querySelectorAll("[data-look]"))
    button.addEventListener("click", () => {
      Object.assign(state, { near: 1, slide: [0, 0] }, looks[button.dataset.look]);
      redraw();
    });
  for (const button of panel.querySelectorAll("[data-near]"))
    button.addEventListener("click", () => nearer(Number(button.dataset.near)));
  slider.addEventListener("input", () => {
    state.apart = slider.value / 100;
    redraw();
  });
  choice.addEventListener("change", () => {
    state.part = Number(choice.value);
    Object.assign(state, { near: 1, slide: [0, 0] });
    slider.disabled = state.part >= 0;
    redraw();
  });
  new ResizeObserver(redraw).observe(canvas);
  window.matchMedia("(prefers-color-scheme: dark)").addEventListener("change", redraw);
  redraw();
})();
