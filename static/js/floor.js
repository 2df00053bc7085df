// The recording screen: keep the tablet awake while a session runs, where the browser can.

async function stayAwake() {
  if (!("wakeLock" in navigator) || document.visibilityState !== "visible") return;
  try {
    await navigator.wakeLock.request("screen");
  } catch {
    // Low battery or a browser setting: the session goes on, the screen may dim.
  }
}

stayAwake();
document.addEventListener("visibilitychange", stayAwake);
