// Dialogs: opened by data-opens, closed by data-closes, and the stop sheet with its sign and side.

function open(dialog) {
  if (dialog && !dialog.open) dialog.showModal();
}

document.addEventListener("click", (event) => {
  const opener = event.target.closest?.("[data-opens]");
  if (opener && opener.type !== "checkbox") {
    const dialog = document.getElementById(opener.dataset.opens);
    if (dialog) {
      event.preventDefault(); // without script the link leads to a page of its own
      if (dialog.id === "stop-sheet") setSign(dialog, null);
      open(dialog);
    }
  }
  event.target.closest?.("[data-closes]")?.closest("dialog")?.close();
});

/** Show the stop sheet for a ticked sign, or without one. */
function setSign(dialog, tick) {
  const sign = tick?.dataset.stopSign ?? "";
  const side = tick?.dataset.side ?? "";
  const signInput = dialog.querySelector("[data-stop-sign-input]");
  const list = dialog.querySelector("[data-stop-signs]");
  const word = dialog.querySelector("[data-stop-word]");
  word.dataset.plain ??= word.textContent;
  word.textContent = tick?.closest("fieldset")?.querySelector("legend")?.textContent ?? word.dataset.plain;
  signInput.value = sign;
  signInput.disabled = !sign && Boolean(list);
  dialog.querySelector("[data-stop-side-input]").value = side;
  if (list) list.hidden = list.disabled = Boolean(sign);
  dialog.querySelector("[data-stop-nerve]").hidden = !["tingling", "numb_or_weak"].includes(sign);
  dialog.querySelector("[data-stop-pain]").hidden = sign !== "pain";
  for (const tag of dialog.querySelectorAll("[data-stop-side]")) {
    tag.hidden = !(side === "both" || tag.dataset.stopSide === side);
  }
}

let lastTick = null;

document.addEventListener("change", (event) => {
  const tick = event.target;
  const dialog = document.getElementById("stop-sheet");
  if (!dialog || !tick.dataset?.stopSign || !tick.checked) return;
  lastTick = tick;
  setSign(dialog, tick);
  open(dialog);
});

// Closed without an answer: the sign is taken back, since nothing may note it and go on.
document.addEventListener(
  "close",
  (event) => {
    if (event.target.id !== "stop-sheet" || !lastTick) return;
    lastTick.checked = false;
    lastTick.focus();
    lastTick = null;
  },
  true,
);

function openSwappedIn(root) {
  for (const dialog of root.querySelectorAll?.("dialog[data-open]") ?? []) open(dialog);
  if (root.matches?.("dialog[data-open]")) open(root);
}

openSwappedIn(document);
document.addEventListener("htmx:load", (event) => openSwappedIn(event.detail.elt));
