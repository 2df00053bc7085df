// The recording screen: the tablet stays awake, the minutes go on, and a second touch of a double tap
// that falls on the next exercise does nothing.

const SETTLE_MS = 450;
let swappedAt = -SETTLE_MS;

async function stayAwake() {
  if (!("wakeLock" in navigator) || document.visibilityState !== "visible") return;
  try {
    await navigator.wakeLock.request("screen");
  } catch {
    // Low battery or a browser setting: the session goes on, the screen may dim.
  }
}

function countMinutes() {
  for (const shown of document.querySelectorAll("[data-minutes-since]")) {
    const since = Date.parse(shown.dataset.minutesSince);
    if (since) shown.textContent = Math.max(0, Math.floor((Date.now() - since) / 60000));
  }
}

// The time on the back: counted by the second here; without this file the clock times stand there in words.
function countBack() {
  for (const shown of document.querySelectorAll("[data-back-since]")) {
    const since = Date.parse(shown.dataset.backSince);
    if (!since) continue;
    const seconds = Math.max(0, Math.floor((Date.now() - since) / 1000));
    const clock = `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
    shown.querySelector("[data-back-shown]").textContent = clock;
    shown.classList.toggle("is-long", seconds > Number(shown.dataset.backLimit));
    shown.classList.add("counts");
  }
}

stayAwake();
document.addEventListener("visibilitychange", stayAwake);
setInterval(countMinutes, 15000);
countBack();
setInterval(countBack, 1000);

// What a touch opens below the fold comes into sight above the bar with Stop and Save.
document.addEventListener("click", (event) => {
  const drawer = event.target.closest?.(".more-rec > summary")?.parentElement;
  if (!drawer || drawer.open) return;
  setTimeout(() => drawer.scrollIntoView({ block: "end" }));
});

// What to take care of is long and seldom changes: the server leaves it out while the same stands here.
document.addEventListener("htmx:configRequest", (event) => {
  const shown = document.querySelector("#fl > #all-flags[data-mark]");
  if (shown && event.detail.target?.matches?.("#fl")) event.detail.headers["X-Cares"] = shown.dataset.mark;
});

document.addEventListener("htmx:afterSwap", (event) => {
  if (!event.detail.elt.matches?.("#fl")) return; // not by .id: a field of the form has that name
  swappedAt = performance.now();
  countBack();
});
document.addEventListener(
  "click",
  (event) => {
    if (performance.now() - swappedAt > SETTLE_MS) return;
    if (!event.target.closest?.(".fl-foot button:not(.btn-stop)")) return;
    event.preventDefault();
    event.stopPropagation();
  },
  true,
);
