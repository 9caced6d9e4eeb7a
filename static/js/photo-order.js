// Photos are put in order by dragging one onto another's place; the buttons below do the same without a mouse.
(() => {
  const form = document.getElementById("photo-order");
  for (const list of document.querySelectorAll("[data-photo-order]")) {
    const items = [...list.children];
    let dragged = null;
    for (const item of items) {
      item.draggable = true;
      item.addEventListener("dragstart", (event) => {
        dragged = item;
        event.dataTransfer.effectAllowed = "move";
      });
      item.addEventListener("dragover", (event) => {
        if (!dragged || dragged === item) return;
        event.preventDefault();
        item.classList.add("drop-here");
      });
      item.addEventListener("dragleave", () => item.classList.remove("drop-here"));
      item.addEventListener("drop", (event) => {
        if (!dragged || dragged === item) return;
        event.preventDefault();
        form.action = dragged.dataset.move;
        form.elements.steps.value = items.indexOf(item) - items.indexOf(dragged);
        form.submit();
      });
    }
  }
})();
