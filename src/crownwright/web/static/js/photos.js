// Photos are kept on this phone first and sent when the book answers.
import * as outbox from "./outbox.js";

const MOST = 40e6;
const form = document.getElementById("camera");
const job = document.querySelector('meta[name="job"]').content;

function tell(text) {
  const said = document.createElement("p");
  said.className = "note bad";
  said.setAttribute("role", "alert");
  said.textContent = text;
  form.before(said);
}

form.addEventListener("submit", async (event) => {
  const files = [...form.elements.photo.files];
  const note = form.elements.note.value.trim();
  event.preventDefault();
  form.parentElement.querySelectorAll('[role="alert"]').forEach((one) => one.remove());
  if (!files.length) { tell("No photo was chosen."); return; }
  const large = files.find((file) => file.size > MOST);
  if (large) { tell(`${large.name} has ${Math.round(large.size / 1e6)} MB; 40 are the most. Send a smaller one.`); return; }
  try {
    for (const file of files) {
      await outbox.keep({ job, url: `/job/${job}/photos`, file, name: file.name, note, says: `Photo ${note || file.name}` });
    }
    form.reset();
  } catch {
    form.submit(); // this browser cannot keep a photo: it goes as any form does
  }
});

outbox.onChange(async ({ detail }) => {
  if (!detail?.url || detail.job !== job) return;
  const answer = await fetch(location.pathname, { headers: { accept: "text/html" } }).catch(() => null);
  if (!answer?.ok) return;
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const fresh = page.getElementById("kept");
  if (fresh) document.getElementById("kept").replaceWith(fresh);
});
