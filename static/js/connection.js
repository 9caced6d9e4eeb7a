// Says so when nothing comes back from the workshop, and takes it back once something does.
(() => {
  const notice = document.getElementById("no-connection");
  for (const name of ["htmx:sendError", "htmx:timeout"]) {
    document.body.addEventListener(name, (event) => {
      if (!event.detail.elt.closest(".fit-page")) notice.hidden = false;
    });
  }
  document.body.addEventListener("htmx:afterOnLoad", () => { notice.hidden = true; });
})();
