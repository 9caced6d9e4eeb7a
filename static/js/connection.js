// Says so when nothing comes back from the workshop, and takes it back once something does.
(() => {
  const notice = document.getElementById("no-connection");
  const show = (missing) => { notice.hidden = !missing; };
  for (const name of ["htmx:sendError", "htmx:timeout"]) {
    document.body.addEventListener(name, (event) => {
      if (!event.detail.elt.closest(".fit-page")) show(true);
    });
  }
  document.body.addEventListener("htmx:afterOnLoad", () => show(false));
})();
