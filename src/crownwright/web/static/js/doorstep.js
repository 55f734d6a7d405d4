// Shows what the answers come to as they are given.
import { sentAs } from "./sent.js";

const form = document.getElementById("door");
let running = null;
let waiting = 0;

async function redraw() {
  running?.abort();
  running = new AbortController();
  const asked = sentAs(form);
  for (const name of ["form_token", "id", "title", "customer", "place"]) asked.delete(name);
  document.getElementById("seen").setAttribute("aria-busy", "true");
  try {
    const answer = await fetch(`/doorstep?${asked}&part=seen`, { signal: running.signal });
    const fresh = new DOMParser().parseFromString(await answer.text(), "text/html").getElementById("seen");
    if (answer.ok && fresh) document.getElementById("seen").replaceWith(document.adoptNode(fresh));
  } catch (error) {
    if (error.name === "AbortError") return;
    const said = document.createElement("p");
    said.className = "note bad";
    said.textContent = "The book cannot be reached just now. What you chose stands; it is worked out when it answers.";
    document.getElementById("seen").replaceChildren(said);
    waiting = setTimeout(redraw, 5000);
  }
  document.getElementById("seen").removeAttribute("aria-busy");
}

document.body.classList.add("live");
form.addEventListener("input", (event) => {
  if (["title", "customer", "place"].includes(event.target.name)) return;
  clearTimeout(waiting);
  waiting = setTimeout(redraw, 250);
});
form.addEventListener("keydown", (event) => { if (event.key === "Enter" && event.target.id !== "title") event.preventDefault(); });
addEventListener("online", redraw);
