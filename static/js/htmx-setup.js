// What happens around a swapped part: focus, spoken words, and a plain sentence when nothing came.

/** Put focus on what asks for it, else on the first field that has an error. */
function focusIn(root) {
  if (root.querySelector("[data-samples]")) return; // a page of samples shows mistakes that nobody made
  const within = (selector) => (root.matches(selector) ? root : root.querySelector(selector));
  const wanted = within("[data-focus]") ?? within('[aria-invalid="true"], .is-invalid');
  if (!wanted) return;
  if (!wanted.matches("input, select, textarea, button, a[href], [tabindex]")) wanted.tabIndex = -1;
  wanted.focus();
}

/** Say something to those who hear the page. Emptied first, so that the same words are said again. */
function announce(text) {
  const region = document.getElementById("announce");
  if (!region || !text) return;
  region.textContent = "";
  requestAnimationFrame(() => {
    region.textContent = text;
  });
}

/** Show a sentence in the message region, where role=status reads it out. */
function showFailure(kind) {
  const region = document.getElementById("messages");
  if (!region) return;
  const box = document.createElement("div");
  const words = document.createElement("p");
  box.className = "note-care";
  words.textContent = region.dataset[kind];
  box.append(words);
  region.replaceChildren(box);
  box.scrollIntoView({ block: "nearest" });
}

function clearFailure() {
  document.querySelector("#messages .note-care")?.remove();
}

// After a third of a second a wait is named, after four it is explained. A quick answer shows nothing.
const NAMED_MS = 300;
const SLOW_MS = 4000;
const waits = new Map();

function showWait(kind) {
  const words = document.getElementById("messages")?.dataset[kind];
  if (!words) return;
  let pill = document.getElementById("waiting");
  if (!pill) {
    pill = document.createElement("p");
    pill.id = "waiting";
    pill.className = "waiting";
    pill.setAttribute("role", "status");
    document.body.append(pill);
  }
  pill.hidden = false;
  pill.textContent = words;
}

function endWait(event) {
  for (const timer of waits.get(event.detail.xhr) ?? []) clearTimeout(timer);
  waits.delete(event.detail.xhr);
  const pill = document.getElementById("waiting");
  if (pill && !waits.size) pill.hidden = true;
}

document.addEventListener("htmx:beforeSend", (event) => {
  const kind = event.detail.requestConfig?.verb === "get" ? "fetching" : "saving";
  waits.set(event.detail.xhr, [
    setTimeout(() => showWait(kind), NAMED_MS),
    setTimeout(() => showWait("slow"), SLOW_MS),
  ]);
});
for (const end of ["htmx:afterRequest", "htmx:sendAbort"]) document.addEventListener(end, endWait);

// Without a connection nothing blocks: what is typed stays, and the page says so until it is back.
function showAway() {
  const region = document.getElementById("messages");
  if (!region || region.querySelector(".note-away")) return;
  const box = document.createElement("p");
  box.className = "note-away";
  box.textContent = region.dataset.away;
  region.prepend(box);
}
addEventListener("offline", showAway);
addEventListener("online", () => document.querySelector("#messages .note-away")?.remove());

document.addEventListener("announce", (event) => announce(event.detail?.text ?? event.detail?.value));
document.addEventListener("htmx:sendError", () => showFailure("offline"));
document.addEventListener("htmx:timeout", () => showFailure("offline"));
document.addEventListener("htmx:responseError", () => showFailure("refused"));
document.addEventListener("htmx:beforeRequest", (event) => {
  if (event.detail.requestConfig?.verb !== "get") clearFailure();
});
document.addEventListener("htmx:afterSettle", (event) => focusIn(event.detail.elt));

const main = document.querySelector("main");
if (main) focusIn(main);

// A plain form that was just sent waits for its answer, so that a second touch does not send it again.
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (event.defaultPrevented || form.method !== "post" || form.matches("[hx-post], [data-hx-post]")) return;
  if (form.dataset.sent) event.preventDefault();
  form.dataset.sent = "yes";
  setTimeout(() => delete form.dataset.sent, 4000); // an answer that is a download leaves the page here
});
addEventListener("pageshow", () => {
  for (const form of document.querySelectorAll("form[data-sent]")) delete form.dataset.sent;
});
