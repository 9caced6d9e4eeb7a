// Keeps in this browser what is typed into the intake page until the server has it: a lost connection loses nothing.
// No clock is asked: what is still kept here when the page opens is what the server never got.
(() => {
  const form = document.querySelector("form[data-draft]");
  if (!form) return;
  const name = `draft-${form.dataset.draft}`;
  const fields = () => [...form.elements].filter((field) => field.name && !["file", "hidden"].includes(field.type));
  const typedIn = () => fields().filter((field) => field.type !== "radio" || field.checked);
  let typed = 0;
  let sent = 0;

  for (const other of Object.keys(localStorage)) {
    if (other.startsWith("draft-") && other !== name) localStorage.removeItem(other);
  }

  const kept = JSON.parse(localStorage.getItem(name) ?? "null");
  if (kept) {
    for (const field of fields()) {
      if (!(field.name in kept.fields)) continue;
      if (field.type === "radio") field.checked = field.value === kept.fields[field.name];
      else field.value = kept.fields[field.name];
    }
  }

  form.addEventListener("input", () => {
    typed += 1;
    const values = Object.fromEntries(typedIn().map((field) => [field.name, field.value]));
    localStorage.setItem(name, JSON.stringify({ fields: values }));
  });

  form.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) form.requestSubmit();
  });

  const keeper = document.getElementById("draft-keeper");
  keeper.addEventListener("htmx:beforeRequest", () => { sent = typed; });
  keeper.addEventListener("htmx:afterRequest", (event) => {
    if (event.detail.successful && sent === typed) localStorage.removeItem(name);
  });
})();
