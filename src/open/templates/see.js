// Tells how long something has been made already, and stops it at a click. Without this script the button does so.
const main = document.querySelector("main");
let timer = 0;

function watch() {
  clearInterval(timer);
  const form = document.getElementById("waiting"), frame = main.querySelector("iframe.shown");
  if (!form || !frame) return;
  const told = document.getElementById("waited"), long = document.getElementById("waited-for");
  const stop = document.getElementById("stop-waiting"), what = form.elements.what.value;
  const look = async () => {
    const heard = await fetch(`/waiting?${new URLSearchParams({ what })}`).then((answer) => answer.json()).catch(() => ({}));
    if (!form.isConnected || !heard.is_waited_for || stop.hidden) return;
    long.textContent = heard.is_begun ? `${heard.seconds} s so far.` : `It waits for its turn: ${heard.seconds} s so far.`;
  };
  timer = setInterval(look, 1000);
  frame.addEventListener("load", () => {
    clearInterval(timer);
    if (document.activeElement === stop) document.querySelector("h1 ~ .way a")?.focus();
    stop.hidden = true;
    long.textContent = "";
    told.textContent = form.dataset.stopped ? "Stopped." : "Made from the plan as it is now.";
  });
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    form.dataset.stopped = "yes";
    fetch("/waiting/stop", { method: "POST", body: new URLSearchParams({ what }), redirect: "manual" });
  });
}

document.addEventListener("fresh", watch);
watch();
