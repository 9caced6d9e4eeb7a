// One photo: zoomed by keys, wheel, buttons and two fingers through the drawing's view; marks drawn by pointer or keys.
(() => {
  const stage = document.getElementById("photo-stage");
  const drawing = stage?.querySelector("svg");
  if (!drawing) return;
  const { width, height } = drawing.viewBox.baseVal;
  const MOST = 12;
  const status = document.getElementById("mark-status");
  const form = document.getElementById("mark-form");
  const button = document.querySelector("[data-draw]");
  let view = { x: 0, y: 0, scale: 1 };
  let fingers = new Map();
  let isDrawing = false;
  let first = null;
  let cross = { x: 0.5, y: 0.5 };

  const clamp = (value, low, high) => Math.min(Math.max(value, low), high);

  const show = () => {
    view.scale = clamp(view.scale, 1, MOST);
    const [wide, high] = [width / view.scale, height / view.scale];
    view.x = clamp(view.x, 0, width - wide);
    view.y = clamp(view.y, 0, height - high);
    drawing.setAttribute("viewBox", `${view.x} ${view.y} ${wide} ${high}`);
    stage.classList.toggle("zoomed", view.scale > 1);
    document.getElementById("photo-scale").value = `${Number(view.scale.toFixed(1))} ×`;
  };

  // The point of the picture that lies under a point of the window.
  const under = (x, y) => {
    const at = new DOMPoint(x, y).matrixTransform(drawing.getScreenCTM().inverse());
    return { x: clamp(at.x, 0, width), y: clamp(at.y, 0, height) };
  };

  const zoom = (factor, at = { x: view.x + width / view.scale / 2, y: view.y + height / view.scale / 2 }) => {
    const scale = clamp(view.scale * factor, 1, MOST);
    const share = view.scale / scale;
    view = { x: at.x - (at.x - view.x) * share, y: at.y - (at.y - view.y) * share, scale };
    show();
  };

  const pan = (x, y) => {
    view.x += (x * width) / view.scale;
    view.y += (y * height) / view.scale;
    show();
  };

  const whole = () => { view = { x: 0, y: 0, scale: 1 }; show(); };

  const shape = () => form.elements.kind.value;
  const tell = (words) => { status.textContent = words; };
  const TOLD = {
    arrow: ["Point at where the arrow begins.", "Point at what it shows."],
    ring: ["Point at the ring's centre.", "Point at its edge."],
    text: ["Point at where the words begin."],
  };

  // What is being drawn: a cross at the place, and a line from the first point.
  const sketch = () => {
    drawing.querySelector("#sketch")?.remove();
    if (!isDrawing) return;
    const [x, y, arm] = [cross.x * width, cross.y * height, Math.max(width, height) / 40 / view.scale];
    const path = document.createElementNS("http://www.w3.org/2000/svg", "path");
    const from = first ? `M${first.x * width} ${first.y * height}L${x} ${y}` : "";
    path.setAttribute("id", "sketch");
    path.setAttribute("d", `${from}M${x - arm} ${y}h${2 * arm}M${x} ${y - arm}v${2 * arm}`);
    path.setAttribute("fill", "none");
    path.setAttribute("stroke", "#ff3df0");
    path.setAttribute("stroke-width", String(arm / 6));
    drawing.append(path);
  };

  const draw = (on) => {
    isDrawing = on;
    first = null;
    button.setAttribute("aria-pressed", String(on));
    button.textContent = on ? "Stop drawing" : "Draw on the photo";
    stage.classList.toggle("drawing", on);
    if (on && shape() === "text" && !form.elements.text.value.trim()) {
      draw(false);
      tell("Type the words first.");
      form.elements.text.focus();
      return;
    }
    tell(on ? `${TOLD[shape()][0]} Drag, or use the arrow keys and Enter.` : "");
    sketch();
    if (on) stage.focus();
  };

  const percent = (share) => (100 * share).toFixed(3);

  const set = () => {
    if (shape() !== "text" && !first) {
      first = { ...cross };
      tell(TOLD[shape()][1]);
      return sketch();
    }
    const begin = first ?? cross;
    form.elements.x.value = percent(begin.x);
    form.elements.y.value = percent(begin.y);
    form.elements.x2.value = shape() === "text" ? "" : percent(cross.x);
    form.elements.y2.value = shape() === "text" ? "" : percent(cross.y);
    form.requestSubmit();
  };

  const move = (event) => {
    const at = under(event.clientX, event.clientY);
    cross = { x: at.x / width, y: at.y / height };
    sketch();
  };

  const apart = () => {
    const [one, other] = [...fingers.values()];
    return Math.hypot(one.x - other.x, one.y - other.y);
  };

  stage.addEventListener("pointerdown", (event) => {
    fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
    stage.setPointerCapture(event.pointerId);
    if (isDrawing && fingers.size === 1) {
      event.preventDefault();
      move(event);
      set();
    }
  });

  stage.addEventListener("pointermove", (event) => {
    const was = fingers.get(event.pointerId);
    if (isDrawing && fingers.size < 2) return move(event);
    if (!was) return;
    const before = fingers.size === 2 ? apart() : 0;
    fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
    if (fingers.size === 2) {
      const [one, other] = [...fingers.values()];
      if (before) zoom(apart() / before, under((one.x + other.x) / 2, (one.y + other.y) / 2));
    } else if (view.scale > 1) {
      const box = stage.getBoundingClientRect();
      pan((was.x - event.clientX) / box.width, (was.y - event.clientY) / box.height);
    }
  });

  const lift = (event) => {
    const was = fingers.get(event.pointerId);
    fingers.delete(event.pointerId);
    if (!was || !isDrawing || !first || event.type === "pointercancel") return;
    if (Math.hypot(was.x - event.clientX, was.y - event.clientY) > 8) {
      move(event);
      set();
    }
  };
  stage.addEventListener("pointerup", lift);
  stage.addEventListener("pointercancel", lift);

  stage.addEventListener("wheel", (event) => {
    if (!event.ctrlKey && view.scale === 1 && event.deltaY > 0) return;
    event.preventDefault();
    zoom(event.deltaY < 0 ? 1.2 : 1 / 1.2, under(event.clientX, event.clientY));
  }, { passive: false });

  stage.addEventListener("dblclick", (event) => {
    if (isDrawing) return;
    if (view.scale > 1) whole();
    else zoom(3, under(event.clientX, event.clientY));
  });

  const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

  stage.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    const step = ARROWS[event.key];
    if (step && isDrawing) {
      const far = event.shiftKey ? 0.1 : 0.01;
      cross = { x: clamp(cross.x + far * step[0], 0, 1), y: clamp(cross.y + far * step[1], 0, 1) };
      sketch();
    } else if (step && view.scale > 1) pan(0.1 * step[0], 0.1 * step[1]);
    else if (event.key === "+" || event.key === "=") zoom(1.5);
    else if (event.key === "-" || event.key === "−") zoom(1 / 1.5);
    else if (event.key === "0") whole();
    else if (isDrawing && (event.key === "Enter" || event.key === " ")) set();
    else if (isDrawing && event.key === "Escape") { draw(false); button.focus(); }
    else return;
    event.preventDefault();
  });

  for (const each of document.querySelectorAll("[data-zoom]")) {
    each.addEventListener("click", () => ({ in: () => zoom(1.5), out: () => zoom(1 / 1.5), whole })[each.dataset.zoom]());
  }
  button?.addEventListener("click", () => draw(!isDrawing));
  form?.addEventListener("change", () => { if (isDrawing) draw(true); });

  stage.tabIndex = 0;
  for (const id of ["photo-zoom", "photo-keys", "mark-draw"]) document.getElementById(id)?.removeAttribute("hidden");
})();
