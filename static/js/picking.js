/* Picking on a picture: the cross follows the pointer or the arrow keys, a lens shows the place, a point is set by a tap or Enter.
   When a pick has its points they are sent, and the server finds the edge that is there. */

(() => {
  const stage = document.getElementById("pick-stage");
  const picture = document.getElementById("pick-picture");
  const lens = document.getElementById("pick-lens");
  const half = Number(stage.dataset.half);
  const STEP = 0.05;
  let at = { x: 0, y: 0 };
  let points = [];
  let key = "";
  let chosen = false; // by hand, and not sent yet
  let words = [];
  let zoom = 1;

  const button = (name) => document.querySelector(`[data-pick="${CSS.escape(name)}"]`);

  const outline = () => key && button(key)?.hasAttribute("data-outline");
  const close = document.getElementById("pick-close");
  const enough = () => points.length >= (outline() ? words.length : Infinity);

  const tell = () => {
    if (close) close.hidden = !enough();
    for (const sketch of document.querySelectorAll("[data-sketch]")) sketch.hidden = sketch.dataset.sketch !== key;
    const status = document.getElementById("pick-status");
    if (!status) return;
    const label = button(key)?.dataset.label;
    const next = words[points.length] ?? `place ${points.length + 1}`;
    status.textContent = label ? `${label}: point at ${next}${enough() ? ", or close the outline" : ""}.` : "";
  };

  const draw = () => {
    const group = document.getElementById("pick-points");
    const line = document.createElementNS("http://www.w3.org/2000/svg", "polyline");
    line.setAttribute("points", outline() ? points.join(" ") : "");
    group.replaceChildren(
      line,
      ...[...points, [at.x, at.y]].map(([x, y]) => {
        const cross = document.createElementNS("http://www.w3.org/2000/svg", "path");
        cross.setAttribute("d", `M${x} ${y}m-.6 0h.45m.3 0h.45m-.6-.6v.45m0 .3v.45`);
        return cross;
      }),
    );
  };

  const look = () => {
    const pixels = picture.naturalWidth / (2 * half);
    const [cx, cy] = [(at.x + half) * pixels, (at.y + half) * pixels];
    const wide = Math.max(24, 3 * pixels);
    const pen = lens.getContext("2d");
    pen.imageSmoothingEnabled = false;
    pen.fillRect(0, 0, 180, 180);
    pen.drawImage(picture, cx - wide / 2, cy - wide / 2, wide, wide, 0, 0, 180, 180);
    pen.strokeStyle = "#ff3df0";
    pen.beginPath();
    for (const [from, to] of [[0, 80], [100, 180]]) {
      pen.moveTo(from, 90); pen.lineTo(to, 90);
      pen.moveTo(90, from); pen.lineTo(90, to);
    }
    pen.stroke();
    lens.hidden = false;
    lens.classList.toggle("at-right", at.x < 0);
  };

  const show = () => { draw(); look(); };

  const take = (name, byHand = false) => {
    key = name;
    chosen = byHand;
    points = [];
    words = (button(name)?.dataset.points ?? "").split("|");
    tell();
    draw();
  };

  const send = () => {
    chosen = false;
    const values = { key, points: JSON.stringify(points) };
    const token = document.querySelector("[name=csrfmiddlewaretoken]").value;
    htmx.ajax("POST", stage.dataset.address, { values, target: "#picked", headers: { "X-CSRFToken": token } });
  };

  const set = () => {
    if (!key) return;
    points.push([at.x, at.y]);
    if (points.length === words.length && !outline()) send();
    else tell();
    draw();
  };

  const place = (event) => {
    const box = stage.getBoundingClientRect();
    at = {
      x: ((event.clientX - box.left) / box.width * 2 - 1) * half,
      y: ((event.clientY - box.top) / box.height * 2 - 1) * half,
    };
    show();
  };

  stage.addEventListener("pointermove", place);
  stage.addEventListener("pointerleave", () => { lens.hidden = true; });
  stage.addEventListener("click", (event) => { place(event); set(); });

  stage.addEventListener("keydown", (event) => {
    const step = event.shiftKey ? 10 * STEP : STEP;
    const moves = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] };
    if (moves[event.key]) {
      const [dx, dy] = moves[event.key];
      at = { x: Math.min(half, Math.max(-half, at.x + dx)), y: Math.min(half, Math.max(-half, at.y + dy)) };
      show();
    } else if (event.key === "Enter") set();
    else if (event.key === "Backspace") { points.pop(); tell(); draw(); }
    else return;
    event.preventDefault();
  });

  close?.addEventListener("click", () => {
    close.hidden = true;
    send();
    stage.focus({ preventScroll: true });
  });

  document.addEventListener("click", (event) => {
    const pick = event.target.closest("[data-pick]");
    if (pick) { take(pick.dataset.pick, true); stage.focus({ preventScroll: false }); }
    const size = event.target.closest("[data-zoom]");
    if (size) {
      const frame = stage.parentElement;
      const [x, y] = [frame.scrollLeft + frame.clientWidth / 2, frame.scrollTop + frame.clientHeight / 2];
      const before = zoom;
      zoom = Math.min(8, Math.max(1, zoom * Number(size.dataset.zoom)));
      stage.style.width = `${100 * zoom}%`;
      frame.scrollTo(x * zoom / before - frame.clientWidth / 2, y * zoom / before - frame.clientHeight / 2);
    }
  });

  // As the answer is put in, and not when it has settled. What was chosen while it was on its way stays chosen.
  const picked = document.getElementById("picked");
  const goOn = () => take(picked.querySelector("[data-next]").dataset.next);
  picked.addEventListener("htmx:afterSwap", () => (chosen ? tell() : goOn()));

  goOn();
})();
