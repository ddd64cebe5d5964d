// Opens a lesson and other pages (sheets of exercises, a course) in a real browser and uses them as a reader
// would.
//
//   node pages.mjs PICTURES LESSON.html PAGE.html...
//
// Screenshots and prints go to the folder PICTURES, to be looked at.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { basename, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

const [pictures, lesson, ...others] = process.argv.slice(2);
const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
const WIDTHS = [360, 1024];

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync"],
});

/** Opens a page that must not fail nor fetch anything, hands it on, and checks that it did not. */
async function opened(path, options, use) {
  const context = await browser.newContext(options), page = await context.newPage();
  const url = pathToFileURL(resolve(path)).href, faults = [];
  page.on("console", (message) => faults.push(`console: ${message.text()}`));
  page.on("pageerror", (error) => faults.push(`error: ${error}`));
  page.on("request", (request) => {
    if (request.url().split("#")[0] !== url) faults.push(`request: ${request.url()}`);
  });
  await page.goto(url);
  await use(page);
  assert.deepEqual(faults, [], path);
  await context.close();
}

const picture = (path, name) => join(pictures, `${basename(path, ".html")}-${name}`);
const width = (px) => ({ viewport: { width: px, height: px < 500 ? 740 : 900 } });

/** Nothing that an automated check of accessibility finds, and nothing wider than the window. */
async function accessible(path, options) {
  await opened(path, options, async (page) => {
    const { width } = options.viewport, name = `${width}-${options.colorScheme}`;
    assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), width, name);
    // What is folded or hidden is read too.
    await page.evaluate(() => document.querySelectorAll("details").forEach((fold) => fold.open = true));
    await page.evaluate(AXE);
    const found = await page.evaluate((rules) =>
      axe.run({ runOnly: rules }).then(({ violations, passes }) => ({
        passed: passes.length,
        violations: violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 200))}`),
      })), RULES);
    assert.deepEqual(found.violations, [], `${path} at ${name}`);
    assert.ok(found.passed > 20, `axe had ${found.passed} rules to try`);
    await page.screenshot({ path: picture(path, `${name}.png`), fullPage: true });
  });
}

/** What is printed is the whole of it: no drawing may be cut, nothing stays folded. */
async function printed(path) {
  for (const format of ["A4", "Letter"]) {
    await opened(path, width(1024), async (page) => {
      await page.emulateMedia({ media: "print" });
      const cut = await page.evaluate(() => [...document.querySelectorAll("svg[role=img]")]
        .filter((drawing) => drawing.checkVisibility())
        .filter((drawing) => {
          for (let part = drawing; part; part = part.parentElement) {
            if (getComputedStyle(part).breakInside.startsWith("avoid")) return false;
          }
          return true;
        }).length);
      assert.equal(cut, 0, "drawings that a page's end may cut");
      const apart = await page.evaluate(() => [...document.querySelectorAll("#solutions:not(.key), .solutions")]
        .every((answers) => getComputedStyle(answers).breakBefore === "page"));
      assert.ok(apart, "solutions on a page of their own");
      const pdf = await page.pdf({ format, path: picture(path, `${format}.pdf`), preferCSSPageSize: false });
      assert.ok(pdf.length > 10_000, `${pdf.length} bytes printed`);
    });
  }
}

/** The men of a drawn board as in a FEN, read off the drawing. */
const placement = (game) => game.evaluate((article) => {
  const { turned } = JSON.parse(article.querySelector("script").textContent);
  const board = Array.from({ length: 8 }, () => Array(8).fill(1));
  for (const use of article.querySelectorAll(".men use")) {
    const [, side, name] = /man-(\w+)-(\w+)$/.exec(use.getAttribute("href"));
    const [file, row] = ["x", "y"].map((axis) => use.getAttribute(axis) / 100).map((at) => turned ? 7 - at : at);
    const letter = name === "knight" ? "n" : name[0];
    board[row][file] = side === "white" ? letter.toUpperCase() : letter;
  }
  return board.map((rank) => rank.join("").replace(/1+/g, (ones) => ones.length)).join("/");
});

/** A finger that goes from one point to another. */
async function touched(page, [fromX, fromY], [toX, toY]) {
  const session = await page.context().newCDPSession(page);
  const touch = (type, ...points) => session.send("Input.dispatchTouchEvent", {
    type, touchPoints: points.map(([x, y]) => ({ x, y })),
  });
  await touch("touchStart", [fromX, fromY]);
  for (const part of [0.3, 0.6, 1]) {
    await touch("touchMove", [fromX + part * (toX - fromX), fromY + part * (toY - fromY)]);
  }
  await touch("touchEnd");
  await session.detach();
}

/** Steps into what else could have been played, and back out of it. */
async function branched(game, lines, at) {
  for (const [line, { of, from, moves }] of lines.entries()) {
    if (of !== 0) continue;
    await game.locator(`[data-line="${line}"]`).last().click();
    assert.equal(await placement(game), moves.at(-1)[1], `the end of line ${line}`);
    assert.equal(await game.locator("[aria-current]").count(), 1);
    for (let left = moves.length; left; left--) await game.getByRole("button", { name: "Back" }).click({ force: true });
    await at(from, `out of line ${line}`);
  }
}

/** Steps through every model game by buttons, keys, moves and sweeps. */
async function stepped(path) {
  await opened(path, { ...width(1024), hasTouch: true }, async (page) => {
    const games = await page.locator(".game").all();
    assert.ok(games.length >= 6, `${games.length} games`);
    for (const game of games) {
      const { start, opened, lines } = JSON.parse(await game.locator("script").textContent()), { moves } = lines[0];
      const now = game.locator(".now"), press = (name) => game.getByRole("button", { name }).click({ force: true });
      const at = async (index, how) => {
        const expected = index ? moves[index - 1][1] : start, isOpened = index === opened;
        assert.equal(await placement(game), expected, `${how}, ply ${index}`);
        const said = index ? `${moves[index - 1][0]} (${index} of ${moves.length})` : "The start of the game";
        assert.equal(await now.textContent(), isOpened ? "Before the offer" : said);
        assert.equal(await game.locator('[aria-current="step"]').count(), Math.min(index, 1));
        assert.equal(await game.locator("[aria-current]").count(), Math.min(index, 1));
        const title = await game.locator(".board title").textContent();
        assert.ok(title.endsWith(isOpened ? "before the offer" : index ? `after ${moves[index - 1][0]}` : "at the start"), title);
        const turn = (index ? moves[index - 1][0] : "…".repeat(!moves[0][0].includes("…"))).includes("…") ? "White" : "Black";
        assert.ok((await game.locator(".board desc").textContent()).includes(`; ${turn} to move`), `ply ${index}`);
      };
      await at(opened, "opened");
      await press("First");
      await at(0, "at the start");
      for (let index = 1; index <= moves.length; index++) {
        await press("Next");
        await at(index, "next");
      }
      await press("Next");
      await at(moves.length, "next at the end");
      await press("Back");
      await at(moves.length - 1, "back");
      await press("Offer");
      await at(opened, "the offer");
      await press("Last");
      await at(moves.length, "last");
      const board = game.locator(".board");
      await board.focus();
      for (const [key, index] of [["Home", 0], ["ArrowLeft", 0], ["ArrowRight", 1], ["ArrowRight", 2], ["ArrowLeft", 1], ["ArrowUp", opened], ["End", moves.length]]) {
        await page.keyboard.press(key);
        await at(index, key);
      }
      await game.locator('[data-line="0"][data-at="2"]').click();
      await at(2, "a click on a move");
      await board.scrollIntoViewIfNeeded();
      const box = await board.boundingBox(), middle = box.y + box.height / 2;
      await page.mouse.move(box.x + 200, middle);
      await page.mouse.down();
      await page.mouse.move(box.x + 100, middle, { steps: 4 });
      await page.mouse.up();
      await at(3, "a sweep to the left");
      await touched(page, [box.x + 100, middle], [box.x + 200, middle + 5]);
      await at(2, "a finger to the right");
      await branched(game, lines, at);
    }
  });
}

/** Folds the tree and opens it, by pointer and by key. */
async function folded(path) {
  await opened(path, width(360), async (page) => {
    const fold = page.locator(".tree details").first(), head = fold.locator("summary").first();
    const isOpen = () => fold.evaluate(({ open }) => open), inside = fold.locator("li").first();
    assert.ok(await isOpen() && await inside.isVisible());
    await head.click();
    assert.ok(!await isOpen() && !await inside.isVisible(), "folded by a click");
    await head.focus();
    await page.keyboard.press("Enter");
    assert.ok(await isOpen() && await inside.isVisible(), "opened by a key");
  });
}

/** Solutions are hidden until they are asked for, without scripts too; how many there are. */
async function revealed(path) {
  let count = 0;
  await opened(path, { ...width(360), javaScriptEnabled: false }, async (page) => {
    const solutions = await page.locator("details.solution").all();
    count = solutions.length;
    for (const solution of solutions) {
      const moves = solution.locator(".moves").first();
      assert.ok(!await moves.isVisible(), "hidden");
      await solution.locator("summary").click();
      assert.ok(await moves.isVisible(), "revealed");
    }
  });
  return count;
}

for (const path of [lesson, ...others]) {
  for (const px of WIDTHS) {
    for (const colorScheme of ["light", "dark"]) await accessible(path, { ...width(px), colorScheme });
  }
  await printed(path);
}
await stepped(lesson);
await folded(lesson);
let solutions = await revealed(lesson);
for (const path of others) solutions += await revealed(path);
assert.ok(solutions > 1, `${solutions} solutions to reveal`);
await browser.close();
console.log(`${1 + others.length} pages used in ${browser.version()}: nothing amiss`);
