// Say so when the next page takes longer than a moment; the browser's own sign is easily missed in the sun.
const SLOW = 700; // ms
let timer = 0;

function say() {
  const note = document.createElement("p");
  note.className = "slow";
  note.setAttribute("role", "status");
  note.textContent = "Working on it ...";
  document.body.append(note);
}

function begin() {
  clearTimeout(timer);
  timer = setTimeout(say, SLOW);
}

function end() {
  clearTimeout(timer);
  document.querySelectorAll(".slow").forEach((note) => note.remove());
}

addEventListener("submit", (event) => { if (!event.defaultPrevented) begin(); });
addEventListener("click", (event) => {
  const link = event.target.closest?.("a[href]");
  const leaves = link && !link.hasAttribute("download") && !link.target && link.origin === location.origin;
  const plain = !event.defaultPrevented && !event.ctrlKey && !event.metaKey && !event.shiftKey && event.button === 0;
  if (leaves && plain && !link.getAttribute("href").startsWith("#") && !/\.(pdf|zip|svg|dxf|glb|stl|ics)$/.test(link.pathname)) begin();
});
addEventListener("pagehide", end);
addEventListener("pageshow", end);
