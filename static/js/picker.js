/* Picking a part from the hits of its box, and taking it back: the hidden input gets the key and says that it changed.
   Arrow keys walk through the hits, Escape closes them. Without this script the buttons send the form. */

(() => {
  const set = (picker, key, name) => {
    const field = picker.querySelector("input[type=hidden]");
    const box = picker.querySelector("input[type=search]");
    field.value = key;
    picker.querySelector(".picked-name").textContent = name;
    picker.querySelector("[data-unpick]").setAttribute("aria-label", `Change ${name}`);
    picker.querySelector(".picked").hidden = !key;
    picker.querySelector(".picker-search").hidden = Boolean(key);
    picker.querySelector(".picker-hits").replaceChildren();
    box.value = "";
    (key ? picker.querySelector("[data-unpick]") : box).focus();
    field.dispatchEvent(new Event("change", { bubbles: true }));
  };

  // htmx sends the button that was pressed or focused last along with a form; here the hidden input has the choice.
  document.addEventListener("htmx:configRequest", (event) => event.detail.formData.delete("pick"));

  // What stands in the box is no choice yet.
  document.addEventListener("change", (event) => event.target.closest?.(".picker-search") && event.stopPropagation(), true);

  document.addEventListener("click", (event) => {
    const button = event.target.closest(".picker button");
    if (!button) return;
    event.preventDefault();
    set(button.closest(".picker"), button.dataset.pick ?? "", button.dataset.pick ? button.textContent.trim() : "");
  });

  // A new part is entered in a dialog of this page, and is chosen then.
  let adding = null;
  const dialog = () => {
    const made = document.getElementById("new-part") ?? document.createElement("dialog");
    if (!made.isConnected) {
      made.id = "new-part";
      made.setAttribute("aria-labelledby", "new-part-title");
      made.innerHTML = '<div id="new-part-form"></div>';
      document.body.append(made);
      made.addEventListener("click", (event) => event.target.closest("[data-close]") && made.close());
    }
    return made;
  };
  document.addEventListener("click", (event) => {
    const link = event.target.closest("[data-add]");
    if (!link) return;
    event.preventDefault();
    adding = link.closest(".picker");
    const opened = dialog();
    const words = adding.querySelector("input[type=search]").value;
    const into = adding.closest("form")?.elements.case?.value ?? "";
    const asked = `${link.dataset.add}&name=${encodeURIComponent(words)}&into=${encodeURIComponent(into)}`;
    htmx.ajax("GET", asked, { target: "#new-part-form", swap: "innerHTML" }).then(() => opened.showModal());
  });
  document.body.addEventListener("part-added", (event) => {
    dialog().close();
    set(adding, String(event.detail.key), event.detail.name);
  });

  document.addEventListener("keydown", (event) => {
    const picker = event.target.closest?.(".picker-search");
    if (!picker) return;
    const buttons = [...picker.querySelectorAll(".picker-hits button")];
    const at = buttons.indexOf(event.target);
    const box = picker.querySelector("input[type=search]");
    if (event.key === "ArrowDown" && buttons.length) buttons[Math.min(at + 1, buttons.length - 1)].focus();
    else if (event.key === "ArrowUp" && at >= 0) (at ? buttons[at - 1] : box).focus();
    else if (event.key === "Enter" && event.target === box) {
      if (box.value && buttons.length) buttons[0].click();
    } else if (event.key === "Escape" && buttons.length) {
      picker.querySelector(".picker-hits").replaceChildren();
      box.focus();
    } else return;
    event.preventDefault();
  });

  // Hits that come while a hit before them has the focus leave the focus among them.
  let among = false;
  document.addEventListener("htmx:beforeSwap", (event) => {
    among = event.target.matches(".picker-hits") && event.target.contains(document.activeElement);
  });
  document.addEventListener("htmx:afterSwap", (event) => {
    if (!among || !event.target.matches(".picker-hits")) return;
    (event.target.querySelector("button") ?? event.target.closest(".picker-search").querySelector("input")).focus();
  });

  document.addEventListener("focusout", (event) => {
    const picker = event.target.closest?.(".picker-search");
    if (picker && event.relatedTarget && !picker.contains(event.relatedTarget)) {
      picker.querySelector(".picker-hits").replaceChildren();
    }
  });
})();
