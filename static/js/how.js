/* How to take a number: "?" in its field opens and closes the card beside it, so that Tab stops at the numbers alone.
   Escape closes it too, or leaves a line that is being measured. */

(() => {
  const cardOf = (input) => document.querySelector(`details[data-how-of="${CSS.escape(input.id)}"]`);

  const leaveTheRow = (part) => {
    for (const fold of part.querySelectorAll("details[data-how-of]")) {
      fold.querySelector("summary").tabIndex = -1;
      document.getElementById(fold.dataset.howOf)?.setAttribute("aria-keyshortcuts", "?");
    }
  };

  document.addEventListener("keydown", (event) => {
    if (!["?", "Escape"].includes(event.key) || !event.target.matches("input") || event.ctrlKey || event.metaKey) return;
    const fold = cardOf(event.target);
    if (event.key === "Escape" && !fold?.open) return event.target.form?.querySelector("[data-cancel]")?.click();
    if (!fold) return;
    event.preventDefault();
    fold.open = event.key === "?" && !fold.open;
  });

  document.addEventListener("htmx:load", (event) => leaveTheRow(event.detail.elt));
})();
