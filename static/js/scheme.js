// Before first paint: light or dark, by the choice kept in this browser or else by the system.
// A plain script, not a module, because modules wait until the page is read.
(function () {
  "use strict";
  const root = document.documentElement;
  const system = matchMedia("(prefers-color-scheme: dark)");
  function chosen() {
    try {
      return localStorage.getItem("scheme");
    } catch {
      return null; // storage may be closed: the system decides
    }
  }
  function apply() {
    const choice = chosen();
    const dark = choice ? choice === "dark" : system.matches;
    root.setAttribute("data-bs-theme", dark ? "dark" : "light");
  }
  root.classList.add("js");
  apply();
  system.addEventListener("change", apply);
  addEventListener("evenside:scheme", apply);
})();
