// Draws the plan anew as a choice changes: what is typed stays in its field, and nothing is kept until Keep is pressed.
import { sentAs } from "./sent.js";

const form = document.getElementById("choices");
let running = null;
let waiting = 0;

function swap(part) {
  for (const id of ["answer", "depth"]) {
    const fresh = part.getElementById(id);
    const stale = document.getElementById(id);
    if (!fresh || !stale) continue;
    for (const open of stale.querySelectorAll("details[open][data-key]")) {
      const same = fresh.querySelector(`details[data-key="${CSS.escape(open.dataset.key)}"]`);
      if (same) same.open = true;
    }
    const large = [...stale.querySelectorAll(".magnify input")].map((box) => box.checked);
    fresh.querySelectorAll(".magnify input").forEach((box, i) => { box.checked = Boolean(large[i]); });
    stale.replaceWith(document.adoptNode(fresh));
  }
}

async function ask(signal) {
  const answer = await fetch(`${form.dataset.try}?part=answer`, { method: "POST", body: sentAs(form), signal });
  if (!answer.ok) throw new Error(String(answer.status));
  return new DOMParser().parseFromString(await answer.text(), "text/html");
}

async function redraw() {
  running?.abort();
  running = new AbortController();
  document.getElementById("answer")?.setAttribute("aria-busy", "true");
  try {
    swap(await ask(running.signal));
  } catch (error) {
    if (error.name === "AbortError") return;
    const said = document.createElement("p");
    said.className = "note bad";
    said.textContent = "The desk cannot be reached: what is drawn is as it was. What you typed stands; press Keep when it answers again.";
    document.getElementById("answer")?.prepend(said);
  }
  document.getElementById("answer")?.removeAttribute("aria-busy");
}

if (form) {
  form.querySelector("[data-see]").hidden = true;
  form.addEventListener("input", () => {
    form.classList.add("dirty");
    clearTimeout(waiting);
    waiting = setTimeout(redraw, 300);
  });
}
