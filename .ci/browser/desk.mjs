// Chooses, writes, undoes and hands out as a teacher would, in the plan that `hecatomb open` edits: with and without
// script, in two windows, after the program was killed, with a player whose name is meant to do harm.
//
//   node desk.mjs PICTURES HECATOMB SAMPLE-DATA
//
// Works in a folder of its own below PICTURES.

import assert from "node:assert/strict";
import { execFileSync, spawn } from "node:child_process";
import { mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join, resolve } from "node:path";
import { chromium } from "playwright-core";

const [pictures, hecatomb, sample] = process.argv.slice(2).map((path) => resolve(path));
const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
const MOTIF = "bishop-takes-h7", WIDTHS = [360, 1280, 1920];
const HOSTILE = `<img src=x onerror=alert(1)>\u202e"'&`;

const folder = join(pictures, "desk"), plan = join(folder, "course.toml");
rmSync(folder, { recursive: true, force: true });
mkdirSync(folder, { recursive: true });
const run = (...words) => execFileSync(hecatomb, words, { cwd: folder, encoding: "utf8", stdio: "pipe" });
const mined = ["--query", MOTIF, "--query", "knight-takes-f7", "--quiet"];
// A game of the sample once more, with another name.
run("mine", sample, ...mined, "--out", "sample");
const models = run("games", "sample", "--query", MOTIF, "--nodes", "1000");
const name = HOSTILE.replace(/["\\]/g, "\\$&");
writeFileSync(join(folder, "hostile.pgn"), models.split(/\n(?=\[Event )/)[0].replace(/\[White ".*"\]/, () => `[White "${name}"]`));
run("mine", sample, "hostile.pgn", ...mined);
run("verify", "hecatomb-out", "--nodes", "4000", "--quiet");

let program, address;
async function start() {
  program = spawn(hecatomb, ["open", "hecatomb-out", "--plan", "course.toml", "--no-browser", "--nodes", "4000"], { cwd: folder });
  let told = "";
  program.stderr.on("data", (text) => { told += text; });
  address = await new Promise((tell) => program.stdout.once("data", (text) => tell(String(text).trim())));
}
process.on("exit", () => program?.kill("SIGKILL"));
const ended = () => new Promise((tell) => program.once("exit", tell));

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync"],
});
const faults = [];

async function windows(options = {}) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, ...options });
  context.on("request", (request) => {
    const { protocol, host } = new URL(request.url());
    if (host !== new URL(address).host || protocol !== "http:") faults.push(`request: ${request.url()}`);
  });
  context.on("page", (page) => {
    page.on("console", (message) => {
      // A refusal is told by the browser, too.
      if (!/status of (409|422)/.test(message.text())) faults.push(`console: ${message.text()}`);
    });
    page.on("pageerror", (error) => faults.push(`error: ${error}`));
    page.on("dialog", (dialog) => { faults.push(`dialog: ${dialog.message()}`); dialog.dismiss(); });
  });
  return context;
}

async function checked(page, name) {
  for (const colorScheme of ["light", "dark"]) {
    await page.emulateMedia({ colorScheme });
    for (const width of WIDTHS) {
      await page.setViewportSize({ width, height: 900 });
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      assert(wide <= 0, `${name} is ${wide} pixels too wide at ${width}`);
      await page.evaluate(`(() => { ${AXE} })()`).catch(() => {});
      const { violations } = await page.evaluate((rules) => window.axe.run(document, { runOnly: rules, iframes: false }), RULES);
      assert.deepEqual(violations.map(({ id, nodes }) => [id, nodes.map((node) => node.html)]), [], `${name} ${colorScheme} ${width}`);
      if (colorScheme === "light" || width === 1280) {
        await page.screenshot({ path: join(folder, `${name}-${colorScheme}-${width}.png`), fullPage: true });
      }
    }
  }
  await page.emulateMedia({ colorScheme: "light" });
  await page.setViewportSize({ width: 1280, height: 900 });
  // Twice the size of letters.
  await page.evaluate(() => { document.documentElement.style.fontSize = "212.5%"; });
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  assert(wide <= 0, `${name} is ${wide} pixels too wide with large letters`);
  await page.evaluate(() => { document.documentElement.style.fontSize = ""; });
}

const text = () => readFileSync(plan, "utf8");
const order = () => [...text().matchAll(/\[\[lesson\.game\]\][^[]*?\nid = "(.*?)"/g)].map((match) => match[1]);
const at = (path) => new URL(path, address).href;
async function saved(page, act) {
  const answer = page.waitForResponse((response) => response.request().method() === "POST" && response.url().endsWith("/plan"));
  await act();
  await answer;
  await page.waitForFunction(() => !document.querySelector("main[aria-busy]"));
}

await start();
const context = await windows(), page = await context.newPage();
await page.goto(address);

// There is no plan yet: it begins with a click.
await page.goto(at("/plan"));
await checked(page, "no-plan");
await page.goto(at("/"));
await page.getByRole("button", { name: "Begin a plan" }).click();
await page.waitForSelector(".keeping");
assert.match(text(), /title = "Sacrifices: a course"/);

// Find and keep: the game with the name that is meant to do harm, and two others.
await page.goto(at(`/?motif=${MOTIF}`));
await page.waitForSelector(".keeping");
assert(await page.getByText("<img src=x onerror").count() > 0, "the hostile name is shown as it is");
const keep = (name) => page.locator("li", { hasText: name }).getByRole("button", { name: /^Keep/ }).first();
await keep("<img src=x").click();
await page.waitForSelector(".keeping:has-text('In the plan')");
for (const kept of [2, 3]) {
  await page.getByRole("button", { name: /^Keep/ }).first().click();
  await page.waitForFunction((kept) => [...document.querySelectorAll(".keeping small")].filter((one) => one.textContent === "In the plan.").length === kept, kept);
}
assert.equal(order().length, 3);
await checked(page, "find");

// Look at the plan, and order by buttons, keys and dragging.
await page.getByRole("link", { name: "Plan", exact: true }).click();
const entries = () => page.locator("[data-do=move-game] > li");
let before = order();
await saved(page, () => entries().nth(0).getByRole("button", { name: /^Down/ }).click());
assert.deepEqual(order(), [before[1], before[0], before[2]]);
assert.match(await page.evaluate(() => document.activeElement.ariaLabel), /^Down/, "the focus stays");
await saved(page, () => page.keyboard.press("Alt+ArrowDown"));
assert.deepEqual(order(), [before[1], before[2], before[0]]);
await saved(page, () => entries().nth(2).dragTo(entries().nth(0), { sourcePosition: { x: 5, y: 5 }, targetPosition: { x: 5, y: 5 } }));
assert.deepEqual(order(), before);
await checked(page, "plan");

// Write at a move; it is in the file when the page says so.
await entries().nth(1).locator(".told a").click();
await page.waitForSelector("#at-which");
const which = await page.locator("#at-which").evaluate((select) => select.value);
assert.match(which, /Bxh[72]/, "the offer is chosen at first");
await page.locator(".ply[data-line='0']").nth(2).click();
assert.equal(await page.locator("#at-which").evaluate((select) => select.selectedIndex), 2);
await page.locator("#at-which").selectOption(which);
await page.locator("#at-text").fill("Count the *attackers*.\n<script>alert(1)</script>");
await saved(page, () => page.locator("#at-move").getByRole("button", { name: "Save" }).click());
assert.match(text(), /Count the \*attackers\*/);
assert.equal(await page.locator(".said em").textContent(), "attackers");
await checked(page, "game");

// Undo and redo, and what they undo.
assert.match(await page.locator(".undoing .what").first().textContent(), /^words in /);
await saved(page, () => page.getByRole("button", { name: "Undo" }).click());
assert.doesNotMatch(text(), /Count the/);
await saved(page, () => page.getByRole("button", { name: "Redo" }).click());
assert.match(text(), /Count the/);

// Killed and started again, everything is there, and can still be undone.
program.kill("SIGKILL");
await ended();
await start();
await page.goto(address);
await page.goto(at("/plan"));
assert.match(await page.locator(".undoing .what").first().textContent(), /^words in /);
await saved(page, () => page.getByRole("button", { name: "Undo" }).click());
assert.doesNotMatch(text(), /Count the/);
await saved(page, () => page.getByRole("button", { name: "Redo" }).click());

// Two windows: what they change in two places is merged, what they change in one is asked about.
const other = await context.newPage();
await other.goto(at("/plan"));
const unfold = (page) => page.locator("#course > summary").click();
for (const one of [page, other]) await unfold(one);
await page.locator("#course-title").fill("Mine");
await saved(page, () => page.locator("#course-title + button").click());
await other.locator("#course-audience").fill("Tuesday");
await saved(other, () => other.locator("#course-audience + button").click());
assert.match(await other.locator(".merged").textContent(), /changed elsewhere/);
assert.match(text(), /title = "Mine"[^]*audience = "Tuesday"/);
await page.locator("#course-title").fill("Mine again");
await saved(page, () => page.locator("#course-title + button").click());
await other.goto(at("/plan"));
await unfold(other);
await page.locator("#course-title").fill("Mine at last");
await saved(page, () => page.locator("#course-title + button").click());
await other.locator("#course-title").fill("Theirs");
await saved(other, () => other.locator("#course-title + button").click());
assert.match(await other.locator("main").textContent(), /Changed in two places[^]*Mine at last[^]*Theirs/);
assert.match(text(), /title = "Mine at last"/, "nothing is written over unseen");
await checked(other, "clash");
await other.getByRole("button", { name: "Do mine all the same" }).click();
await other.waitForSelector("h1:text('Theirs')");
assert.match(text(), /title = "Theirs"/);

// An editor changes the file; a comment in it stays through everything after.
writeFileSync(plan, `# Bring boards.\n${text()}`);
await other.goto(at("/plan"));
assert.equal(await other.locator(".undoing .what").first().textContent(), "a change made elsewhere");

// Exercises: what the program would choose, one dropped, another in its place.
const lesson = other.locator(`#lesson-${MOTIF}`);
await saved(other, () => lesson.getByRole("button", { name: "Write its choice down" }).click());
const exercises = () => [...text().matchAll(/\[\[lesson\.exercise\]\][^[]*?kind = "(.*?)"\s+id = "(.*?)"/g)].map((match) => match[2]);
const proposed = exercises();
if (proposed.length > 0) {
  const answer = other.waitForResponse((response) => response.request().method() === "POST");
  await lesson.getByRole("button", { name: /^Another/ }).first().click();
  if ((await answer).status() < 400) {
    await other.waitForFunction(() => !document.querySelector("main[aria-busy]"));
    assert.notEqual(exercises()[0], proposed[0]);
    assert.equal(exercises().length, proposed.length);
  } else {
    assert.match(await other.locator("main").textContent(), /no other exercise/);
  }
}

// A sheet: made, seen for pupils and on a projector, saved and printed.
await other.goto(at("/plan"));
await other.locator("#new-sheet-name").fill("week-1");
await other.locator("#new-sheet-of").fill("check:2 count:2");
await other.locator("#new-sheet-class").fill("Tuesday");
await saved(other, () => other.locator("#new-sheet button").click());
assert.match(text(), /\[\[sheet\]\]\s+name = "week-1"[^]*of = \["check:2", "count:2"\]/);
await other.getByRole("link", { name: /^See ?: week-1/ }).click();
const shown = () => other.frameLocator("iframe.shown");
await shown().locator("figure svg").first().waitFor({ timeout: 60_000 });
await other.waitForFunction(() => document.getElementById("stop-waiting").hidden);
assert.equal(await other.locator("#waited").textContent(), "Made from the plan as it is now.");
// The class had it, which can be undone.
await saved(other, () => other.getByRole("button", { name: "Given to Tuesday today" }).click());
assert.match(text(), /\[\[given\]\]\s+class = "Tuesday"\s+sheet = "week-1"/);
assert.match(await other.locator("#given + p").textContent(), /^Tuesday had this sheet on \d/);
await saved(other, () => other.getByRole("button", { name: "Undo" }).click());
assert.doesNotMatch(text(), /\[\[given\]\]/);
await shown().locator("figure svg").first().waitFor({ timeout: 60_000 });
await checked(other, "see-sheet");
await other.getByRole("link", { name: "Projector", exact: true }).click();
await shown().locator(".slide").first().waitFor({ timeout: 60_000 });
for (const [name, start] of [["PGN", "["], ["EPD", ""], ["For pupils (HTML)", "<!doctype"], ["Flash cards (CSV)", ""]]) {
  const [file] = await Promise.all([other.waitForEvent("download"), other.getByRole("link", { name, exact: true }).click()]);
  const content = readFileSync(await file.path(), "utf8");
  assert(content.length > 50 && content.startsWith(start), `${name}: ${content.slice(0, 80)}`);
}
await other.goto(at("/see?sheet=week-1&as=pupil"));
const [alone] = await Promise.all([context.waitForEvent("page"), other.getByRole("link", { name: "Open it by itself" }).click()]);
await alone.waitForSelector("figure svg", { timeout: 60_000 });
const paper = await alone.pdf({ format: "A4" });
writeFileSync(join(folder, "week-1.pdf"), paper);
assert(paper.length > 5000);
await alone.close();

// The lesson as it will be, with the words, and the harmful name as nothing but letters.
await other.goto(at(`/see?lesson=${MOTIF}`));
await shown().locator("h1").waitFor({ timeout: 60_000 });
assert.equal(await shown().locator(".said em").first().textContent(), "attackers");
assert(await shown().getByText("<img src=x onerror").count() > 0);
await checked(other, "see-lesson");
assert.match(text(), /^# Bring boards\./);

// A motif of one's own: errors under the words while they are written, what it finds, and its file.
await other.goto(at("/motifs"));
await other.locator("#from").selectOption("bishop-takes-h7");
await other.getByRole("button", { name: "Begin" }).click();
assert.equal(await other.locator("#field-name").inputValue(), "my-bishop-takes-h7");
await other.locator("#try").click();
await other.waitForSelector("[data-done=yes]", { timeout: 60_000 });
assert.equal(await other.locator(".tries li").count(), 10);
assert.match(await other.locator("#trial-told").textContent(), /^10 offers in [\d,]+ games/);
const offer = await other.locator("#field-offer").inputValue();
await other.locator("#field-offer").fill(offer.replace("takes", "tkaes"));
await other.waitForSelector("#fault-offer mark:text('tkaes')");
assert.equal(await other.locator("#field-offer").getAttribute("aria-invalid"), "true");
await checked(other, "motifs");
await other.locator("#field-offer").fill(offer);
await other.waitForSelector("#fault-offer:empty", { state: "attached" });
await other.locator("#save").click();
const own = join(folder, "queries", "my-bishop-takes-h7.toml");
assert.match(await other.locator("#saved-title").textContent(), /queries.my-bishop-takes-h7\.toml/);
assert(readFileSync(own, "utf8").includes(`offer = "${offer}"`));
run("queries", "check", own);

// Without script the same forms do the same.
const plain = await windows({ javaScriptEnabled: false }), quiet = await plain.newPage();
await quiet.goto(address);
await quiet.goto(at("/plan"));
before = order();
await quiet.locator("[data-do=move-game] > li").nth(0).getByRole("button", { name: /^Down/ }).click();
assert.deepEqual(order(), [before[1], before[0], before[2]]);
assert.match(quiet.url(), new RegExp(`/plan#lesson-${MOTIF}$`));
await quiet.getByRole("button", { name: "Undo" }).click();
assert.deepEqual(order(), before);
await quiet.goto(at(`/?motif=${MOTIF}`));
await quiet.getByRole("button", { name: /^Drop <img/ }).click();
assert.equal(order().length, before.length - 1);

await quiet.goto(at("/motifs?own=my-bishop-takes-h7"));
await quiet.locator("#field-offer").fill(offer.replace("h7", "g7"));
await quiet.getByRole("button", { name: "Try it" }).click();
assert.match(await quiet.locator("#tried").textContent(), /offers? in [\d,]+ games/);
await quiet.locator("#save").click();
assert.match(await quiet.locator("main").textContent(), /There is a file/);
assert(readFileSync(own, "utf8").includes(offer), "it is not written over unasked");
await quiet.locator("#replace").click();
assert(!readFileSync(own, "utf8").includes(offer));

// What a foreign page sends is refused, and so is a form that does not say where it is from.
const cookie = (await context.cookies()).map(({ name, value }) => `${name}=${value}`).join("; ");
const state = /name="state" value="(.*?)"/.exec(await (await fetch(at("/plan"), { headers: { cookie } })).text())[1];
const body = new URLSearchParams({ do: "title", text: "Taken", state });
for (const headers of [{ cookie }, { cookie, origin: "https://elsewhere.example" }, { origin: new URL(address).origin }]) {
  assert.equal((await fetch(at("/plan"), { method: "POST", headers, body })).status, 403);
}
assert.doesNotMatch(text(), /Taken/);

assert.deepEqual(faults, []);
await page.goto(at("/plan"));
await page.getByRole("button", { name: "End" }).click();
await ended();
await browser.close();
