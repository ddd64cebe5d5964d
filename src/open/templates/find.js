// Makes the list swift: a link or the form brings the new list alone, and the address keeps the choice.
const found = document.querySelector("#found");
let wanted = 0;

function part(address) {
  const url = new URL(address, location.href);
  url.searchParams.set("part", "list");
  return url;
}

async function show(address, focus) {
  const mine = ++wanted;
  const answer = await fetch(part(address));
  const text = await answer.text();
  // A later wish has overtaken this one.
  if (mine !== wanted) return;
  if (!answer.ok) return location.assign(address);
  const unfolded = [...found.querySelectorAll("details[open]")].map((fold) => fold.parentElement.firstElementChild.id);
  found.innerHTML = text;
  for (const id of unfolded) document.getElementById(id)?.parentElement.querySelector("details")?.setAttribute("open", "");
  const same = focus && (document.getElementById(focus) ?? found.querySelector(`[data-key="${CSS.escape(focus)}"]`));
  (same ?? document.querySelector("#list-title")).focus({ preventScroll: !!same });
}

function go(address, focus) {
  history.pushState(null, "", address);
  show(address, focus);
}

found.addEventListener("click", (event) => {
  const link = event.target.closest("a[data-key]");
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey || event.button) return;
  event.preventDefault();
  go(link.href, link.dataset.key);
});
// Keeps or drops a game and brings the list as it is then; whatever else comes of it is shown as a page.
async function keep(form, button) {
  const body = new URLSearchParams(new FormData(form, button));
  const answer = await fetch("/plan", { method: "POST", body });
  if (answer.ok) return show(location.href, button.dataset.key);
  document.documentElement.replaceWith(new DOMParser().parseFromString(await answer.text(), "text/html").documentElement);
}

found.addEventListener("submit", (event) => {
  event.preventDefault();
  if (event.target.matches(".keeping")) return keep(event.target, event.submitter);
  const words = new URLSearchParams(new FormData(event.target));
  for (const [word, value] of [...words]) if (!value) words.delete(word, value);
  go(`/?${words}`, document.activeElement.id);
});
found.addEventListener("change", ({ target }) => target.id === "order" && target.form.requestSubmit());
addEventListener("popstate", () => show(location.href));
