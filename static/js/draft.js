// Keeps what is typed into the intake page in this browser too, for when the connection is lost before the server has it.
(() => {
  const form = document.querySelector("form[data-draft]");
  if (!form) return;
  const name = `draft-${form.dataset.draft}`;
  const fields = () => [...form.elements].filter((field) => field.name && !["file", "hidden"].includes(field.type));

  for (const other of Object.keys(localStorage)) {
    if (other.startsWith("draft-") && other !== name) localStorage.removeItem(other);
  }

  const kept = JSON.parse(localStorage.getItem(name) ?? "null");
  if (kept && kept.at > Number(form.dataset.draftAt)) {
    for (const field of fields()) {
      if (field.name in kept.fields && !field.value) field.value = kept.fields[field.name];
    }
  }

  form.addEventListener("input", () => {
    const typed = Object.fromEntries(fields().map((field) => [field.name, field.value]));
    localStorage.setItem(name, JSON.stringify({ at: Date.now() / 1000, fields: typed }));
  });
})();
