/* The suggestions in empty fields, renewed as others change. The turntable: the actual mesh, drawn by WebGL and turned by dragging or by the arrow keys; the still picture stays
   where the browser cannot do that. */

(() => {
  const canvas = document.getElementById("holder-canvas");
  const still = document.getElementById("holder-still");
  const hint = document.getElementById("holder-canvas-hint");
  const gl = canvas.getContext("webgl", { antialias: true });
  const state = { turn: 0.5, tip: 0.75, zoom: 1.3, mesh: null };
  let draw = () => {};

  const SHAPES = `attribute vec3 place, normal; uniform mat4 view; uniform mat3 turned; varying float light;
    void main() { gl_Position = view * vec4(place, 1.0); vec3 n = turned * normal;
    light = 0.42 + 0.5 * max(0.0, dot(n, normalize(vec3(-0.4, 0.75, 0.55)))) + 0.12 * abs(n.z); }`;
  const COLOURS = `precision mediump float; varying float light;
    void main() { gl_FragColor = vec4(vec3(0.79, 0.74, 0.88) * light, 1.0); }`;

  const part = (kind, text) => {
    const shader = gl.createShader(kind);
    gl.shaderSource(shader, text);
    gl.compileShader(shader);
    return shader;
  };

  const start = () => {
    const program = gl.createProgram();
    gl.attachShader(program, part(gl.VERTEX_SHADER, SHAPES));
    gl.attachShader(program, part(gl.FRAGMENT_SHADER, COLOURS));
    gl.linkProgram(program);
    if (!gl.getProgramParameter(program, gl.LINK_STATUS)) return false;
    gl.useProgram(program);
    gl.bindBuffer(gl.ARRAY_BUFFER, gl.createBuffer());
    ["place", "normal"].forEach((name, i) => {
      const where = gl.getAttribLocation(program, name);
      gl.enableVertexAttribArray(where);
      gl.vertexAttribPointer(where, 3, gl.FLOAT, false, 24, 12 * i);
    });
    gl.enable(gl.DEPTH_TEST);
    const view = gl.getUniformLocation(program, "view");
    const turned = gl.getUniformLocation(program, "turned");
    draw = () => {
      if (!state.mesh) return;
      const sharp = window.devicePixelRatio || 1;
      canvas.width = Math.round(canvas.clientWidth * sharp);
      canvas.height = Math.round(canvas.clientHeight * sharp);
      gl.viewport(0, 0, canvas.width, canvas.height);
      gl.clearColor(0.945, 0.929, 0.898, 1);
      gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
      const seen = holderMath.view(state.turn, state.tip, state.zoom, state.mesh.reach, canvas.width / canvas.height);
      gl.uniformMatrix4fv(view, false, seen.matrix);
      gl.uniformMatrix3fv(turned, false, [0, 1, 2].flatMap((j) => seen.rows.map((row) => row[j])));
      gl.drawArrays(gl.TRIANGLES, 0, state.mesh.corners);
      canvas.dataset.drawn = state.mesh.corners / 3;
      canvas.dataset.turn = state.turn.toFixed(3);
    };
    return true;
  };

  const load = async () => {
    const named = document.getElementById("holder-mesh");
    const picture = document.getElementById("holder-picture");
    if (picture) still.replaceChildren(picture.content.cloneNode(true));
    if (!gl || !named) return;
    try {
      const answer = await fetch(named.dataset.mesh);
      if (!answer.ok || !named.isConnected) return;
      state.mesh = holderMath.facets(await answer.arrayBuffer());
    } catch {
      return;
    }
    gl.bufferData(gl.ARRAY_BUFFER, state.mesh.data, gl.STATIC_DRAW);
    canvas.hidden = hint.hidden = false;
    still.hidden = true;
    draw();
  };

  const KEYS = {
    ArrowLeft: () => (state.turn -= 0.12),
    ArrowRight: () => (state.turn += 0.12),
    ArrowUp: () => (state.tip += 0.12),
    ArrowDown: () => (state.tip -= 0.12),
    "+": () => (state.zoom = Math.min(8, state.zoom * 1.15)),
    "-": () => (state.zoom = Math.max(0.4, state.zoom / 1.15)),
  };
  canvas.addEventListener("keydown", (event) => {
    const change = KEYS[event.key];
    if (!change) return;
    event.preventDefault();
    change();
    draw();
  });
  canvas.addEventListener("pointerdown", (event) => canvas.setPointerCapture(event.pointerId));
  canvas.addEventListener("pointermove", (event) => {
    if (!canvas.hasPointerCapture(event.pointerId)) return;
    state.turn += event.movementX / 120;
    state.tip += event.movementY / 120;
    draw();
  });
  canvas.addEventListener("webglcontextlost", () => {
    canvas.hidden = hint.hidden = true;
    still.hidden = false;
  });
  window.addEventListener("resize", () => draw());
  document.body.addEventListener("htmx:afterSettle", () => {
    document.querySelectorAll("[data-proposed]").forEach((note) => {
      const field = document.getElementById(note.id.replace(/-note$/, ""));
      if (field && "placeholder" in field) field.placeholder = note.dataset.proposed;
    });
    load();
  });
  if (gl && !start()) return;
  load();
})();
