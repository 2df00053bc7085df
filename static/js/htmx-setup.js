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
