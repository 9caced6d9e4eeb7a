/* Says so when a change on the fit check page gets no answer, lest the verdict before it passes for the new one. */

(() => {
  const notice = document.getElementById("no-answer");
  const page = document.querySelector(".fit-page");
  const show = (missing) => {
    notice.hidden = !missing;
    page.classList.toggle("unanswered", missing);
  };
  for (const name of ["htmx:responseError", "htmx:sendError", "htmx:timeout"]) {
    document.body.addEventListener(name, () => show(true));
  }
  document.body.addEventListener("htmx:afterOnLoad", (event) => show(!event.detail.successful));
})();
