// Looking for exercises with the keyboard: down from the words into the results and back, Escape clears the words.
// Without this file every field, link and button still works.

const RESULT = "a.lib-card, a.exrow, button.pickrow, a.pickrow, .found-ways a";

function results(form) {
  const part = document.getElementById(form.dataset.finder);
  return part ? [...part.querySelectorAll(RESULT)].filter((one) => one.offsetParent !== null) : [];
}

function formOf(target) {
  const own = target.closest?.("[data-finder]");
  if (own) return own;
  return [...document.querySelectorAll("[data-finder]")].find((form) => {
    return document.getElementById(form.dataset.finder)?.contains(target);
  });
}

function clear(box) {
  box.value = "";
  box.dispatchEvent(new Event("input", { bubbles: true }));
}

document.addEventListener("keydown", (event) => {
  const form = formOf(event.target);
  if (!form || event.altKey || event.ctrlKey || event.metaKey) return;
  const box = form.querySelector('input[type="search"]');
  const fold = event.target.closest("details.finder-more[open]");
  if (event.key === "Escape" && fold) {
    fold.open = false;
    fold.querySelector("summary").focus();
    event.preventDefault();
  } else if (event.key === "Escape") {
    if (box.value) clear(box);
    box.focus();
    event.preventDefault();
  } else if (event.key === "ArrowDown" || event.key === "ArrowUp") {
    step(event, form, box);
  }
});

/** Move the focus one result down or up; the words stand before the first. */
function step(event, form, box) {
  const list = results(form);
  const place = list.indexOf(event.target);
  if (event.target !== box && place < 0) return; // a select needs its arrows
  const next = place + (event.key === "ArrowDown" ? 1 : -1);
  const goal = next < 0 ? box : list[next];
  if (!goal || (event.target === box && next < 0)) return;
  goal.focus();
  goal.scrollIntoView({ block: "nearest" });
  event.preventDefault();
}

// What opens the finder leads to its words where it is open already: asked for again, its answer would
// come over what is being typed. Heard before htmx hears it.
document.addEventListener(
  "click",
  (event) => {
    const opener = event.target.closest?.("[data-opens-finder]");
    const box = opener && document.querySelector(`[data-finder="${opener.dataset.opensFinder}"] input[type="search"]`);
    if (!box || event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    box.focus();
    box.scrollIntoView({ block: "nearest" });
  },
  true,
);

// The fold lies over the results in a tall window: a touch beside it closes it.
document.addEventListener("click", (event) => {
  for (const fold of document.querySelectorAll("details.finder-more[open]")) {
    if (!fold.contains(event.target)) fold.open = false;
  }
});
