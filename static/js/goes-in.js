/* Keeps the address of a ranking short: fields left empty are not sent, nor what is typed to find a part. */

const drop = (form, data) => {
  for (const [name, value] of [...data.entries()]) {
    if (value === "" || name.endsWith("-words")) data.delete(name);
  }
};
document.body.addEventListener("htmx:configRequest", (event) => {
  if (event.detail.elt.id === "given") drop(event.detail.elt, event.detail.formData ?? event.detail.parameters);
});
document.body.addEventListener("submit", (event) => {
  if (event.target.id !== "given") return;
  for (const field of event.target.elements) if (field.name && field.value === "") field.disabled = true;
});
