// Where a browser allows it (loopback or HTTPS), this page and its parts are kept so that it opens without a network.
if ("serviceWorker" in navigator && isSecureContext) {
  navigator.serviceWorker.register("/worker.js").then(async () => {
    const { active } = await navigator.serviceWorker.ready;
    const parts = performance.getEntriesByType("resource").map((entry) => entry.name);
    active.postMessage({ keep: parts, page: location.pathname });
  }).catch(() => {});
}
