/* The suggestions in empty fields, renewed as others change. The turntable: the actual mesh, drawn by WebGL, turned,
   cut and measured by pointer or keys, with the watch indicated round it; the still picture stays where the browser
   cannot do that. */

(() => {
  const at = (id) => document.getElementById(`holder-${id}`);
  const [canvas, over, still, view, tools] = ["canvas", "over", "still", "view", "tools"].map(at);
  const gl = canvas.getContext("webgl", { antialias: true });
  const pen = over.getContext("2d");
  const START = { turn: 0.5, tip: 0.75, zoom: 1.15 };
  const VIEWS = {
    start: START,
    dial: { turn: 0, tip: -Math.PI / 2, zoom: 1.1 },
    back: { turn: Math.PI, tip: Math.PI / 2, zoom: 1.1 },
  };
  const state = { ...START, mesh: null, ghosts: [], points: [], cross: null, seen: null };
  let draw = () => {};

  const SHAPES = `attribute vec3 place, normal; uniform mat4 view; uniform mat3 turned; varying float light;
    varying vec3 spot;
    void main() { spot = place; gl_Position = view * vec4(place, 1.0); vec3 n = turned * normal;
    light = 0.42 + 0.5 * max(0.0, dot(n, normalize(vec3(-0.4, 0.75, 0.55)))) + 0.12 * abs(n.z); }`;
  const COLOURS = `precision mediump float; varying float light; varying vec3 spot;
    uniform vec3 side; uniform float reaches;
    void main() { if (dot(spot, side) > reaches) discard;
    gl_FragColor = gl_FrontFacing ? vec4(vec3(0.79, 0.74, 0.88) * light, 1.0) : vec4(0.55, 0.32, 0.24, 1.0); }`;

  const part = (kind, text) => {
    const shader = gl.createShader(kind);
    gl.shaderSource(shader, text);
    gl.compileShader(shader);
    return shader;
  };

  /* The cut: its axis, from which end it comes, and up to where the piece stays. 12 o'clock is at -y, the back at +z. */
  const cut = () => {
    const axis = Number(at("cut-across").value);
    const share = Number(at("cut").value) / 100;
    const half = state.mesh ? state.mesh.half[axis] : 0;
    return { axis, from: axis === 1 ? -1 : 1, at: share ? half * (1 - 2 * share) : Infinity };
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
    const [matrix, turned, side, reaches] = ["view", "turned", "side", "reaches"].map((name) =>
      gl.getUniformLocation(program, name),
    );
    draw = () => {
      if (!state.mesh) return;
      const sharp = window.devicePixelRatio || 1;
      for (const sheet of [canvas, over]) {
        sheet.width = Math.round(canvas.clientWidth * sharp);
        sheet.height = Math.round(canvas.clientHeight * sharp);
      }
      gl.viewport(0, 0, canvas.width, canvas.height);
      gl.clearColor(0.945, 0.929, 0.898, 1);
      gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
      const aspect = canvas.width / canvas.height;
      const seen = (state.seen = holderMath.view(state.turn, state.tip, state.zoom, state.mesh.reach, aspect));
      const taken = cut();
      gl.uniformMatrix4fv(matrix, false, seen.matrix);
      gl.uniformMatrix3fv(turned, false, [0, 1, 2].flatMap((j) => seen.rows.map((row) => row[j])));
      gl.uniform3fv(side, [0, 1, 2].map((axis) => (axis === taken.axis ? taken.from : 0)));
      gl.uniform1f(reaches, Math.min(taken.at, 1e6));
      gl.drawArrays(gl.TRIANGLES, 0, state.mesh.corners);
      mark(sharp);
      canvas.dataset.drawn = state.mesh.corners / 3;
      canvas.dataset.turn = state.turn.toFixed(3);
    };
    return true;
  };

  /* A point of the piece's own frame on the overlay, in its pixels. */
  const spot = (point) => {
    const [x, y] = holderMath.placed(state.seen, point);
    return [x * over.width, y * over.height];
  };

  const line = (points, closed) => {
    pen.beginPath();
    points.forEach((point, i) => pen[i ? "lineTo" : "moveTo"](...spot(point)));
    if (closed) pen.closePath();
    pen.stroke();
  };

  const say = (words, point) => {
    const [x, y] = spot(point);
    const held = (at, edge, far) => Math.min(Math.max(at, edge), far - edge);
    const inside = [held(x, 4 * size, over.width), held(y, size, over.height)];
    pen.strokeStyle = "#f1ede5";
    pen.lineWidth = size / 3;
    pen.strokeText(words, ...inside);
    pen.fillText(words, ...inside);
  };

  let size = 14;

  /* Names of the sides, the watch round the piece, and what is measured. */
  const mark = (sharp) => {
    const { middle, half } = state.mesh;
    size = 14 * sharp;
    pen.clearRect(0, 0, over.width, over.height);
    pen.font = `600 ${size}px ${getComputedStyle(view).fontFamily}`;
    pen.textAlign = "center";
    pen.textBaseline = "middle";
    pen.lineJoin = "round";
    const shown = at("ghosts").checked ? state.ghosts : [];
    for (const ghost of shown) {
      pen.strokeStyle = { bore: "#6b6458", movement: "#2f5d8a", dial: "#7a5a12" }[ghost.name];
      pen.fillStyle = pen.strokeStyle;
      pen.lineWidth = sharp;
      for (const height of ghost.heights) {
        line(ghost.points.map(([x, y]) => [x - middle[0], y - middle[1], height - middle[2]]), true);
        if (ghost.name !== "dial" || height !== ghost.heights[1]) continue;
        pen.globalAlpha = 0.12;
        pen.fill();
        pen.globalAlpha = 1;
      }
    }
    over.dataset.ghosts = shown.length;
    const out = 1.1 * Math.max(half[0], half[1]);
    pen.strokeStyle = "#1d2630";
    pen.lineWidth = 1.5 * sharp;
    line([[0, -0.9 * out, -half[2]], [0, -out, -half[2]]], false);
    line([[0, 0, 0], [0, 0, -2 * half[2]]], false);
    pen.fillStyle = "#1d2630";
    say("12 o'clock", [0, -1.08 * out, -half[2]]);
    say("dial side", [0, 0, -2.2 * half[2]]);
    pen.fillStyle = pen.strokeStyle = "#a3210f";
    pen.lineWidth = 2 * sharp;
    if (state.points.length === 2) line(state.points, false);
    for (const point of state.points) {
      pen.beginPath();
      pen.arc(...spot(point), 4 * sharp, 0, 7);
      pen.fill();
    }
    if (!state.cross) return;
    const [x, y] = [state.cross[0] * over.width, state.cross[1] * over.height];
    pen.beginPath();
    for (const [dx, dy] of [[1, 0], [0, 1]]) {
      pen.moveTo(x - dx * 10 * sharp, y - dy * 10 * sharp);
      pen.lineTo(x + dx * 10 * sharp, y + dy * 10 * sharp);
    }
    pen.stroke();
  };

  /* A point is set where the piece is under this spot; the second one tells the distance, a third begins anew. */
  const set = (x, y) => {
    const point = holderMath.under(state.seen, state.mesh, x, y, cut(), 10 / canvas.clientWidth);
    if (!point) return tell("No part of the piece there. Click on the piece.");
    state.points = state.points.length === 1 ? [...state.points, point] : [point];
    draw();
    if (state.points.length === 1) return tell("First point set. Click the second.");
    const [dx, dy, dz] = [0, 1, 2].map((axis) => state.points[1][axis] - state.points[0][axis]);
    const mm = (length) => `${length.toFixed(2)} mm`;
    return tell(`${mm(Math.hypot(dx, dy, dz))} apart: ${mm(Math.hypot(dx, dy))} across, ${mm(Math.abs(dz))} in height.`);
  };

  const tell = (words) => (at("distance").textContent = words);

  const clear = () => {
    state.points = [];
    state.cross = null;
    tell("Click two points to measure their distance.");
  };

  const load = async () => {
    const named = at("mesh");
    const picture = at("picture");
    if (picture) still.replaceChildren(picture.content.cloneNode(true));
    if (!gl || !named) return;
    try {
      const answer = await fetch(named.dataset.mesh);
      if (!answer.ok || !named.isConnected) return;
      state.mesh = holderMath.facets(await answer.arrayBuffer());
      state.ghosts = JSON.parse(named.dataset.ghosts);
    } catch {
      return;
    }
    gl.bufferData(gl.ARRAY_BUFFER, state.mesh.data, gl.STATIC_DRAW);
    view.hidden = false;
    still.hidden = true;
    clear();
    draw();
  };

  const KEYS = {
    ArrowLeft: () => (state.turn -= 0.12),
    ArrowRight: () => (state.turn += 0.12),
    ArrowUp: () => (state.tip += 0.12),
    ArrowDown: () => (state.tip -= 0.12),
    "+": () => (state.zoom = Math.min(8, state.zoom * 1.15)),
    "-": () => (state.zoom = Math.max(0.4, state.zoom / 1.15)),
    Enter: () => set(...(state.cross ??= [0.5, 0.5])),
    Escape: clear,
  };
  const MOVES = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  canvas.addEventListener("keydown", (event) => {
    const move = event.shiftKey && MOVES[event.key];
    const change = move ? () => moveCross(move) : KEYS[event.key];
    if (!change || !state.mesh) return;
    event.preventDefault();
    change();
    draw();
  });
  const moveCross = ([dx, dy]) => {
    const [x, y] = state.cross ?? [0.5, 0.5];
    state.cross = [Math.min(1, Math.max(0, x + dx * 0.01)), Math.min(1, Math.max(0, y + dy * 0.016))];
  };

  let pressed = null;
  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    pressed = [event.clientX, event.clientY];
  });
  canvas.addEventListener("pointermove", (event) => {
    if (!canvas.hasPointerCapture(event.pointerId)) return;
    if (pressed && Math.hypot(event.clientX - pressed[0], event.clientY - pressed[1]) < 4) return;
    pressed = null;
    state.turn += event.movementX / 120;
    state.tip += event.movementY / 120;
    draw();
  });
  canvas.addEventListener("pointerup", (event) => {
    if (!pressed || !state.mesh) return;
    pressed = null;
    const frame = canvas.getBoundingClientRect();
    set((event.clientX - frame.left) / frame.width, (event.clientY - frame.top) / frame.height);
  });
  canvas.addEventListener("webglcontextlost", () => {
    view.hidden = true;
    still.hidden = false;
  });
  /* Looking changes no dimension: the form hears nothing of it. */
  for (const kind of ["input", "change"]) {
    tools.addEventListener(kind, (event) => {
      event.stopPropagation();
      draw();
    });
  }
  tools.addEventListener("click", (event) => {
    const named = event.target.dataset.view;
    if (!named) return;
    Object.assign(state, VIEWS[named]);
    if (named === "start") {
      at("cut").value = 0;
      at("ghosts").checked = true;
      clear();
    }
    draw();
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
