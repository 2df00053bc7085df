// The choice between the device's own setting, light and dark. It is kept in this browser only.

const KEY = "scheme";

function read() {
  try {
    return localStorage.getItem(KEY) ?? "";
  } catch {
    return "";
  }
}

function write(choice) {
  try {
    if (choice) localStorage.setItem(KEY, choice);
    else localStorage.removeItem(KEY);
  } catch {
    // Storage is closed: the page keeps following the device.
  }
}

function show() {
  for (const button of document.querySelectorAll("[data-scheme]")) {
    button.setAttribute("aria-pressed", String(button.dataset.scheme === read()));
  }
}

document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-scheme]");
  if (button) {
    write(button.dataset.scheme);
    dispatchEvent(new Event("evenside:scheme"));
    show();
  }
  for (const menu of document.querySelectorAll("[data-scheme-menu][open]")) {
    if (button || !menu.contains(event.target)) menu.open = false;
  }
});

document.addEventListener("keydown", (event) => {
  if (event.key !== "Escape") return;
  for (const menu of document.querySelectorAll("[data-scheme-menu][open]")) {
    menu.open = false;
    menu.querySelector("summary").focus();
  }
});

show();
