// Taps of a timing run: the time is taken here, at the press, and carried over to the machine's clock.
(() => {
  const form = document.querySelector(".tap-form");
  if (!form) return;
  const button = form.querySelector(".tap");
  const state = document.getElementById("clock-state");
  const here = () => (performance.timeOrigin + performance.now()) / 1000;
  let clock = null;

  // The quickest of several round trips tells the offset best: the machine's answer lies within that trip.
  const measure = async () => {
    let best = clock && { ...clock, plusMinus: clock.plusMinus + 0.01 };
    for (let i = 0; i < 6; i += 1) {
      const sent = here();
      const { now } = await (await fetch(form.dataset.clock)).json();
      const got = here();
      if (!best || (got - sent) / 2 < best.plusMinus) best = { offset: now - (sent + got) / 2, plusMinus: (got - sent) / 2 };
    }
    clock = best;
    button.disabled = false;
    state.textContent = `Clock checked, ±${Math.max(clock.plusMinus, 0.001).toFixed(3)} s.`;
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

  button.addEventListener("pointerdown", (event) => { if (event.button === 0) tap(); });
  button.addEventListener("keydown", (event) => {
    if ((event.key === "Enter" || event.key === " ") && !event.repeat) tap();
  });
  button.addEventListener("click", (event) => event.preventDefault());

  const again = () => measure().catch(() => {
    state.textContent = "No connection to the workshop; taps are paused.";
    button.disabled = true;
    clock = null;
  });
  again();
  setInterval(again, 60_000);
})();
