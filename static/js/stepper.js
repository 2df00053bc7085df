// Minus and plus around a number input, and wiping a chosen step. All through delegation, so that
// parts swapped in later work too. Without this file the inputs are plain numbers and radios.

const FIRST_REPEAT_MS = 450;
const REPEAT_MS = 110;

function decimals(text) {
  return (String(text).split(".")[1] ?? "").length;
}

/** Move the input by one step, within its limits. Empty stays empty until touched: then it is `start`. */
function move(stepper, by) {
  const input = stepper.querySelector("input");
  if (input.disabled || input.readOnly) return;
  const step = Number(input.step) || 1;
  const low = input.min === "" ? -Infinity : Number(input.min);
  const high = input.max === "" ? Infinity : Number(input.max);
  const start = stepper.dataset.start === "" ? Math.max(low, 0) : Number(stepper.dataset.start);
  const next = input.value === "" ? start : Number(input.value) + by * step;
  const kept = Math.min(high, Math.max(low, next));
  input.value = kept.toFixed(Math.max(decimals(input.step), decimals(input.value)));
  input.dispatchEvent(new Event("input", { bubbles: true }));
  input.dispatchEvent(new Event("change", { bubbles: true }));
}

let timer = 0;
let repeated = false;

function stopRepeating() {
  clearTimeout(timer);
  timer = 0;
}

document.addEventListener("pointerdown", (event) => {
  const button = event.target.closest?.("[data-stepper] button");
  if (!button || event.button !== 0) return;
  repeated = false;
  const again = () => {
    repeated = true;
    move(button.closest("[data-stepper]"), Number(button.dataset.by));
    timer = setTimeout(again, REPEAT_MS);
  };
  timer = setTimeout(again, FIRST_REPEAT_MS);
});
for (const end of ["pointerup", "pointercancel", "pointerleave", "blur"]) {
  addEventListener(end, stopRepeating);
}

document.addEventListener("click", (event) => {
  const button = event.target.closest?.("[data-stepper] button");
  if (!button) return;
  stopRepeating();
  if (repeated && event.detail > 0) {
    repeated = false; // the long press has already counted
    return;
  }
  move(button.closest("[data-stepper]"), Number(button.dataset.by));
});

// A touch on the ringed step, or Space, Delete or Backspace on it, wipes it: empty is not zero.
let wasChosen = null;

function wipe(radio) {
  radio.checked = false;
  radio.dispatchEvent(new Event("input", { bubbles: true }));
  radio.dispatchEvent(new Event("change", { bubbles: true }));
}

function radioOf(target) {
  return target.closest?.("[data-wipes] .step")?.querySelector("input") ?? null;
}

document.addEventListener("pointerdown", (event) => {
  const radio = radioOf(event.target);
  wasChosen = radio?.checked ? radio : null;
});
document.addEventListener("click", (event) => {
  const radio = radioOf(event.target);
  if (radio && event.target === radio && radio === wasChosen) wipe(radio);
  if (event.target === radio) wasChosen = null;
});
document.addEventListener("keydown", (event) => {
  const radio = radioOf(event.target);
  if (radio?.checked && [" ", "Delete", "Backspace"].includes(event.key)) {
    event.preventDefault();
    wipe(radio);
  }
});
