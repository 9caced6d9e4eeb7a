/* The look of a dial: the slider turns the hands. */

(() => {
  const slider = document.getElementById("look-at");
  if (!slider) return;
  const save = document.getElementById("look-save");
  const clock = document.getElementById("look-clock");
  const turn = (name, angle) => document.querySelector(`#look [data-hand=${name}]`)?.setAttribute("transform", `rotate(${angle})`);
  slider.addEventListener("input", () => {
    const minutes = Number(slider.value);
    turn("hour", minutes / 2);
    turn("minute", (minutes % 60) * 6);
    save.href = save.href.replace(/at=\d+/, `at=${minutes}`);
    clock.textContent = `${Math.floor(minutes / 60) || 12}:${String(minutes % 60).padStart(2, "0")}`;
  });
})();
