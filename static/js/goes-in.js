/* Keeps the address of a ranking short: fields left empty are not sent. */

const drop = (form, data) => {
  for (const [name, value] of [...data.entries()]) {
    if (value === "") data.delete(name);
  }
};
document.body.addEventListener("htmx:configRequest", (event) => {
  if (event.detail.elt.id === "given") drop(event.detail.elt, event.detail.formData ?? event.detail.parameters);
});
document.body.addEventListener("submit", (event) => {
  if (event.target.id !== "given") return;
  for (const field of event.target.elements) if (field.name && field.value === "") field.disabled = true;
});
