// What the book says of the readings, asked from the page that is open.
const PATIENCE = 4000; // ms

// What values not kept yet would do to the closing: { says, closes, fault, suspect }. Throws where the book cannot be asked.
export async function askBook(step, values) {
  const token = document.querySelector('meta[name="form-token"]').content;
  const answer = await fetch(location.pathname, {
    method: "POST",
    headers: { "content-type": "application/json", accept: "application/json", "x-form-token": token },
    body: JSON.stringify({ step, values }),
    signal: AbortSignal.timeout?.(PATIENCE),
  });
  if (!answer.ok) throw new Error(String(answer.status));
  return answer.json();
}

// The page as the book has it by now, put in the place of the lists. True where it is no older than what was there.
export async function renew(root) {
  const answer = await fetch(location.pathname, { headers: { accept: "text/html" } });
  if (!answer.ok || answer.redirected) return false;
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const fresh = page.getElementById("top");
  if (!fresh || Number(fresh.dataset.revision) < Number(root.dataset.revision)) return false;
  root.dataset.revision = fresh.dataset.revision;
  for (const id of ["closes", "readings", "adds"]) document.getElementById(id).replaceWith(fresh.querySelector(`#${id}`));
  root.querySelectorAll("template").forEach((one) => one.remove());
  root.append(...fresh.querySelectorAll("template"));
  document.getElementById("sketch").replaceWith(fresh.querySelector("#sketch"));
  return true;
}
