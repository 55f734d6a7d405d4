// The slip that says what waits on this phone, what the book refused, and what met another device's reading. It is on every page,
// and what waits is sent from every page.
import * as outbox from "./outbox.js";

const here = document.querySelector('meta[name="job"]')?.content;

function made(kind, text = "", more = {}) {
  const one = document.createElement(kind);
  one.textContent = text;
  return Object.assign(one, more);
}

function button(text, pressed) {
  const one = made("button", text, { type: "button" });
  one.addEventListener("click", pressed);
  return one;
}

function plain(value) {
  if (value === null || value === undefined || value === "null") return "nothing";
  try {
    const read = typeof value === "string" ? JSON.parse(value) : value;
    return typeof read === "object" && read ? Object.values(read).join(", ") : String(read ?? "nothing");
  } catch {
    return String(value);
  }
}

function line(row) {
  const item = made("li");
  item.dataset.state = row.state;
  item.append(made("strong", row.says || "A change"));
  if (row.job !== here) item.append(" ", made("a", "in another job", { href: `/job/${row.job}`, className: "go" }));
  if (row.state === "waiting") item.append(" waits");
  if (row.state === "refused") {
    item.append(made("p", `Not taken: ${row.why}`));
    item.append(button("Send it again", () => outbox.again(row)), button("Take it off", () => outbox.forget(row.n)));
  }
  if (row.state === "met") {
    for (const met of row.conflicts) item.append(made("p", `Another device has ${plain(met.theirs)}; you typed ${plain(met.mine)}. Both are kept.`));
    item.append(made("a", "Say which holds", { href: `/job/${row.job}/history`, className: "go" }));
    item.append(button("Seen", () => outbox.forget(row.n)));
  }
  return item;
}

function heading(waiting, told) {
  if (waiting === 1) return "1 entry waits on this phone and goes when the book answers.";
  if (waiting) return `${waiting} entries wait on this phone and go when the book answers.`;
  return told ? "Look at what the book answered." : "";
}

async function draw() {
  const rows = (await outbox.rows()).filter((row) => row.state !== "sent");
  let slip = document.getElementById("outbox");
  if (!slip) {
    slip = made("section", "", { id: "outbox", className: "outbox" });
    slip.setAttribute("aria-label", "Waiting on this phone");
    slip.setAttribute("aria-live", "polite");
    document.querySelector("main")?.prepend(slip);
  }
  slip.hidden = rows.length === 0;
  const waiting = rows.filter((row) => row.state === "waiting").length;
  const whole = made("details");
  const told = String(rows.length - waiting);
  whole.open = Boolean(slip.querySelector("details")?.open) || (told !== "0" && slip.dataset.told !== told);
  slip.dataset.told = told;
  whole.append(made("summary", heading(waiting, rows.length > waiting)));
  if (outbox.trouble) whole.append(made("p", outbox.trouble));
  const list = made("ul");
  list.append(...rows.map(line));
  whole.append(list);
  slip.replaceChildren(whole);
}

outbox.onChange(draw);
draw();
