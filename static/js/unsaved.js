// A stage's page has several forms. What is typed in one and not stored yet stands there again after another was sent.
(() => {
  const page = document.querySelector("[data-keeps]");
  if (!page) return;
  const key = `unsaved-${page.dataset.keeps}`;
  const inForm = (form, name) => form.querySelector(`[name="${CSS.escape(name)}"]`);
  const fields = () => [...page.querySelectorAll("input:not([type=hidden], [type=file]), select, textarea")];
  const begun = new Map(fields().map((field) => [field, field.value]));
  let sent = null;

  // What the page was opened at goes with it, so that a change in another window is still noticed.
  const behind = (field) => ["edition", `${field.name}-was`, `${field.name}-stood`]
    .map((name) => inForm(field.form, name)).filter(Boolean).map((hidden) => [hidden.name, hidden.value]);

  for (const { action, name, value, opened } of JSON.parse(sessionStorage.getItem(key) ?? "[]")) {
    const field = fields().find((one) => one.name === name && one.form.getAttribute("action") === action);
    if (!field || field.getAttribute("aria-invalid")) continue;
    field.value = value;
    for (const [hidden, stood] of opened) {
      const there = inForm(field.form, hidden);
      if (there) there.value = stood;
    }
    field.closest("details")?.setAttribute("open", "");
    if (!field.form.querySelector(".unsaved")) {
      const told = document.createElement("p");
      told.className = "hint unsaved";
      told.setAttribute("role", "status");
      told.textContent = "Typed earlier, not saved yet.";
      field.form.prepend(told);
    }
  }

  addEventListener("submit", (event) => { if (!event.defaultPrevented) sent = event.target; });
  addEventListener("pagehide", () => {
    const left = fields().filter((field) => field.form !== sent && begun.has(field) && field.value !== begun.get(field));
    const kept = left.map((field) => (
      { action: field.form.getAttribute("action"), name: field.name, value: field.value, opened: behind(field) }
    ));
    if (kept.length) sessionStorage.setItem(key, JSON.stringify(kept));
    else sessionStorage.removeItem(key);
  });
})();
