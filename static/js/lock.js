// Every open page asks every few seconds whether it is still open. When it is not, what it shows is taken off
// first, and then the page of the lock comes: no tab keeps a client's name on the screen.

const ASK_MS = 4000;
const TELL_MS = 30000;
const head = document.querySelector("meta[name=evenside-lock]");
const channel = "BroadcastChannel" in window ? new BroadcastChannel("evenside-lock") : null;

// A page made for printing has no forms, and so no token.
const token = () => JSON.parse(document.body.getAttribute("hx-headers") ?? "{}")["X-CSRFToken"];

// A form that came back with what was typed, not with what is on file.
const UNSAVED = "[data-unsaved]";
const CARRIES = "[data-carries]";

/** What was typed into the page and not saved: pairs of what the field is called and its text. */
function typed() {
  const fields = document.querySelectorAll(
    "form[method=post] textarea, form[method=post] input:is([type=text], [type=number], [type=tel], [type=email], :not([type]))",
  );
  return [...fields]
    .filter((field) => field.value.trim() && (field.value !== field.defaultValue || field.form?.matches(UNSAVED)))
    .map((field) => [field.labels?.[0]?.innerText.replace("*", "").trim() || field.ariaLabel || field.name, field.value]);
}

/** What was chosen by touch and not saved: pairs of what is asked and the words of the answer. */
function chosen() {
  const boxes = document.querySelectorAll("form[method=post] input:is([type=radio], [type=checkbox]):checked");
  return [...boxes]
    .filter((box) => box.value && (!box.defaultChecked || box.form?.matches(UNSAVED)))
    .map((box) => [box, (box.ariaLabel || box.labels?.[0]?.innerText.trim() || box.value).replace(/\s+/g, " ")])
    .map(([box, words]) => [box.closest("fieldset")?.querySelector("legend")?.innerText.trim() || words, words]);
}

// What a part of the page had, while another stands in its place that only carries it along.
let carried = [];
document.addEventListener("htmx:beforeSwap", (event) => {
  if (document.querySelector(CARRIES)) return;
  carried = event.detail.serverResponse?.includes("data-carries") ? [...typed(), ...chosen()] : [];
});
document.addEventListener("htmx:afterSwap", () => {
  if (!document.querySelector(CARRIES)) carried = [];
});

/** Give the server what was typed; it comes back to who typed it, and to nobody else. */
async function keep(pairs, path, key) {
  if (!pairs.length) return;
  const body = new URLSearchParams({ path });
  for (const [name, text] of pairs) {
    body.append("name", name);
    body.append("text", text);
  }
  try {
    await fetch(head.dataset.keep, { method: "POST", headers: { "X-CSRFToken": key }, body });
  } catch {
    // The server is out of reach: the lock comes first.
  }
}

/** Take the page off, keep what was typed, and go to the lock, with the way back to this page. */
async function leave() {
  const here = location.pathname + location.search;
  const [pairs, key] = [[...carried, ...typed(), ...chosen()], token()];
  document.title = head.dataset.word;
  document.body.replaceChildren();
  await keep(pairs, here, key);
  location.replace(`${head.dataset.lock}?next=${encodeURIComponent(here)}`);
}

let asking = false;
async function ask() {
  if (asking) return;
  asking = true;
  try {
    const answer = await fetch(head.dataset.state, { cache: "no-store" });
    if (answer.ok && (await answer.text()) === "locked") await leave();
  } catch {
    // No network for a moment: the server keeps the lock, the next question finds out.
  } finally {
    asking = false;
  }
}

// Typing and touching tell the server, at most twice a minute, that somebody is here.
let toldAt = Date.now();
async function tell() {
  if (Date.now() - toldAt < TELL_MS || !token()) return;
  toldAt = Date.now();
  try {
    const headers = { "X-CSRFToken": token() };
    await fetch(head.dataset.touch, { method: "POST", headers, redirect: "manual" });
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
