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

  // The order that comes late, with the chance, waits while a number is being typed there.
  let late = false;
  document.body.addEventListener("htmx:beforeSwap", (event) => {
    const typed = () => [...document.querySelectorAll("[name^='measured:']")].some((input) => input.value);
    late = event.detail.elt.id === "chance" && typed();
  });
  document.body.addEventListener("htmx:oobBeforeSwap", (event) => {
    if (late && event.detail.target.id === "measure-next") event.detail.shouldSwap = false;
  });

  const broughtBack = (field) =>
    field.options
      ? [...field.options].some((option) => option.selected !== option.defaultSelected)
      : field.matches("input:not([type=hidden]), textarea") && field.value !== field.defaultValue;
  window.addEventListener("pageshow", () => {
    if ([...page.elements].some(broughtBack)) page.dispatchEvent(new Event("change"));
  });
})();
