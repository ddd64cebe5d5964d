"use strict";
// Draws each board anew from the placement of its men; the static diagram is the first of them.
const NAMES = { k: "king", q: "queen", r: "rook", b: "bishop", n: "knight", p: "pawn" };

function menOf(placement) {
  const men = [];
  placement.split("/").forEach((rank, row) => {
    let file = 0;
    for (const sign of rank) {
      if (sign > "0" && sign < "9") file += +sign;
      else {
        const small = sign.toLowerCase();
        men.push({ side: sign === small ? "black" : "white", name: NAMES[small], file: file++, row });
      }
    }
  });
  return men;
}

function inWords(men) {
  return ["white", "black"].map((side) => side + ": " + men.filter((man) => man.side === side)
    .map((man) => man.name + " " + "abcdefgh"[man.file] + (8 - man.row)).join(", ")).join("; ") + ".";
}

function board(game) {
  const data = JSON.parse(game.querySelector("script").textContent);
  const drawing = game.querySelector(".board svg"), part = (name) => drawing.querySelector("." + name);
  const [men, lines, dots, turn] = ["men", "lines", "dots", "turn"].map(part);
  const words = drawing.querySelector("desc"), first = [men, lines, dots].map((group) => group.innerHTML);
  const firstWords = words.textContent, now = game.querySelector(".now");
  const plies = game.querySelectorAll(".beside .ply"), last = data.moves.length;
  let at = 0;

  const place = (file, row) => data.turned ? [7 - file, 7 - row] : [file, row];
  const middle = (square) =>
    place("abcdefgh".indexOf(square[0]), 8 - square[1]).map((step) => 100 * step + 50);

  function draw(placement, way) {
    const all = menOf(placement);
    men.replaceChildren(...all.map((man) => {
      const use = document.createElementNS(drawing.namespaceURI, "use");
      const [x, y] = place(man.file, man.row);
      use.setAttribute("href", `#man-${man.side}-${man.name}`);
      use.setAttribute("x", 100 * x);
      use.setAttribute("y", 100 * y);
      return use;
    }));
    const [[x, y], [u, v]] = [middle(way.slice(0, 2)), middle(way.slice(2))];
    const length = Math.hypot(u - x, v - y) || 1;
    const end = [u - 45 * (u - x) / length, v - 45 * (v - y) / length].map(Math.round);
    for (const line of lines.children) line.setAttribute("d", `M${x} ${y}L${end.join(" ")}`);
    for (const dot of dots.children) [dot.cx, dot.cy].forEach((axis, i) => axis.baseVal.value = end[i]);
    words.textContent = inWords(all);
  }

  function go(to) {
    at = Math.max(0, Math.min(last, to));
    if (at) draw(data.moves[at - 1][1], data.moves[at - 1][2]);
    else {
      [men, lines, dots].forEach((group, i) => group.innerHTML = first[i]);
      words.textContent = firstWords;
    }
    turn.style.visibility = at ? "hidden" : "";
    now.textContent = at ? `${data.moves[at - 1][0]} (${at} of ${last})` : "Before the offer";
    plies.forEach((ply) => ply.toggleAttribute("aria-current", +ply.dataset.at === at));
    for (const button of game.querySelectorAll("[data-go]"))
      button.setAttribute("aria-disabled", at === (/first|back/.test(button.dataset.go) ? 0 : last));
  }

  const moves = { first: () => go(0), back: () => go(at - 1), on: () => go(at + 1), last: () => go(last) };
  const keys = { Home: "first", ArrowLeft: "back", ArrowRight: "on", End: "last" };
  const figure = game.querySelector(".board");
  figure.tabIndex = 0;
  figure.setAttribute("role", "group");
  figure.setAttribute("aria-label", "Board; the arrow keys step through the moves");
  game.addEventListener("keydown", (event) => {
    if (!keys[event.key] || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    moves[keys[event.key]]();
  });
  game.addEventListener("click", (event) => {
    const to = event.target.closest("[data-go], .ply");
    if (to) to.dataset.go ? moves[to.dataset.go]() : go(+to.dataset.at);
  });
  let start = 0;
  figure.addEventListener("pointerdown", (event) => start = event.clientX);
  figure.addEventListener("pointerup", (event) => {
    const way = event.clientX - start;
    if (Math.abs(way) > 30) moves[way < 0 ? "on" : "back"]();
  });
  addEventListener("beforeprint", () => go(0));
  game.querySelector(".steps").hidden = false;
  go(0);
}

document.querySelectorAll(".game").forEach(board);
document.querySelectorAll(".moving").forEach((hint) => hint.hidden = false);
addEventListener("beforeprint", () => {
  for (const fold of document.querySelectorAll(".tree details")) fold.open = true;
});
