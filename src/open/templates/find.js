// Makes the list swift: a link or the form brings the new list alone, and the address keeps the choice.
const found = document.querySelector("#found");
let wanted = 0;

function part(address) {
  const url = new URL(address, location.href);
  url.searchParams.set("part", "list");
  return url;
}

const FIELDS = ["player", "text"];
const values = () => FIELDS.map((id) => document.getElementById(id).value);

async function show(address) {
  const mine = ++wanted, asked = values();
  const answer = await fetch(part(address));
  const text = await answer.text();
  // A later wish has overtaken this one.
  if (mine !== wanted) return;
  if (!answer.ok) return location.assign(address);
  // What was unfolded, typed or gone to meanwhile stays so.
  const unfolded = [...found.querySelectorAll("details[open]")].map((fold) => fold.parentElement.firstElementChild.id);
  const typed = values(), active = found.contains(document.activeElement) ? document.activeElement : null;
  const key = active?.id || active?.dataset.key;
  found.innerHTML = text;
  for (const id of unfolded) document.getElementById(id)?.parentElement.querySelector("details")?.setAttribute("open", "");
  FIELDS.forEach((id, index) => {
    if (typed[index] !== asked[index]) document.getElementById(id).value = typed[index];
  });
  const same = key && (document.getElementById(key) ?? found.querySelector(`[data-key="${CSS.escape(key)}"]`));
  (same || document.querySelector("#list-title")).focus({ preventScroll: !!same });
}

function go(address) {
  history.pushState(null, "", address);
  show(address);
}

found.addEventListener("click", (event) => {
  const link = event.target.closest("a[data-key]");
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey || event.button) return;
  event.preventDefault();
  go(link.href);
});
// Keeps or drops a game and brings the list as it is then; whatever else comes of it is shown as a page.
async function keep(form, button) {
  const body = new URLSearchParams(new FormData(form, button));
  const answer = await fetch("/plan", { method: "POST", body });
  if (answer.ok) return show(location.href, button.dataset.key);
  document.documentElement.replaceWith(new DOMParser().parseFromString(await answer.text(), "text/html").documentElement);
}

found.addEventListener("submit", (event) => {
  // The whole page comes anew.
  if (event.target.matches(".beginning")) return;
  event.preventDefault();
  if (event.target.matches(".keeping")) return keep(event.target, event.submitter);
  const words = new URLSearchParams(new FormData(event.target));
  for (const [word, value] of [...words]) if (!value) words.delete(word, value);
  go(`/?${words}`);
});
found.addEventListener("change", ({ target }) => target.id === "order" && target.form.requestSubmit());
addEventListener("popstate", () => show(location.href));
