"use strict";
// Redraws each board from the placement of its men; the static diagram is the first of them.
// What is said in the language of the page; a gap in it is a name in braces.
const WORDS = JSON.parse(document.getElementById("words").textContent);
const filled = (text, values) => text.replace(/\{(\w+)\}/g, (_, name) => values[name]);
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
  const list = (all) => all[1] ? filled(WORDS.list, { first: all.slice(0, -1).join(", "), last: all.at(-1) }) : all[0];
  const told = (side, i) => filled(WORDS.sides[i], { men: Object.entries(NAMES).flatMap(([sign, name]) => {
    const squares = men.filter((man) => man.name === name && man.side === side)
      .map((man) => "abcdefgh"[man.file] + (8 - man.row)).sort();
    return squares.length ? filled(WORDS.men[sign][+!!squares[1]], { squares: list(squares) }) : [];
  }).join(", ") });
  return `${["white", "black"].map(told).join("; ")}; ${WORDS.turns[turn]}.`;
}

function board(game) {
  const find = (selector) => game.querySelector(selector);
  const { turned, start, opened, lines: all } = JSON.parse(find("script").textContent);
  // The moves of a line from the start of the game on: those of the line it leaves, up to there, and its own.
  const whole = ({ of, from, moves }) => of === null ? moves : [...whole(all[of]).slice(0, from), ...moves];
  const lines = all.map(whole);
  const figure = find(".board"), words = find("desc"), title = find("title");
  // A diagram without a line has no room for one.
  const room = (name) => find(name) ?? find(".men").cloneNode();
  const parts = [".men", ".lines", ".dots"].map(room), [men, ways, dots] = parts;
  const still = [...parts, words, title], first = still.map((part) => part.innerHTML);
  let line = 0, at = opened, down = 0;

  const place = (file, row) => turned ? [7 - file, 7 - row] : [file, row];
  const middle = ([file, rank]) => place("abcdefgh".indexOf(file), 8 - rank).map((step) => 100 * step + 50);

  function drawn(man) {
    const use = document.createElementNS(men.namespaceURI, "use"), [x, y] = place(man.file, man.row);
    const attributes = { href: `#man-${man.side}-${man.name}`, x: 100 * x, y: 100 * y };
    for (const name in attributes) use.setAttribute(name, attributes[name]);
    return use;
  }

  function draw([move, placement, way]) {
    const all = menOf(placement);
    men.replaceChildren(...all.map(drawn));
    [ways, dots].forEach((part) => part.style.visibility = way ? "" : "hidden");
    words.textContent = inWords(all, (move || lines[0][0][0]).includes("…") === !!move ? 0 : 1);
    const number = /^game-(\d+)$/.exec(game.id)?.[1];
    if (number) title.textContent = filled(move ? WORDS.titleAfter : WORDS.titleAtStart, { number, move });
    if (!way) return;
    const [x, y] = middle(way), [u, v] = middle(way.slice(2));
    const part = 1 - 45 / (Math.hypot(u - x, v - y) || 1);
    const end = [x + part * (u - x), y + part * (v - y)].map(Math.round);
    for (const line of ways.children) line.setAttribute("d", `M${x} ${y}L${end.join(" ")}`);
    for (const { cx, cy } of dots.children) [cx, cy].forEach((axis, i) => axis.baseVal.value = end[i]);
  }

  function go(to, on = line) {
    // Before its first own move a line is the one that it leaves.
    line = on;
    while (line && to <= all[line].from) line = all[line].of;
    const moves = lines[line], last = moves.length;
    at = Math.max(0, Math.min(last, to));
    const isOpened = !line && at === opened;
    if (isOpened) {
      [ways, dots].forEach((part) => part.style.visibility = "");
      still.forEach((part, i) => part.innerHTML = first[i]);
    } else draw(at ? moves[at - 1] : ["", start, null]);
    find(".turn").style.visibility = isOpened ? "" : "hidden";
    find(".now").textContent = isOpened && "start" in game.dataset ? game.dataset.start
      : at ? filled(WORDS.at, { move: moves[at - 1][0], at, last }) : WORDS.start;
    game.querySelectorAll("[data-at]").forEach((ply) =>
      ply.ariaCurrent = ply.dataset.line == line && ply.dataset.at == at ? "step" : null);
    game.querySelectorAll("[data-go]").forEach((button) =>
      button.ariaDisabled = button.dataset.go === "opened" ? isOpened : at === (/first|back/.test(button.dataset.go) ? 0 : last));
  }

  const steps = { first: () => go(0), back: () => go(at - 1), opened: () => go(opened, 0), on: () => go(at + 1), last: () => go(lines[line].length) };
  const keys = { Home: "first", ArrowLeft: "back", ArrowUp: "opened", ArrowRight: "on", End: "last" };
  game.addEventListener("keydown", (event) => {
    if (!keys[event.key] || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    steps[keys[event.key]]();
  });
  game.addEventListener("click", ({ target }) => {
    const { go: way, at: to, line: on } = target.closest("[data-go], [data-at]")?.dataset ?? {};
    if (way) steps[way]();
    else if (to) go(+to, +on);
  });
  figure.onpointerdown = (event) => down = event.clientX;
  figure.onpointerup = (event) => {
    const sweep = event.clientX - down;
    if (Math.abs(sweep) > 30) go(at - Math.sign(sweep));
  };
  figure.tabIndex = 0;
  figure.role = "group";
  figure.ariaLabel = WORDS.board;
  addEventListener("beforeprint", () => go(opened, 0));
  find(".steps").hidden = false;
  go(opened);
}

each(".game", board);
each(".moving", (hint) => hint.hidden = false);
addEventListener("beforeprint", () => each(".tree details", (fold) => fold.open = true));
