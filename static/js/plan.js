// The plan: what was changed in a row is saved before anything else is touched, the sheet keeps its place,
// and the ring stands around the row that is open. Without this file every link and button still works.

const rowForm = () => document.querySelector("[data-row-form]");
const sheet = () => document.getElementById("plan-side");
let wanted = null; // what was touched while a row was not yet saved
let place = null; // how far down the sheet was
const reasons = new Map(); // reasons being typed, by row, so that looking at another row loses none

function markDirty(form) {
  form.dataset.dirty = "yes";
  form.querySelector("[data-saved]")?.remove();
}

for (const kind of ["input", "change"]) {
  document.addEventListener(kind, (event) => {
    const form = event.target.closest?.("[data-row-form]");
    if (form) markDirty(form);
    if (event.target.matches?.("#plan-side textarea[name=reason]")) {
      reasons.set(sheet().dataset.what, event.target.value);
    }
  });
}

// Before htmx and the browser see the touch: save the row first, then do what was asked for.
document.addEventListener(
  "click",
  (event) => {
    const form = rowForm();
    const touched = event.target.closest?.("[data-saves-first], a[href], .rail button.entry");
    if (!touched || !form?.dataset.dirty || form.contains(touched) || touched.matches(".skip")) return;
    if (event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    event.stopImmediatePropagation();
    wanted = touched;
    form.requestSubmit();
  },
  true,
);

// A button beside the form (what would lift) sends its value along, as it does where no script runs.
let beside = null;
document.addEventListener(
  "submit",
  (event) => {
    const button = event.submitter;
    beside = button && !event.target.contains(button) ? button : null;
  },
  true,
);
document.addEventListener("htmx:configRequest", (event) => {
  const { elt, parameters } = event.detail;
  if (beside?.form === elt) parameters[beside.name] = beside.value;
  beside = null;
});

// The element itself may be gone by now, so the request is asked which form it came from.
document.addEventListener("htmx:afterRequest", (event) => {
  const { requestConfig, xhr } = event.detail;
  const saved = xhr.status >= 200 && xhr.status < 300; // htmx counts 409 and 422 among what went well
  if (requestConfig.elt.matches("[data-row-form]") && !saved) wanted = null; // stay with what is wrong
  if (requestConfig.elt.matches("[data-keep-form]") && saved) reasons.delete(sheet()?.dataset.what);
});

document.addEventListener("htmx:beforeSwap", (event) => {
  const side = sheet();
  // What is wrong is shown where it stands, so then the sheet does not keep its place.
  place = side && event.detail.xhr.status < 400 ? { what: side.dataset.what, top: side.scrollTop } : null;
});

function restore() {
  const side = sheet();
  if (!side) return;
  if (place?.what === side.dataset.what) side.scrollTop = place.top;
  const open = side.dataset.what.replace(/^(row|instead)/, "row-");
  for (const row of document.querySelectorAll("[data-row]")) {
    row.classList.toggle("sel", row.id === open);
    if (row.id === open) row.setAttribute("aria-current", "true");
    else row.removeAttribute("aria-current");
  }
  const typed = reasons.get(side.dataset.what);
  const box = side.querySelector("textarea[name=reason]");
  if (box && typed !== undefined && box.value !== typed) {
    box.value = typed;
    box.closest("details").open = true;
  }
}

document.addEventListener("htmx:afterSettle", (event) => {
  if (!["plan", "plan-side"].includes(event.detail.elt.id)) return;
  restore();
  if (!wanted || rowForm()?.dataset.dirty) return;
  const next = wanted.isConnected ? wanted : document.getElementById(wanted.id);
  wanted = null;
  next?.click();
});

addEventListener("beforeunload", (event) => {
  if (rowForm()?.dataset.dirty && !wanted) event.preventDefault();
});
