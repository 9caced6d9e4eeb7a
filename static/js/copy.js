// A button that copies a text field; where the browser has no clipboard, the text is selected instead.
for (const button of document.querySelectorAll("button[data-copy]")) {
  const words = button.textContent;
  button.hidden = false;
  button.addEventListener("click", async () => {
    const field = document.getElementById(button.dataset.copy);
    field.select();
    let isCopied = false;
    try {
      await navigator.clipboard.writeText(field.value);
      isCopied = true;
    } catch {
      isCopied = document.execCommand("copy");
    }
    button.textContent = isCopied ? "Copied." : "Selected: copy it with the keyboard.";
    setTimeout(() => { button.textContent = words; }, 4000);
  });
}
