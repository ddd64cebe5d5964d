// Opens a page for a projector and uses it as a teacher would: keys, buttons, fingers and the clock.
//
//   node projector.mjs PICTURES PROJECTOR.html
//
// Letters are measured: a capital of everything that is shown is at least a thirtieth of the height of 1280x720.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

const [pictures, path] = process.argv.slice(2);
const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
const SIZE = { width: 1280, height: 720 };

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync"],
});

async function opened(options, use) {
  const context = await browser.newContext(options), page = await context.newPage(), faults = [];
  const url = pathToFileURL(resolve(path)).href;
  page.on("console", (message) => faults.push(`console: ${message.text()}`));
  page.on("pageerror", (error) => faults.push(`error: ${error}`));
  page.on("request", (request) => request.url().split("#")[0] === url || faults.push(request.url()));
  await page.goto(url);
  await use(page);
  assert.deepEqual(faults, []);
  await context.close();
}

const current = (page) => page.evaluate(() => [...document.querySelectorAll(".slide")].findIndex((one) => one.checkVisibility()));
const told = (page) => page.evaluate(() => [...document.querySelectorAll(".told")].filter((one) => one.checkVisibility()).length);
const men = (page) => page.evaluate(() => document.querySelector(".slide.current .men").innerHTML);

/** The least height of a capital among all letters that are shown, in pixels. */
const least = (page) => page.evaluate(() => {
  const context = document.createElement("canvas").getContext("2d");
  let least = Infinity;
  for (const part of document.querySelectorAll(".current *, .controls, .controls *")) {
    const isText = [...part.childNodes].some((node) => node.nodeType === 3 && node.textContent.trim());
    if (!isText || !part.checkVisibility() || /^(title|desc|script)$/i.test(part.tagName)) continue;
    const { fontSize, fontFamily } = getComputedStyle(part), svg = part.closest("svg");
    context.font = `${fontSize} ${fontFamily}`;
    least = Math.min(least, context.measureText("H").actualBoundingBoxAscent * (svg ? svg.getScreenCTM().a : 1));
  }
  return least;
});

let smallest = Infinity, count = 0;
await opened({ viewport: SIZE, hasTouch: true }, async (page) => {
  count = await page.locator(".slide").count();
  const before = await men(page);
  for (const key of ["ArrowDown", "ArrowUp", "Home", "End"]) await page.keyboard.press(key);
  assert.equal(await men(page), before, "no key shows a move before the answer");
  assert.equal(await told(page), 0);
  for (let at = 0; at < count; at++) {
    assert.equal(await current(page), at);
    assert.equal(await told(page), 0, "the answer is hidden");
    smallest = Math.min(smallest, await least(page));
    await page.keyboard.press(at % 2 ? " " : "Enter");
    assert.equal(await told(page), 1, "the answer is shown");
    smallest = Math.min(smallest, await least(page));
    const first = await men(page), canStep = await page.locator(".slide.current.game").count();
    await page.keyboard.press("ArrowDown");
    assert.equal(await men(page) !== first, canStep > 0, "its first move");
    await page.keyboard.press("ArrowUp");
    assert.equal(await men(page), first, "and back");
    await page.keyboard.press(at % 2 ? "ArrowRight" : "PageDown");
  }
  assert.equal(await current(page), count - 1, "the last stays");
  for (let at = 0; at < count; at++) await page.keyboard.press("PageUp");
  assert.equal(await current(page), 0);
  await page.getByRole("button", { name: "Answer" }).click();
  assert.equal(await told(page), 1);
  await page.getByRole("button", { name: "Next" }).click();
  assert.deepEqual([await current(page), await told(page)], [1, 0]);
  await page.keyboard.press("c");
  await page.waitForTimeout(1300);
  assert.match(await page.textContent(".clock"), /^0:0[12]$/);
  await page.getByRole("button", { name: "Back", exact: true }).click();
  assert.equal(await page.textContent(".clock"), "0:00", "every exercise has its own time");
  const { x, y, width, height } = await page.locator(".slide.current .board").boundingBox();
  await page.mouse.move(x + 0.7 * width, y + height / 2);
  await page.mouse.down();
  await page.mouse.move(x + 0.3 * width, y + height / 2);
  await page.mouse.up();
  assert.deepEqual([await current(page), await told(page)], [1, 0], "a sweep goes on, and shows no move");
});
assert.ok(smallest >= SIZE.height / 30, `capitals of ${smallest} pixels`);

for (const colorScheme of ["light", "dark"]) {
  for (const viewport of [SIZE, { width: 360, height: 740 }]) {
    await opened({ viewport, colorScheme }, async (page) => {
      await page.keyboard.press(" ");
      assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), viewport.width);
      await page.evaluate(AXE);
      const found = await page.evaluate((rules) => axe.run({ runOnly: rules }).then(({ violations }) =>
        violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 200))}`)), RULES);
      assert.deepEqual(found, [], `${viewport.width} ${colorScheme}`);
      await page.screenshot({ path: join(pictures, `projector-${viewport.width}-${colorScheme}.png`) });
    });
  }
}
await browser.close();
console.log(`${count} exercises on a projector: capitals of ${smallest.toFixed(1)} pixels or more`);
