"use strict";
// Redraws each board from the placement of its men; the static diagram is the first of them.
const NAMES = { k: "king", q: "queen", r: "rook", b: "bishop", n: "knight", p: "pawn" };
const each = (selector, act) => document.querySelectorAll(selector).forEach(act);

function menOf(placement) {
  return placement.split("/").flatMap((rank, row) =>
    [...rank.replace(/\d/g, (empty) => " ".repeat(empty))].map((sign, file) => {
      const small = sign.toLowerCase(), side = sign === small ? "black" : "white";
      return { side, name: NAMES[small], file, row };
    })).filter((man) => man.name);
}

// As the static diagram says it: by worth, each sort from the a-file and the first rank on.
function inWords(men, turn) {
  const list = (all) => all.join(", ").replace(/, ([^,]*)$/, " and $1");
  const told = (side) => Object.values(NAMES).flatMap((name) => {
    const squares = men.filter((man) => man.name === name && man.side === side.toLowerCase())
      .map((man) => "abcdefgh"[man.file] + (8 - man.row)).sort();
    return squares.length ? `${name}${squares[1] ? "s" : ""} ${list(squares)}` : [];
  }).join(", ");
  return `White: ${told("White")}; Black: ${told("Black")}; ${turn} to move.`;
}

function board(game) {
  const find = (selector) => game.querySelector(selector);
  const { turned, moves } = JSON.parse(find("script").textContent), last = moves.length;
  const figure = find(".board"), words = find("desc"), title = find("title");
  // A diagram without a line has no room for one.
  const room = (name) => find(name) ?? find(".men").cloneNode();
  const parts = [".men", ".lines", ".dots"].map(room), [men, lines, dots] = parts;
  const still = [...parts, words, title], first = still.map((part) => part.innerHTML);
  let at = 0, down = 0;

  const place = (file, row) => turned ? [7 - file, 7 - row] : [file, row];
  const middle = ([file, rank]) => place("abcdefgh".indexOf(file), 8 - rank).map((step) => 100 * step + 50);

  function drawn(man) {
    const use = document.createElementNS(men.namespaceURI, "use"), [x, y] = place(man.file, man.row);
    const attributes = { href: `#man-${man.side}-${man.name}`, x: 100 * x, y: 100 * y };
    for (const name in attributes) use.setAttribute(name, attributes[name]);
    return use;
  }

  function draw([move, placement, way]) {
    const all = menOf(placement), [x, y] = middle(way), [u, v] = middle(way.slice(2));
    const part = 1 - 45 / (Math.hypot(u - x, v - y) || 1);
    const end = [x + part * (u - x), y + part * (v - y)].map(Math.round);
    men.replaceChildren(...all.map(drawn));
    for (const line of lines.children) line.setAttribute("d", `M${x} ${y}L${end.join(" ")}`);
    for (const { cx, cy } of dots.children) [cx, cy].forEach((axis, i) => axis.baseVal.value = end[i]);
    words.textContent = inWords(all, move.includes("…") ? "White" : "Black");
    title.textContent = first.at(-1).replace("before the offer", `after ${move}`);
  }

  function go(to) {
    at = Math.max(0, Math.min(last, to));
    if (at) draw(moves[at - 1]);
    else still.forEach((part, i) => part.innerHTML = first[i]);
    find(".turn").style.visibility = at ? "hidden" : "";
    find(".now").textContent = at ? `${moves[at - 1][0]} (${at} of ${last})` : game.dataset.start ?? "Before the offer";
    game.querySelectorAll("[data-at]").forEach((ply) =>
      ply.ariaCurrent = ply.dataset.at == at ? "step" : null);
    game.querySelectorAll("[data-go]").forEach((button) =>
      button.ariaDisabled = at === (/first|back/.test(button.dataset.go) ? 0 : last));
  }

  const ways = { first: () => 0, back: () => at - 1, on: () => at + 1, last: () => last };
  const keys = { Home: "first", ArrowLeft: "back", ArrowRight: "on", End: "last" };
  game.addEventListener("keydown", (event) => {
    if (!keys[event.key] || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    go(ways[keys[event.key]]());
  });
  game.addEventListener("click", ({ target }) => {
    const { go: way, at: to } = target.closest("[data-go], [data-at]")?.dataset ?? {};
    if (way || to) go(way ? ways[way]() : +to);
  });
  figure.onpointerdown = (event) => down = event.clientX;
  figure.onpointerup = (event) => {
    const sweep = event.clientX - down;
    if (Math.abs(sweep) > 30) go(at - Math.sign(sweep));
  };
  figure.tabIndex = 0;
  figure.role = "group";
  figure.ariaLabel = "Board; the arrow keys step through the moves";
  addEventListener("beforeprint", () => go(0));
  find(".steps").hidden = false;
  go(0);
}

each(".game", board);
each(".moving", (hint) => hint.hidden = false);
addEventListener("beforeprint", () => each(".tree details", (fold) => fold.open = true));
