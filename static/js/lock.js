// Every open page asks every few seconds whether it is still open. When it is not, what it shows is taken off
// first, and then the page of the lock comes: no tab keeps a client's name on the screen.

const ASK_MS = 4000;
const TELL_MS = 30000;
const head = document.querySelector("meta[name=evenside-lock]");
const channel = "BroadcastChannel" in window ? new BroadcastChannel("evenside-lock") : null;

/** Take the page off and go to the lock, with the way back to this page. */
function leave() {
  const here = location.pathname + location.search;
  document.title = head.dataset.word;
  document.body.replaceChildren();
  location.replace(`${head.dataset.lock}?next=${encodeURIComponent(here)}`);
}

let asking = false;
async function ask() {
  if (asking) return;
  asking = true;
  try {
    const answer = await fetch(head.dataset.state, { cache: "no-store" });
    if (answer.ok && (await answer.text()) === "locked") leave();
  } catch {
    // No network for a moment: the server keeps the lock, the next question finds out.
  } finally {
    asking = false;
  }
}

// Typing and touching tell the server, at most twice a minute, that somebody is here.
let toldAt = Date.now();
async function tell() {
  if (Date.now() - toldAt < TELL_MS) return;
  toldAt = Date.now();
  const token = JSON.parse(document.body.getAttribute("hx-headers"))["X-CSRFToken"];
  try {
    await fetch(head.dataset.touch, { method: "POST", headers: { "X-CSRFToken": token }, redirect: "manual" });
  } catch {
    // The next touch tells it again.
  }
}

if (head) {
  setInterval(ask, ASK_MS);
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") ask();
  });
  addEventListener("pageshow", (event) => {
    if (event.persisted) ask();
  });
  for (const kind of ["pointerdown", "keydown", "input"]) document.addEventListener(kind, tell, { passive: true });
  channel?.addEventListener("message", ask);
} else {
  // A page that nobody is signed in to: the other tabs ask at once.
  channel?.postMessage("ask");
}
