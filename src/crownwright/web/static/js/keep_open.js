// Where a browser allows it (loopback or HTTPS), this page, the others of the visit and their parts are kept, so that they open
// without a network.
const VISIT = ["up-top", "found", "photos"]; // quickly made; the other pages are kept once they were looked at
const job = document.querySelector('meta[name="job"]')?.content;

if ("serviceWorker" in navigator && isSecureContext) {
  navigator.serviceWorker.register("/worker.js").then(async () => {
    const { active } = await navigator.serviceWorker.ready;
    const parts = performance.getEntriesByType("resource").map((entry) => entry.name);
    active.postMessage({ keep: parts, page: location.pathname, near: job ? VISIT.map((page) => `/job/${job}/${page}`) : [] });
  }).catch(() => {});
}
