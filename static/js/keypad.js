// The keys of the lock. Without this file the field is an ordinary one with a button beside it.

const form = document.querySelector("[data-keypad]");

if (form) {
  const field = form.querySelector("[name=pin]");
  const dots = form.querySelectorAll("[data-dots] i");
  const people = form.querySelectorAll("[name=person][type=radio]");
  form.querySelector("[data-keys]").hidden = false;
  field.inputMode = "none"; // our keys stand below; the system's need not cover them

  const chosen = () => !people.length || [...people].some((one) => one.checked);

  function changed() {
    field.value = field.value.replace(/\D/g, "").slice(0, dots.length);
    dots.forEach((dot, at) => dot.classList.toggle("full", at < field.value.length));
    if (field.value.length === dots.length && chosen()) form.requestSubmit();
  }

  form.addEventListener("click", (event) => {
    const key = event.target.closest("[data-key]")?.dataset.key;
    if (!key) return;
    field.value = key === "back" ? field.value.slice(0, -1) : field.value + key;
    changed();
  });
  // A digit typed anywhere on the page is meant for the PIN.
  document.addEventListener("keydown", (event) => {
    if (event.target === field || event.ctrlKey || event.metaKey || event.altKey) return;
    if (/^\d$/.test(event.key)) field.value += event.key;
    else if (event.key === "Backspace") field.value = field.value.slice(0, -1);
    else return;
    event.preventDefault();
    changed();
  });
  field.addEventListener("input", changed);
  for (const one of people) {
    one.addEventListener("change", () => {
      if (field.value.length < dots.length) field.value = "";
      changed();
    });
  }
  field.focus();
  changed(); // what was typed before this file came
}
