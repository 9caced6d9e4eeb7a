// The search of the list of all pieces: without it, the list is simply whole.
const form = document.querySelector("[data-search]");
const items = [...document.querySelectorAll("[data-words]")];
const groups = [...document.querySelectorAll("[data-group]")];
const count = form.querySelector("output");
const input = form.querySelector("input");

/** Words as they are compared: without capitals and accents. */
function folded(text) {
  return text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
}

const texts = items.map((item) => folded(item.textContent + " " + item.dataset.words));

function search() {
  const words = folded(input.value).split(/\s+/).filter(Boolean);
  let shown = 0;
  items.forEach((item, at) => {
    item.hidden = !words.every((word) => texts[at].includes(word));
    shown += !item.hidden;
  });
  groups.forEach((group) => { group.hidden = !group.querySelector("[data-words]:not([hidden])"); });
  const sentence = count.dataset[shown === 0 ? "none" : shown === 1 ? "one" : "many"];
  count.textContent = words.length ? sentence.replace("{count}", shown) : "";
}

form.hidden = false;
form.addEventListener("submit", (event) => event.preventDefault());
input.addEventListener("input", search);
const asked = new URLSearchParams(location.search).get("q");
if (asked) input.value = asked;
search();
