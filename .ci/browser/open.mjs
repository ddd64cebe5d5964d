// Opens a run on the screen and uses it as a teacher would: finds, looks, goes back, steps with keys and fingers, asks what
// a position is worth, reads numbers, and ends the program.
//
//   node open.mjs PICTURES PROGRAM RUN
//
// Nothing may be asked of another machine, nothing may fail, and a player whose name is a script must stay a name: RUN
// holds a game by one, `hostile.pgn`. Screenshots go to the folder PICTURES, to be looked at.

import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { chromium } from "playwright-core";

const [pictures, program, ...runs] = process.argv.slice(2);
const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
const SIZES = [{ width: 360, height: 740 }, { width: 1280, height: 900 }, { width: 1920, height: 1080 }];

const server = spawn(program, ["open", ...runs, "--no-browser", "--quiet"], { stdio: ["ignore", "pipe", "inherit"] });
const ended = new Promise((end) => server.on("exit", (status) => end(status)));
// Whatever fails, nothing goes on.
process.on("exit", () => server.kill());
const [entrance] = await new Promise((told) => createInterface(server.stdout).once("line", (line) => told([line])));
const home = new URL("/", entrance).href;

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync"],
});

/** A window that has entered, in which nothing may fail and nothing is asked of others. */
async function opened(options, use) {
  const context = await browser.newContext(options), page = await context.newPage(), faults = [];
  // A page that is not there is asked for on purpose.
  page.on("console", (message) => / 404 /.test(message.text()) || faults.push(`console: ${message.text()}`));
  page.on("pageerror", (error) => faults.push(`error: ${error}`));
  page.on("dialog", (dialog) => faults.push(`dialog: ${dialog.message()}`));
  page.on("request", (request) => request.url().startsWith(home) || faults.push(`request: ${request.url()}`));
  await page.goto(entrance);
  await page.waitForSelector("#list-title");
  assert.equal(page.url(), home, "the secret stays in the address");
  await use(page);
  assert.deepEqual(faults, []);
  await context.close();
}

const left = async (page) => parseInt((await page.locator("#list-title").textContent()).replace(",", ""), 10);
const choose = (page, key) => page.locator(`[data-key="${key}"]`);

async function chosen(page, key) {
  const beside = parseInt((await choose(page, key).locator(".count").textContent()).replace(",", ""), 10);
  await choose(page, key).click();
  await page.waitForFunction((key) => document.querySelector(`[data-key="${key}"]`)?.ariaCurrent === "true", key);
  assert.equal(await left(page), beside, `the number beside ${key}`);
}

/** Choices narrow the list, stay in the address, and go back and forward. */
async function finding(page) {
  const all = await left(page);
  await chosen(page, "side-white");
  const white = await left(page), address = page.url();
  assert.ok(address.includes("side=white") && white < all);
  await chosen(page, "kind-sham");
  const sham = await left(page);
  await page.goBack();
  await page.waitForFunction((count) => document.querySelector("#list-title").textContent.startsWith(count), white.toLocaleString("en"));
  await page.goForward();
  await page.waitForFunction((count) => document.querySelector("#list-title").textContent.startsWith(count), sham.toLocaleString("en"));
  // A link keeps the choice, with and without script.
  await page.reload();
  assert.equal(await left(page), sham);
  await page.locator("#order").selectOption("shortest");
  await page.waitForURL(/order=shortest/);
  await page.locator("#player").fill("zzz nobody");
  await page.locator("#player").press("Enter");
  await page.waitForFunction(() => document.querySelector("#list-title").textContent.startsWith("0"));
  assert.equal(await page.evaluate(() => document.activeElement.id), "player", "the place is kept");
}

/** The same pages without script. */
async function withoutScript(page) {
  const all = await left(page);
  await choose(page, "side-black").click();
  assert.ok(await left(page) < all);
  await page.locator("#player").fill("a");
  await page.locator("button:has-text('Show')").click();
  assert.ok(page.url().includes("player=a") && page.url().includes("side=black"));
  await page.locator(".hits a.hit").first().click();
  assert.ok(await page.locator(".board svg").count() > 0);
}

/** A hit opens at the offer; keys and buttons step; what it is worth is told and stopped. */
async function looking(page) {
  await chosen(page, "kind-sham");
  const list = page.url();
  await page.locator(".hits a.hit").first().click();
  await page.waitForSelector(".keys");
  const now = () => page.locator(".now").textContent();
  assert.equal(await now(), "Before the offer");
  await page.locator(".board").focus();
  await page.keyboard.press("ArrowRight");
  assert.match(await now(), /^\d+(\.|…)\S+ \(\d+ of \d+\)$/);
  await page.keyboard.press("Home");
  // A game may begin with the offer.
  assert.match(await now(), /^(The start of the game|Before the offer)$/);
  await page.locator("[data-go=last]").click();
  await page.locator("[data-go=opened]").click();
  assert.equal(await now(), "Before the offer");
  await page.locator("#ask").click();
  await page.waitForFunction(() => /positions? looked at|proved/.test(document.querySelector("#answer").textContent));
  if (await page.locator("#stop").isVisible()) await page.locator("#stop").click();
  assert.ok(await page.locator("#stop").isHidden());
  await page.locator("text=Ask what else could have been replied").click();
  await page.waitForSelector("text=Other replies stand beside the game");
  const first = await page.locator("h1").textContent(), address = page.url();
  await page.locator(".board").focus();
  await page.keyboard.press("n");
  await page.waitForFunction((before) => location.href !== before, address);
  await page.waitForSelector(".keys");
  await page.locator(".board").focus();
  await page.keyboard.press("p");
  await page.waitForFunction((first) => document.querySelector("h1").textContent === first, first);
  await page.locator("text=Back to the list").click();
  await page.waitForSelector("#list-title");
  assert.equal(page.url(), list);
}

/** Every figure leads to as many hits. */
async function numbers(page) {
  await page.locator("nav >> text=Numbers").click();
  const link = page.locator(".figures tbody tr").first().locator("a").first();
  const figure = parseInt((await link.textContent()).replace(",", ""), 10);
  await link.click();
  await page.waitForSelector("#list-title");
  assert.equal(await left(page), figure);
}

/** A name that would be a script is a name. */
async function hostile(page) {
  await page.goto(`${home}?player=${encodeURIComponent("<script>")}`);
  assert.ok(await left(page) > 0, "there is a game by a hostile name");
  assert.match(await page.locator(".players").first().textContent(), /<script>/);
  await page.locator(".hits a.hit").first().click();
  await page.waitForSelector(".keys");
  assert.match(await page.locator("h1").textContent(), /<script>/);
  assert.equal(await page.evaluate(() => globalThis.run), undefined);
}

/** The keyboard alone leads from the address to a game on the board. */
async function byKeys(page) {
  const focused = () => page.evaluate(() => document.activeElement.className);
  for (let presses = 0; await focused() !== "hit"; presses++) {
    assert.ok(presses < 40, "the first hit is far away");
    await page.keyboard.press("Tab");
  }
  await page.keyboard.press("Enter");
  await page.waitForSelector(".keys");
  for (let presses = 0; await focused() !== "board"; presses++) {
    assert.ok(presses < 20, "the board is far away");
    await page.keyboard.press("Tab");
  }
  await page.keyboard.press("ArrowRight");
  assert.notEqual(await page.locator(".now").textContent(), "Before the offer");
}

/** Nothing that an automated check of accessibility finds, and nothing wider than the window; letters twice as large, too. */
async function accessible(page, name) {
  const hit = await page.locator(".hits a.hit").first().getAttribute("href");
  for (const [what, path] of [["find", "?kind=sham"], ["look", hit.slice(1)], ["numbers", "numbers"], ["nothing", "nothing"]]) {
    const answer = await page.goto(home + path);
    assert.equal(answer.status(), what === "nothing" ? 404 : 200);
    await page.screenshot({ path: join(pictures, `open-${what}-${name}.png`) });
    const isWide = () => page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    assert.ok(await isWide() <= 0, `${what} at ${name}`);
    await page.evaluate(() => document.querySelectorAll("details").forEach((fold) => fold.open = true));
    await page.evaluate(AXE);
    const found = await page.evaluate((rules) => axe.run({ runOnly: rules }).then(({ violations, passes }) => ({
      passed: passes.length,
      violations: violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 200)).slice(0, 5)}`),
    })), RULES);
    assert.deepEqual(found.violations, [], `${what} at ${name}`);
    assert.ok(found.passed > 12, `axe had ${found.passed} rules to try`);
    await page.evaluate(() => document.documentElement.style.fontSize = "212.5%");
    assert.ok(await isWide() <= 0, `${what} at ${name}, letters twice as large`);
  }
}

const wide = { viewport: SIZES[1] };
await opened(wide, finding);
await opened({ ...wide, javaScriptEnabled: false }, withoutScript);
await opened(wide, looking);
await opened(wide, numbers);
await opened(wide, hostile);
await opened(wide, byKeys);
for (const viewport of SIZES) {
  for (const colorScheme of ["light", "dark"]) {
    await opened({ viewport, colorScheme }, (page) => accessible(page, `${viewport.width}-${colorScheme}`));
  }
}
await opened(wide, async (page) => {
  await page.getByRole("button", { name: "End", exact: true }).click();
  await page.waitForSelector("text=The program has ended");
});
assert.equal(await ended, 0);
await browser.close();
