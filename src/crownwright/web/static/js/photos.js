// Photos are kept on this phone first and sent when the book answers.
import * as outbox from "./outbox.js";
import { keepShot, NO_PLACE, tooLarge } from "./shots.js";

const form = document.getElementById("camera");
const job = document.querySelector('meta[name="job"]').content;
const trouble = Object.assign(document.createElement("p"), { className: "note bad", hidden: true });
trouble.setAttribute("role", "alert");
form.before(trouble);
const ids = new WeakMap(); // of what is chosen: sent again after an answer that was lost, a photo is the same one
const done = new WeakSet();

function tell(text) {
  trouble.textContent = text;
  trouble.hidden = !text;
}

form.addEventListener("submit", async (event) => {
  const files = [...form.elements.photo.files];
  const note = form.elements.note.value.trim();
  event.preventDefault();
  tell("");
  if (!files.length) { tell("No photo was chosen."); return; }
  if (tooLarge(files)) { tell(tooLarge(files)); return; }
  for (const file of files.filter((one) => !done.has(one))) {
    if (!ids.has(file)) ids.set(file, outbox.newId());
    const row = { id: ids.get(file), job, url: `/job/${job}/photos`, file, name: file.name, note, says: `Photo ${note || file.name}` };
    if (!(await keepShot(row, tell))) return; // what was chosen stays in the form, to be sent again
    done.add(file);
  }
  form.reset();
});

if (!(await outbox.keepsPhotos())) tell(NO_PLACE);

outbox.onChange(async ({ detail }) => {
  if (!detail?.url || detail.job !== job) return;
  const answer = await fetch(location.pathname, { headers: { accept: "text/html" } }).catch(() => null);
  if (!answer?.ok) return;
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const fresh = page.getElementById("kept");
  if (fresh) document.getElementById("kept").replaceWith(fresh);
});
