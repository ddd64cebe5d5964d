"use strict";
// One exercise at a time. Nothing of a solution can be reached before it is asked for, by no key and no finger.
{
  const slides = [...document.querySelectorAll(".slide")], last = slides.length - 1;
  const button = (name) => document.querySelector(`[data-do="${name}"]`);
  const clock = document.querySelector(".clock");
  let at = 0, told = false, seconds = 0, ticking = 0, down = null;

  function show(to, tell) {
    const isOther = to !== at;
    [at, told] = [Math.max(0, Math.min(last, to)), tell && slides[at].querySelector(".told") !== null];
    slides.forEach((slide, i) => {
      slide.classList.toggle("current", i === at);
      slide.classList.toggle("open", i === at && told);
    });
    button("back").ariaDisabled = at === 0;
    button("next").ariaDisabled = at === last;
    if (button("tell")) button("tell").ariaPressed = told;
    if (isOther) stop(), set(0);
    // The board shows the question again.
    if (!told) for (let step = slides[at].querySelector("[data-go=back]"); step && step.ariaDisabled !== "true";) step.click();
  }

  function set(to) {
    seconds = to;
    clock.textContent = `${Math.floor(to / 60)}:${String(to % 60).padStart(2, "0")}`;
  }

  function stop() {
    clearInterval(ticking);
    ticking = 0;
    button("clock").ariaPressed = false;
  }

  function start() {
    const from = Date.now() - 1000 * seconds;
    ticking = setInterval(() => set(Math.floor((Date.now() - from) / 1000)), 200);
    button("clock").ariaPressed = true;
  }

  const step = (way) => told && slides[at].querySelector(`[data-go=${way}]`)?.click();
  const acts = {
    back: () => show(at - 1, false),
    next: () => show(at + 1, false),
    tell: () => show(at, !told),
    clock: () => ticking ? stop() : start(),
    up: () => step("back"),
    down: () => step("on"),
  };
  const keys = {
    ArrowLeft: "back", PageUp: "back", ArrowRight: "next", PageDown: "next", " ": "tell", Enter: "tell",
    ArrowUp: "up", ArrowDown: "down", c: "clock", C: "clock",
  };
  addEventListener("keydown", (event) => {
    const isPressed = [" ", "Enter"].includes(event.key) && event.target.closest?.("button");
    const act = acts[keys[event.key]];
    // Before the boards hear of it.
    if (/^(Arrow|Home|End)/.test(event.key)) event.stopImmediatePropagation();
    if (!act || isPressed || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    act();
  }, true);
  addEventListener("click", ({ target }) => acts[target.closest("[data-do]")?.dataset.do]?.());
  addEventListener("pointerdown", (event) => {
    down = event.target.closest(".board") ? event.clientX : null;
    event.stopPropagation();
  }, true);
  addEventListener("pointerup", (event) => {
    const sweep = down === null ? 0 : event.clientX - down;
    event.stopPropagation();
    if (Math.abs(sweep) > 30) acts[sweep < 0 ? "next" : "back"]();
  }, true);
  for (const figure of document.querySelectorAll(".slide .board")) {
    figure.removeAttribute("tabindex");
    figure.ariaLabel = document.querySelector("main").dataset.board;
  }
  document.body.classList.add("live");
  document.querySelector(".controls").hidden = false;
  show(0, false);
}
