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
  let leaving = false;

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

  // Chosen photos too: the page that says what is wrong has them again, as has the one after a lost connection.
  const photos = document.getElementById("photos");
  const shelf = new Promise((resolve) => {
    const opening = indexedDB.open("drafts", 1);
    opening.onupgradeneeded = () => opening.result.createObjectStore("photos");
    opening.onsuccess = () => resolve(opening.result);
  });
  const onShelf = async (use) => use((await shelf).transaction("photos", "readwrite").objectStore("photos"));

  photos.addEventListener("change", () => onShelf((kept) => kept.put([...photos.files], name)));
  onShelf((kept) => {
    kept.getAllKeys().onsuccess = (event) => {
      for (const other of event.target.result) if (other !== name) kept.delete(other);
    };
    kept.get(name).onsuccess = (event) => {
      const files = event.target.result ?? [];
      if (!files.length || photos.files.length) return;
      const chosen = new DataTransfer();
      for (const file of files) chosen.items.add(file);
      photos.files = chosen.files;
      document.getElementById("photos-forgotten")?.remove();
    };
  });

  // Once the watch is on its way to the server, nothing is kept behind its back: the next watch would begin with it.
  form.addEventListener("submit", () => { leaving = true; });
  window.addEventListener("pageshow", () => { leaving = false; });

  const keeper = document.getElementById("draft-keeper");
  keeper.addEventListener("htmx:beforeRequest", (event) => {
    if (leaving) event.preventDefault();
    else sent = typed;
  });
  keeper.addEventListener("htmx:afterRequest", (event) => {
    if (event.detail.successful && sent === typed) localStorage.removeItem(name);
  });
})();
