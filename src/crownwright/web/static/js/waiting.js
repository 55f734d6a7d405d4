// Say so when the next page takes longer than a moment; the browser's own sign is easily missed in the sun. Without a network, stay on
// a page that goes on rather than leave it for one that cannot be opened: no browser's error stands where something was being typed.
const SLOW = 700; // ms
let timer = 0;

function say(text = "Working on it ...") {
  const note = document.createElement("p");
  note.className = "slow";
  note.setAttribute("role", "status");
  note.textContent = text;
  document.body.append(note);
}

function begin() {
  clearTimeout(timer);
  timer = setTimeout(() => say(), SLOW);
}

function end() {
  clearTimeout(timer);
  document.querySelectorAll(".slow").forEach((note) => note.remove());
}

function stay(event, text) {
  event.preventDefault();
  end();
  say(text);
}

// A worker shows what it keeps, or says that it does not; without one there is nothing but the page that is open.
const alone = () => !navigator.onLine && !navigator.serviceWorker?.controller;

addEventListener("submit", (event) => {
  if (event.defaultPrevented) return;
  if (!navigator.onLine) stay(event, "No network just now: this cannot be sent. It stands as it is; press again once there is one.");
  else begin();
});
addEventListener("click", (event) => {
  const link = event.target.closest?.("a[href]");
  const leaves = link && !link.hasAttribute("download") && !link.target && link.origin === location.origin;
  const plain = !event.defaultPrevented && !event.ctrlKey && !event.metaKey && !event.shiftKey && event.button === 0;
  if (!leaves || !plain || link.getAttribute("href").startsWith("#")) return;
  if (alone()) stay(event, `No network just now: “${link.textContent.trim()}” cannot be opened. This page goes on.`);
  else if (!/\.(pdf|zip|svg|dxf|glb|stl|ics)$/.test(link.pathname)) begin();
});
addEventListener("online", end);
addEventListener("pagehide", end);
addEventListener("pageshow", end);
