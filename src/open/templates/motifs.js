// Tells what is wrong while a motif is written, and what it finds. Without this script the buttons do both.
const form = document.getElementById("motif"), tried = document.getElementById("tried");
const stopIt = document.getElementById("stop-trial"), told = document.getElementById("trial-told");
let wanted = 0, waiting = 0, trial = 0;

function words(act) {
  const body = new URLSearchParams(new FormData(form));
  body.delete("do");
  body.set("do", act);
  return body;
}

const send = (body) => fetch("/motifs", { method: "POST", body });

async function look() {
  const mine = ++wanted;
  const answer = await send(words("told")).catch(() => null);
  if (!answer?.ok || mine !== wanted) return;
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const of = (name) => page.querySelector(`[data-for="${name}"]`);
  for (const place of form.querySelectorAll(".faults")) {
    const key = place.id.slice("fault-".length), fault = of(key);
    place.replaceChildren(...(fault?.childNodes ?? []));
    const field = document.getElementById(`field-${key}`);
    if (fault) field?.setAttribute("aria-invalid", "true");
    else field?.removeAttribute("aria-invalid");
    if (fault) place.closest("details")?.setAttribute("open", "");
  }
  const board = of("board"), seen = document.getElementById("seen-board");
  // The last board stays while something is not understood.
  if (board) seen.replaceChildren(...board.childNodes);
  seen.classList.toggle("old", !board);
  document.getElementById("seen-file").textContent = of("file").textContent;
}

form.addEventListener("input", () => {
  clearTimeout(waiting);
  waiting = setTimeout(look, 250);
});

async function tryOut() {
  const mine = ++trial;
  await look();
  const answer = await send(new URLSearchParams([...words("try"), ["script", "yes"]]));
  if (mine !== trial) return;
  if (!answer.ok) {
    tried.replaceChildren(Object.assign(document.createElement("p"), { textContent: "Something is not understood yet: it is told under the words." }));
    return form.querySelector("[aria-invalid=true]")?.focus();
  }
  const { number } = await answer.json();
  stopIt.hidden = false;
  for (let isDone = false; !isDone && mine === trial;) {
    const heard = await fetch(`/motifs/tried?number=${number}`);
    if (!heard.ok || mine !== trial) break;
    tried.innerHTML = await heard.text();
    isDone = tried.firstElementChild?.dataset.done === "yes";
    if (!isDone) await new Promise((wake) => setTimeout(wake, 300));
  }
  if (mine === trial) end();
}

function end() {
  if (document.activeElement === stopIt) document.getElementById("try").focus();
  stopIt.hidden = true;
  told.textContent = tried.querySelector("p")?.textContent ?? "";
}

form.addEventListener("submit", (event) => {
  if (event.submitter?.id !== "try") return;
  event.preventDefault();
  tryOut().catch(() => { tried.textContent = "The program does not answer."; });
});
// The server tells what was found once more, and that it was stopped.
stopIt.addEventListener("click", () => fetch("/motifs/stop", { method: "POST" }));
addEventListener("pagehide", () => stopIt.hidden || navigator.sendBeacon("/motifs/stop"));
document.getElementById("look").hidden = true;
