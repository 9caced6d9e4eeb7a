/* The look of a dial: the slider turns the hands. */

(() => {
  const slider = document.getElementById("look-at");
  if (!slider) return;
  const clock = document.getElementById("look-clock");
  const turn = (name, angle) => document.getElementById(`look-${name}`)?.setAttribute("transform", `rotate(${angle})`);
  slider.addEventListener("input", () => {
    const minutes = Number(slider.value);
    turn("hour", minutes / 2);
    turn("minute", (minutes % 60) * 6);
    clock.textContent = `${Math.floor(minutes / 60) || 12}:${String(minutes % 60).padStart(2, "0")}`;
  });
})();
