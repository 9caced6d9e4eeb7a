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
  });

  // What is being typed while an answer comes stays as it is typed.
  let typing = null;
  document.body.addEventListener("htmx:beforeSwap", () => {
    const active = document.activeElement;
    const input = active.closest(".picker-search")?.querySelector("input") ?? active;
    const unsent = form.contains(input) && input.matches("input:not([type=radio])") && input.value !== input.defaultValue;
    typing = unsent ? { id: input.id, value: input.value, start: input.selectionStart } : null;
  });
  document.body.addEventListener("htmx:oobAfterSwap", () => {
    const input = typing && document.getElementById(typing.id);
    if (!input || input.value === typing.value) return;
    htmx.process(input); // So that it notices the change that follows.
    input.value = typing.value;
    input.focus();
    input.setSelectionRange(typing.start, typing.start);
    if (input.type === "search") input.dispatchEvent(new Event("input", { bubbles: true }));
  });

  document.body.addEventListener("htmx:afterSettle", () => {
    for (const told of form.querySelectorAll("[id^='told-']")) {
      told.closest(".entry").dataset.state = told.dataset.state;
    }
  });
})();
