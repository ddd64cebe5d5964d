// Makes the plan swift: a form brings the new page without leaving it, and entries can be dragged and moved with keys.
// Without this script every form works by itself.
const main = document.querySelector("main");
let busy = false, working = 0;

function keyOf(element) {
  const entry = element?.closest("[data-entry]");
  return {
    id: element?.id,
    key: element?.dataset.key ?? element?.value,
    entry: entry?.dataset.entry,
    list: entry?.parentElement.dataset.do,
  };
}

function refocus({ id, key, entry, list }) {
  const escaped = CSS.escape(entry ?? "");
  const item = entry && main.querySelector(`[data-do="${list}"] > [data-entry="${escaped}"]`);
  const buttons = [...(item ?? main).querySelectorAll("button")];
  const same = (id && document.getElementById(id)) ||
    buttons.find((one) => (one.dataset.key ?? one.value) === key && !one.disabled && (item || one.dataset.key));
  const other = item?.querySelector("button:not(:disabled), a");
  (same && !same.disabled ? same : other ?? main.querySelector("#undo:not(:disabled), h1"))?.focus({ preventScroll: !!item });
}

async function send(form, submitter) {
  if (busy) return;
  busy = true;
  main.setAttribute("aria-busy", "true");
  const focus = keyOf(submitter ?? document.activeElement);
  const unfolded = [...main.querySelectorAll("details[open]")].map(nameOf);
  try {
    const body = form instanceof URLSearchParams ? form : new URLSearchParams(new FormData(form, submitter));
    const answer = await fetch("/plan", { method: "POST", body, signal: toldAsLong().signal });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const fresh = page.querySelector("main");
    if (!fresh) return location.assign("/plan");
    main.replaceChildren(...fresh.childNodes);
    if (answer.redirected) history.replaceState(null, "", answer.url);
    for (const fold of main.querySelectorAll("details")) if (unfolded.includes(nameOf(fold))) fold.open = true;
    document.dispatchEvent(new Event("fresh"));
    refocus(focus);
    const told = document.getElementById("told"), what = main.querySelector(".undoing .what");
    if (told && what) told.textContent = answer.ok ? `Saved. ${what.textContent}` : "";
  } catch {
    // Stopped, or the program has ended: what was done is seen on the page as it is now.
    location.reload();
  } finally {
    clearInterval(working);
    document.getElementById("working")?.remove();
    busy = false;
    main.removeAttribute("aria-busy");
  }
}

// What takes longer than a moment says how long already, and is stopped at a click: nothing is changed then.
function toldAsLong() {
  const controller = new AbortController(), begun = Date.now();
  working = setInterval(() => {
    let bar = document.getElementById("working");
    if (!bar) {
      bar = Object.assign(document.createElement("p"), { id: "working" });
      const told = Object.assign(document.createElement("span"), { textContent: "It is being made." });
      told.setAttribute("role", "status");
      const stop = Object.assign(document.createElement("button"), { type: "button", textContent: "Stop" });
      stop.addEventListener("click", () => controller.abort());
      bar.append(told, " ", document.createElement("span"), " ", stop);
      bar.children[1].setAttribute("aria-hidden", "true");
      main.append(bar);
    }
    bar.children[1].textContent = `${Math.round((Date.now() - begun) / 1000)} s so far.`;
  }, 1000);
  return controller;
}

const nameOf = (fold) => fold.id || `${fold.closest("[id]")?.id} ${fold.className}`;

main.addEventListener("submit", (event) => {
  // A board that is in use would not survive: the whole page comes anew.
  if (!event.target.matches("form[data-swift]") || main.querySelector("article.game")) return;
  event.preventDefault();
  send(event.target, event.submitter);
});

// Moves an entry to stand after another, or first.
function move(item, to) {
  const form = new URLSearchParams(new FormData(item.querySelector("form.acts")));
  form.delete("to");
  form.set("to", to);
  send(form, item.querySelector("form.acts button"));
}

main.addEventListener("keydown", (event) => {
  const item = event.target.closest("[data-entry]");
  const step = { ArrowUp: "up", ArrowDown: "down" }[event.key];
  if (!item || !step || !event.altKey || event.target.matches("input, textarea, select")) return;
  event.preventDefault();
  item.querySelector(`form.acts [data-key="${step}"]:not(:disabled)`)?.click();
});

// Ctrl+Z and Ctrl+Shift+Z, where they do not belong to what is being written.
addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z") return;
  if (event.target.matches("input, textarea, select")) return;
  event.preventDefault();
  document.getElementById(event.shiftKey ? "redo" : "undo")?.click();
});

let dragged = null;
const siblings = (item) => dragged && item && item !== dragged && item.parentElement === dragged.parentElement;

function makeDraggable() {
  for (const item of main.querySelectorAll(".entries > [data-entry]")) item.draggable = true;
  const which = document.getElementById("at-which"), text = document.getElementById("at-text");
  if (which && text) {
    const fill = () => { text.value = which.selectedOptions[0]?.dataset.text ?? ""; };
    which.addEventListener("change", fill);
    fill();
  }
}

main.addEventListener("dragstart", (event) => {
  // Text is selected and links are dragged as everywhere.
  if (event.target.matches?.("a")) return;
  dragged = event.target.closest?.("[data-entry]");
  if (!dragged) return;
  event.stopPropagation();
  event.dataTransfer.effectAllowed = "move";
  event.dataTransfer.setData("text/plain", "");
  dragged.classList.add("dragged");
});
const over = (item) => main.querySelectorAll(".over").forEach((one) => one.classList.toggle("over", one === item));
main.addEventListener("dragover", (event) => {
  let item = event.target.closest?.("[data-entry]");
  while (item && !siblings(item)) item = item.parentElement.closest("[data-entry]");
  over(item);
  if (!item) return;
  item.classList.add("over");
  event.preventDefault();
});
main.addEventListener("drop", (event) => {
  const item = main.querySelector(".over");
  if (!item || !dragged) return;
  event.preventDefault();
  // It comes to stand before the one it was dropped on.
  let before = item.previousElementSibling;
  if (before === dragged) before = before.previousElementSibling;
  move(dragged, before ? before.dataset.entry : "first");
});
main.addEventListener("dragend", () => { over(null); dragged?.classList.remove("dragged"); dragged = null; });

// A step on the board, or a click on a move, chooses the move to write at.
main.addEventListener("click", (event) => {
  const ply = event.target.closest(".ply[data-line='0']"), which = document.getElementById("at-which");
  if (!ply || !which) return;
  const plies = [...main.querySelectorAll(".ply[data-line='0']")];
  which.selectedIndex = plies.indexOf(ply);
  which.dispatchEvent(new Event("change"));
});

document.addEventListener("fresh", makeDraggable);
makeDraggable();
