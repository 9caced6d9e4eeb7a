/* The quick check: Enter takes a number and goes to the next; the next number's button puts the cursor into its field;
   what a number says of itself marks its whole line. */

(() => {
  const form = document.getElementById("quick");
  const numbers = () => [...form.querySelectorAll(".entry input")].filter((input) => input.offsetParent);

  form.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || !event.target.matches(".entry input")) return;
    event.preventDefault();
    const all = numbers();
    const next = all[all.indexOf(event.target) + 1];
    if (next) next.focus();
    else event.target.dispatchEvent(new Event("change", { bubbles: true }));
  });

  document.addEventListener("click", (event) => {
    const link = event.target.closest("[data-focus]");
    if (!link) return;
    event.preventDefault();
    const input = document.getElementById(link.dataset.focus);
    input.closest("details")?.setAttribute("open", "");
    input.focus();
    input.select();
  });

  // What is being typed while an answer comes stays as it is typed, and the focus where it is.
  let active = null;
  let typing = null;
  document.body.addEventListener("htmx:beforeSwap", () => {
    active = document.activeElement;
    const typed = form.contains(active) && active.matches(".entry input") && active.value !== active.defaultValue;
    typing = typed ? { value: active.value, at: active.selectionStart } : null;
  });
  document.body.addEventListener("htmx:oobAfterSwap", () => {
    const input = active?.isConnected ? active : active?.id && document.getElementById(active.id);
    if (!input) return;
    if (typing) input.value = typing.value;
    if (document.activeElement !== input) input.focus();
    if (typing) input.setSelectionRange(typing.at, typing.at);
  });

  document.body.addEventListener("htmx:afterSettle", () => {
    for (const told of form.querySelectorAll("[id^='told-']")) {
      told.closest(".entry").dataset.state = told.dataset.state;
    }
  });
})();
