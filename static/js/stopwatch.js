// A stopwatch beside each side of a timed measure, and the rest between the sides. Whole seconds go into the
// number field, which also takes a number typed by hand; without this file it takes nothing else.

const TICK_MS = 100;
const AWAKE_MS = 10000;
const SETTLE_MS = 500; // the second touch of a double tap neither stops nor starts
let running = null;
let touchedAt = -SETTLE_MS;

function seconds(watch) {
  return Math.max(0, (performance.now() - watch.since) / 1000);
}

function show(watch) {
  watch.time.textContent = seconds(watch).toFixed(1);
}

function say(watch, which) {
  watch.button.querySelector("span").textContent = watch.button.dataset[which];
  watch.button.classList.toggle("is-running", which === "stop");
}

async function stayAwake() {
  try {
    await navigator.wakeLock?.request("screen");
  } catch {
    // Low battery or a browser setting: the watch goes on, the screen may dim.
  }
}

/** A hold or a rest is somebody at work: to the lock it counts like a touch. Both end by themselves. */
function atWork() {
  document.dispatchEvent(new Event("input"));
}

function tick(watch) {
  show(watch);
  if (watch.input.max && seconds(watch) >= Number(watch.input.max)) stop(watch);
}

function start(watch) {
  if (running) stop(running);
  running = watch;
  watch.since = performance.now();
  watch.timer = setInterval(() => tick(watch), TICK_MS);
  watch.awake = setInterval(atWork, AWAKE_MS);
  show(watch);
  say(watch, "stop");
  endRest();
  stayAwake();
}

/** Full seconds that were held: 44.9 s is 44, as by hand. */
function stop(watch) {
  clearInterval(watch.timer);
  clearInterval(watch.awake);
  show(watch);
  running = null;
  watch.input.value = String(Math.floor(Math.min(seconds(watch), Number(watch.input.max || Infinity))));
  watch.input.dispatchEvent(new Event("input", { bubbles: true }));
  watch.input.dispatchEvent(new Event("change", { bubbles: true }));
  say(watch, "again");
  beginRest();
}

const rest = document.querySelector("[data-rest]");
let restTimer = 0;

function minutes(left) {
  return `${Math.floor(left / 60)}:${String(left % 60).padStart(2, "0")}`;
}

function endRest() {
  clearInterval(restTimer);
  if (rest) rest.hidden = true;
}

/** Count down while a side is still without its number. */
function beginRest() {
  if (!rest || watches.every((watch) => watch.input.value !== "")) return;
  const until = performance.now() + Number(rest.dataset.rest) * 1000;
  const count = () => {
    const left = Math.max(0, Math.ceil((until - performance.now()) / 1000));
    rest.querySelector("b").textContent = minutes(left);
    atWork();
    if (!left) clearInterval(restTimer);
  };
  clearInterval(restTimer);
  rest.hidden = false;
  count();
  restTimer = setInterval(count, 1000);
}

const watches = [...document.querySelectorAll("[data-stopwatch]")].map((place) => {
  const watch = {
    button: place.querySelector("button"),
    time: place.querySelector("[role=timer]"),
    input: document.getElementById(place.dataset.stopwatch),
  };
  watch.button.addEventListener("click", () => {
    if (performance.now() - touchedAt < SETTLE_MS) return;
    touchedAt = performance.now();
    if (running === watch) stop(watch);
    else start(watch);
  });
  place.hidden = false;
  return watch;
});

// A watch that still runs must not be lost by a touch on a link.
addEventListener("beforeunload", (event) => {
  if (running) event.preventDefault();
});
