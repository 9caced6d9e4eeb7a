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

  // Saving waits for the answer to the change before it: overtaken, that would store a draft of what is saved by then.
  const asked = new Set();
  let saving = null;
  document.body.addEventListener("htmx:beforeSend", (event) => event.detail.elt === page && asked.add(event.detail.xhr));
  document.body.addEventListener("htmx:afterRequest", (event) => {
    asked.delete(event.detail.xhr);
    if (asked.size || !saving) return;
    page.requestSubmit(saving);
    saving = null;
  });
  page.addEventListener("submit", (event) => {
    if (!asked.size) return;
    event.preventDefault();
    saving = event.submitter;
  });

  // What the page shows already need not be sent again.
  document.body.addEventListener("htmx:configRequest", (event) => {
    if (event.detail.verb === "post") {
      event.detail.parameters.has = [...page.querySelectorAll("[data-is]")].map((part) => part.dataset.is);
    }
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

  // A number that is pressed opens its slot right there; without this script the same link loads the page with it open.
  const slot = document.getElementById("what-if");
  const home = document.getElementById("what-if-home");
  let pressed = null;
  const ask = async (values) => {
    await htmx.ajax("POST", home.dataset.address, { source: slot, target: slot, swap: "innerHTML", values });
    slot.querySelector("[name^='what-if:']:not([type=hidden])")?.focus();
  };
  const close = async () => {
    home.append(slot);
    await ask({ try: "", in: "" });
    const links = [...page.querySelectorAll(`a[href="${pressed}"]`)];
    links.find((link) => link.checkVisibility())?.focus();
  };
  page.addEventListener("click", (event) => {
    const link = event.target.closest("a[href^='?try=']");
    const button = event.target.closest("#what-if button");
    if (button?.name === "store-tried" || !(link || button)) return;
    event.preventDefault();
    if (button?.value === "close") return close();
    if (button) {
      for (const input of slot.querySelectorAll("[name^='what-if:']:not([type=hidden])")) input.value = "";
      return page.dispatchEvent(new Event("change"));
    }
    const asked = Object.fromEntries(new URLSearchParams(link.getAttribute("href").split("#")[0]));
    const near = link.closest("[data-slot]");
    (near?.dataset.slot === asked.in ? near : page.querySelector(`[data-slot='${asked.in}']`)).append(slot);
    pressed = link.getAttribute("href");
    ask(asked);
  });
  slot.addEventListener("keydown", (event) => {
    if (event.key === "Escape") close();
    if (event.key !== "Enter" || !event.target.matches("input")) return;
    event.preventDefault();
    const inputs = [...slot.querySelectorAll("input:not([type=hidden])")];
    (inputs[inputs.indexOf(event.target) + 1] ?? event.target).focus();
    page.dispatchEvent(new Event("change"));
  });

  document.body.addEventListener("htmx:afterSwap", (event) => {
    const stored = event.detail.requestConfig?.elt.name === "store" && !page.querySelector("[aria-invalid='true']");
    if (stored) document.getElementById("verdict").scrollIntoView({ block: "nearest" });
  });

  const broughtBack = (field) => {
    if (field.options) return [...field.options].some((option) => option.selected !== option.defaultSelected);
    if (field.type === "checkbox") return field.checked !== field.defaultChecked;
    return field.matches("input:not([type=hidden]), textarea") && field.value !== field.defaultValue;
  };
  window.addEventListener("pageshow", () => {
    if ([...page.elements].some(broughtBack)) page.dispatchEvent(new Event("change"));
  });
})();
