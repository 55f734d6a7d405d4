// Pour day: clocks that run, and a log that is kept on the phone first and sent when the network lets it.
import * as outbox from "./outbox.js";

const job = document.querySelector('meta[name="job"]');

function span(seconds) {
  const minutes = Math.round(Math.abs(seconds) / 60);
  const hours = Math.floor(minutes / 60);
  if (minutes >= 48 * 60) return `${Math.round(hours / 24)} d`;
  return hours ? `${hours} h ${minutes % 60} min` : `${minutes} min`;
}

function tick() {
  for (const clock of document.querySelectorAll("[data-at]")) {
    const seconds = (Date.parse(clock.dataset.at) - Date.now()) / 1000;
    if (Number.isNaN(seconds)) continue;
    clock.textContent = seconds > 0 ? `in ${span(seconds)}` : `${span(seconds)} ${clock.dataset.past}`;
    clock.closest(".left")?.classList.toggle("over", seconds <= 0);
  }
}

function typed(form, pressed) {
  const sent = new FormData(form, pressed);
  const value = { at: new Date().toISOString() };
  for (const [name, text] of sent) {
    if (name.startsWith("log:") && String(text).trim()) value[name.slice(4)] = String(text).trim();
  }
  return [sent.get("list"), value];
}

async function log(event) {
  event.preventDefault();
  const form = event.target;
  const [list, value] = typed(form, event.submitter);
  const says = form.dataset.says ? `${form.dataset.says}: ${value.bags ?? value.temperature}` : value.note || value.what;
  event.submitter.disabled = true;
  try {
    await outbox.keep({ job: job.content, base: Number(job.dataset.head), changes: [{ path: `day.${list}[+]`, value }], says });
    form.reset();
  } catch {
    form.removeEventListener("submit", log); // this browser keeps nothing: the form sends itself
    form.requestSubmit(event.submitter);
  }
  event.submitter.disabled = false;
}

async function redraw() {
  try {
    const answer = await fetch(`${location.pathname}?part=now`);
    if (!answer.ok) return;
    const part = new DOMParser().parseFromString(await answer.text(), "text/html");
    for (const id of ["now", "log"]) {
      const fresh = part.getElementById(id);
      if (fresh) document.getElementById(id)?.replaceWith(document.adoptNode(fresh));
    }
    tick();
  } catch {
    // no network: the clocks run on as they were
  }
}

for (const form of document.querySelectorAll("form[data-log]")) form.addEventListener("submit", log);
outbox.onChange((event) => { if (event.detail) redraw(); });
tick();
setInterval(tick, 15000);
setInterval(redraw, 300000);
