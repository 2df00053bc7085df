// A page that was left is not shown again out of the browser's memory: it is asked for anew.
addEventListener("pageshow", (event) => {
  if (event.persisted) location.reload();
});
