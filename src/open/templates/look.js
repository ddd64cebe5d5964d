// Asks what the position on the board is worth, and goes to the hits before and after this one.
const { start, lines } = JSON.parse(document.querySelector("#positions").textContent);
const game = document.querySelector("#game"), answer = document.querySelector("#answer");
const ask = document.querySelector("#ask"), stop = document.querySelector("#stop");
let asked = 0;

// The position that the board shows, and the move that was made there.
function shown() {
  const { line, at } = game.querySelector("[data-at][aria-current=step]")?.dataset ?? { line: 0, at: 0 };
  const { from, fens, moves } = lines[line], own = at - from;
  return { fen: own > 0 ? fens[own - 1] : start, next: moves[own] ?? "" };
}

function say(sentences) {
  answer.replaceChildren(...sentences.map((sentence) => Object.assign(document.createElement("p"), { textContent: sentence })));
}

const send = (path, words) => fetch(path, { method: "POST", body: new URLSearchParams(words) });

async function begin() {
  const where = game.querySelector(".now").textContent, mine = ++asked;
  stop.hidden = false;
  say([`${where}: looking.`]);
  try {
    const { number } = await (await send("/worth", shown())).json();
    for (let isDone = false; !isDone && mine === asked;) {
      await new Promise((wake) => setTimeout(wake, 250));
      const heard = await fetch(`/worth?number=${number}`);
      if (!heard.ok || mine !== asked) break;
      const { says, is_done } = await heard.json();
      isDone = is_done;
      say([`${where}:`, ...says, ...(isDone ? [] : ["Looking further."])]);
    }
  } catch {
    if (mine === asked) say(["The program does not answer."]);
  }
  if (mine === asked) end();
}

function end() {
  if (document.activeElement === stop) ask.focus();
  stop.hidden = true;
  if (answer.lastChild?.textContent === "Looking further.") answer.lastChild.textContent = "Stopped.";
}

ask.addEventListener("click", begin);
stop.addEventListener("click", () => {
  asked++;
  send("/worth/stop", {});
  end();
});
addEventListener("pagehide", () => asked && !stop.hidden && navigator.sendBeacon("/worth/stop"));
document.querySelector("#worth").hidden = false;

// The letters work where the arrow keys do: on the board and what belongs to it.
game.addEventListener("keydown", (event) => {
  const rel = { n: "next", p: "prev" }[event.key];
  const link = rel && !event.ctrlKey && !event.altKey && !event.metaKey && document.querySelector(`.around [rel=${rel}]`);
  if (link) link.click();
});
