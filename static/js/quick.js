/* The quick check: Enter takes a number and goes to the next; the next number's button puts the cursor into its field;
   what a number says of itself marks its whole line. */

(() => {
  const form = document.getElementById("quick");
  const numbers = () => [...form.querySelectorAll(".entry input")].filter((input) => input.checkVisibility());

  form.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || !event.target.matches(".entry input")) return;
    event.preventDefault();
    const all = numbers();
    const next = all[all.indexOf(event.target) + 1];
    if (next) next.focus();
    else event.target.dispatchEvent(new Event("change", { bubbles: true }));
  });

  // Only numbers typed in this window are sent: another one may hold newer numbers of the same watch. No change says
  // that the same text was typed again, a reading of its own with what is in hand now, nor that a text was typed while
  // an answer put a new input in the place of its own.
  const again = document.getElementById("quick-again");
  const touched = new Set();
  const unsent = new Set();
  form.addEventListener("input", ({ target }) => {
    if (!target.matches(".entry input")) return;
    touched.add(target.name);
    unsent.add(target.name);
  });
  form.addEventListener("focusout", ({ target }) => setTimeout(() => {
    if (!unsent.has(target.name) || document.activeElement.name === target.name) return;
    again.value = target.name;
    form.dispatchEvent(new Event("change"));
  }));
  document.body.addEventListener("htmx:configRequest", ({ target, detail }) => {
    if (target !== form) return;
    unsent.clear();
    for (const input of form.querySelectorAll(".entry input")) {
      if (!touched.has(input.name)) detail.formData.delete(input.name);
    }
  });

  document.addEventListener("click", (event) => {
    const link = event.target.closest("[data-focus]");
    if (!link) return;
    event.preventDefault();
    const input = document.getElementById(link.dataset.focus);
    input.closest("details")?.setAttribute("open", "");
    input.focus();
    if (input.select && input.type !== "radio") input.select();
  });

  // What is being typed while an answer comes stays as it is typed, and the focus where it is.
  let active = null;
  let typing = null;
  let open = [];
  let sentOnceMore = "";
  document.body.addEventListener("htmx:beforeSwap", () => {
    active = document.activeElement;
    const typed = form.contains(active) && active.matches(".entry input") && active.value !== active.defaultValue;
    open = [...form.querySelectorAll("details[open][id]")].map((details) => details.id);
    typing = typed ? { value: active.value, at: active.selectionStart } : null;
  });
  document.body.addEventListener("htmx:oobAfterSwap", () => {
    const input = active?.isConnected ? active : active?.id && document.getElementById(active.id);
    if (!input) return;
    if (typing) {
      input.value = typing.value;
      unsent.add(input.name);
    }
    if (document.activeElement !== input) input.focus();
    if (typing) input.setSelectionRange(typing.at, typing.at);
  });

  // A number that an answer crossed on its way is sent once more.
  document.body.addEventListener("htmx:afterSettle", ({ target }) => {
    for (const id of open) document.getElementById(id)?.setAttribute("open", "");
    for (const told of form.querySelectorAll("[id^='told-']")) {
      told.closest(".entry").dataset.state = told.dataset.state;
    }
    if (target.id !== "quick-answer") return;
    again.value = "";
    let missed = "";
    for (const input of form.querySelectorAll(".entry input")) {
      const { text } = document.getElementById(`told-${input.name}`).dataset;
      if (!touched.has(input.name)) input.value = text;
      else if (input !== document.activeElement && input.value.trim() !== text) missed += `${input.name}=${input.value} `;
    }
    if (missed && missed !== sentOnceMore) form.dispatchEvent(new Event("change"));
    sentOnceMore = missed;
  });
})();
