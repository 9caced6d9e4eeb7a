// Single keys: each control names its own key in data-key; j and k walk through jobs, or the lines of a checklist.
(() => {
  const typing = (element) => element.matches("input:not([type=checkbox]), select, textarea");

  const use = (control) => {
    if (control.matches("input:not([type=checkbox]), select")) control.focus();
    else control.click();
  };

  const walk = (step) => {
    const lines = [...document.querySelectorAll(".bench-job, .tick")];
    const next = lines.indexOf(document.activeElement) + step;
    lines[Math.min(Math.max(next, 0), lines.length - 1)]?.focus();
  };

  document.addEventListener("keydown", (event) => {
    if (document.querySelector("dialog[open]")) return;
    if (typing(event.target) || event.ctrlKey || event.altKey || event.metaKey) return;
    if (event.key === "j" || event.key === "k") return walk(event.key === "j" ? 1 : -1);
    const control = document.querySelector(`[data-key="${CSS.escape(event.key)}"]`);
    if (!control) return;
    event.preventDefault();
    use(control);
  });

  for (const button of document.querySelectorAll("[data-opens]")) {
    button.addEventListener("click", () => document.getElementById(button.dataset.opens).showModal());
  }
})();
