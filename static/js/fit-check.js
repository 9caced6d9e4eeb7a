/* Keeps verdict and numbers together on the fit check page: says so when a change gets no answer, and asks again when
   the browser brings back what was chosen or typed before (Back, reload). The chance that comes after an answer is no
   answer itself. */

(() => {
  const notice = document.getElementById("no-answer");
  const page = document.querySelector(".fit-page");
  const show = (missing) => {
    notice.hidden = !missing;
    page.classList.toggle("unanswered", missing);
  };
  for (const name of ["htmx:responseError", "htmx:sendError", "htmx:timeout"]) {
    document.body.addEventListener(name, (event) => event.detail.elt === page && show(true));
  }
  document.body.addEventListener("htmx:afterOnLoad", (event) => {
    if (event.detail.elt === page) show(!event.detail.successful);
  });

  // A number measured now is sent by its own button, and by Enter.
  const ofMeasured = (event) => event.target.matches?.("[name^='measured:']");
  document.addEventListener("change", (event) => ofMeasured(event) && event.stopPropagation(), true);
  document.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || !ofMeasured(event)) return;
    event.preventDefault();
    event.target.parentElement.querySelector("button").click();
  });

  const broughtBack = (field) =>
    field.options
      ? [...field.options].some((option) => option.selected !== option.defaultSelected)
      : field.matches("input:not([type=hidden]), textarea") && field.value !== field.defaultValue;
  window.addEventListener("pageshow", () => {
    if ([...page.elements].some(broughtBack)) page.dispatchEvent(new Event("change"));
  });
})();
