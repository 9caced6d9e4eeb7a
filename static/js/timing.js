// A timing run: the reference's time runs on the page; taps take their time here, at the press, by the same clock.
(() => {
  const form = document.querySelector(".tap-form");
  if (!form) return;
  const button = form.querySelector(".tap");
  const state = document.getElementById("clock-state");
  const face = form.querySelector(".running-clock");
  const digits = face.querySelector("time");
  const here = () => (performance.timeOrigin + performance.now()) / 1000;
  let clock = null;
  let ticking = null;

  // Shows the second that has begun, and comes back just after the next one begins; nothing moves in between.
  const show = () => {
    clearTimeout(ticking);
    face.classList.toggle("stopped", !clock);
    if (!clock) { digits.textContent = "--:--:--"; return; }
    const now = here() + clock.offset;
    const second = Math.floor(now);
    digits.textContent = new Date((second + clock.fromUtc) * 1000).toISOString().slice(11, 19);
    ticking = setTimeout(show, Math.max((second + 1 - now) * 1000, 1));
  };
  face.hidden = false;
  form.querySelector(".without-script").remove();

  // The quickest of several round trips tells the offset best: the machine's answer lies within that trip.
  const measure = async () => {
    let best = clock && { ...clock, plusMinus: clock.plusMinus + 0.01 };
    for (let i = 0; i < 6; i += 1) {
      const sent = here();
      const { now, from_utc: fromUtc } = await (await fetch(form.dataset.clock)).json();
      const got = here();
      if (!best || (got - sent) / 2 < best.plusMinus) best = { offset: now - (sent + got) / 2, plusMinus: (got - sent) / 2, fromUtc };
    }
    clock = best;
    button.disabled = false;
    state.textContent = `Clock checked, within ${Math.max(clock.plusMinus, 0.001).toFixed(3)} s of the workshop's.`;
    show();
  };

  const tap = () => {
    if (!clock) return;
    const fields = { at: here() + clock.offset, plus_minus: clock.plusMinus };
    for (const [name, value] of Object.entries(fields)) {
      const field = form.querySelector(`[name=${name}]`) ?? form.appendChild(Object.assign(document.createElement("input"), { type: "hidden", name }));
      field.value = value;
    }
    htmx.trigger(form, "tapped");
  };

  // The press counts, not its end; a click without a press comes from a screen reader or a switch.
  const isPressKey = (event) => event.key === "Enter" || event.key === " ";
  button.addEventListener("pointerdown", (event) => { if (event.button === 0) tap(); });
  button.addEventListener("keydown", (event) => {
    if (!isPressKey(event)) return;
    event.preventDefault();
    if (!event.repeat) tap();
  });
  button.addEventListener("keyup", (event) => { if (isPressKey(event)) event.preventDefault(); });
  button.addEventListener("click", (event) => {
    event.preventDefault();
    if (event.detail === 0) tap();
  });

  const again = () => measure().catch(() => {
    state.textContent = "No connection to the workshop; taps are paused.";
    button.disabled = true;
    clock = null;
    show();
  });
  show();
  again();
  setInterval(again, 60_000);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) show(); });
})();
