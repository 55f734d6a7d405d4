// What was found: a tick is kept on this phone at once, then what is measured of it; photos of it go the same way.
import * as outbox from "./outbox.js";
import { Findings, foundNow, told, telling } from "./findings.js";
import { Keypad } from "./keypad.js";
import { Looks } from "./looks.js";
import { keepShot, tooLarge } from "./shots.js";

const root = document.getElementById("found");
const { units, bare } = root.dataset;
const job = document.querySelector('meta[name="job"]').content;
const DRAFT = `crownwright-found-${job}`;
const more = document.getElementById("more");
const form = document.getElementById("tell");
const box = document.getElementById("values");
const pad = document.getElementById("pad");
const findings = new Findings(root);
const looks = new Looks(document.getElementById("looks"), keepLook);
const keypad = new Keypad(pad, units, bare, { typed, enter });
let one = null;
let values = {};
let active = null;

function made(kind, more_ = {}, ...inside) {
  const it = Object.assign(document.createElement(kind), more_);
  it.append(...inside);
  return it;
}

const camera = made("input", { type: "file", accept: "image/*,.heic,.heif", multiple: true });
const trouble = made("p", { className: "note bad", hidden: true });
trouble.setAttribute("role", "alert");
document.getElementById("with-script").append(trouble, made("label", { className: "shoot" }, made("span", { textContent: "Photo of it" }), camera));
document.getElementById("with-script").hidden = false;
document.querySelector("#ticks .plain").remove();
box.classList.add("counted");

// Put in the outbox, or why that cannot be.
async function put(row) {
  try {
    await outbox.keep({ job, base: Number(root.dataset.revision), ...row });
    navigator.vibrate?.(30);
    return "";
  } catch (error) {
    return `This phone keeps nothing (${error.message}). Write it down.`;
  }
}

// Kept on the phone, or said that it cannot be.
async function keep(changes, after, says) {
  const soon = { ...after, state: "waiting" };
  findings.soon.set(after.key, soon);
  findings.put(soon);
  draw();
  const wrong = await put({ changes, says, finding: { ...after, state: undefined } });
  if (findings.soon.get(after.key) === soon) findings.soon.delete(after.key);
  if (wrong) findings.read();
  await overlay();
  tell(wrong);
  return !wrong;
}

async function keepLook(changes, says, look) {
  const wrong = await put({ changes, says, look });
  if (wrong) looks.soon.delete(look.path);
  await overlay();
  tell(wrong);
}

function tell(text) {
  trouble.textContent = text;
  trouble.hidden = !text;
  if (text && more.hidden) root.before(trouble);
}

function field(tell_) {
  const id = `tell-${tell_.key}`;
  const plain = tell_.kind === "text";
  const input = made("input", { id, name: tell_.key, value: values[tell_.key], autocomplete: "off", readOnly: !plain, inputMode: plain ? "text" : "none" });
  if (plain) input.addEventListener("input", () => set(tell_.key, input.value.trim()));
  input.addEventListener("focus", () => (plain ? rest() : activate(tell_.key)));
  input.addEventListener("click", () => { if (!plain) activate(tell_.key); });
  return made("div", { className: `field${plain ? " wide" : ""}` }, made("label", { htmlFor: id, textContent: tell_.label }), input);
}

function set(key, value) {
  values[key] = value;
  localStorage.setItem(DRAFT, JSON.stringify({ key: one.key, values }));
}

function draft() {
  const kept = JSON.parse(localStorage.getItem(DRAFT) || "{}");
  return kept.key ? kept : null;
}

function open(finding, from = {}) {
  one = finding;
  values = { ...Object.fromEntries(one.tells.map(({ key, typed: there }) => [key, there])), ...from };
  tell("");
  document.getElementById("more-says").textContent = one.name;
  box.replaceChildren(...one.tells.map(field));
  form.querySelector('[name="remove"]').hidden = !one.found;
  document.getElementById("another").hidden = !one.found;
  more.hidden = false;
  rest();
  more.scrollIntoView();
}

function close() {
  one = null;
  localStorage.removeItem(DRAFT);
  more.hidden = true;
  rest();
}

function rest() {
  active = null;
  pad.hidden = true;
  mark();
}

function mark() {
  for (const child of box.children) child.classList.toggle("active", Boolean(active) && child.querySelector("input").name === active);
}

function activate(key) {
  if (key === active) return;
  active = key;
  mark();
  pad.hidden = false;
  keypad.begin(false, following() ? "Next" : "Done");
  const child = box.querySelector(".active");
  const over = child.getBoundingClientRect().bottom + 8 - pad.getBoundingClientRect().top;
  if (over > 0) scrollBy(0, over);
}

function following() {
  const keys = one.tells.filter(({ kind }) => kind !== "text").map(({ key }) => key);
  return keys[keys.indexOf(active) + 1] ?? null;
}

function typed(text) {
  const value = one.tells.find(({ key }) => key === active).kind === "count" ? text.replace(/\D.*$/, "") : text;
  set(active, value);
  box.querySelector(".active input").value = value;
}

function enter() {
  const next = following();
  if (next) activate(next);
  else rest();
}

// The lists as they are with what waits; what is typed stays.
function draw() {
  for (const input of root.querySelectorAll("#ticks [data-finding]")) input.checked = Boolean(findings.of.get(JSON.parse(input.dataset.finding).key)?.found);
  const list = made("ul", { className: "readings" }, ...findings.found.map(line));
  const place = document.getElementById("so-far");
  place.replaceChildren(place.querySelector("h2"), findings.found.length ? list : made("p", { textContent: "Nothing yet." }));
}

function line(finding) {
  const link = made("a", { href: "#more" }, made("span", { textContent: finding.name }), " ", made("b", { textContent: told(finding) || "to measure" }));
  const item = made("li", { className: `reading taken ${{ waiting: "waiting", refused: "refused", met: "refused" }[finding.state] ?? ""}` }, link);
  item.dataset.key = finding.key;
  link.addEventListener("click", (event) => { event.preventDefault(); open(findings.of.get(finding.key)); });
  item.append(...(finding.photos ?? []).map((name) => made("p", { className: "of", textContent: name })));
  return item;
}

async function overlay() {
  const rows = (await outbox.rows()).filter((row) => row.job === job);
  findings.overlay(rows, Number(root.dataset.revision));
  looks.overlay(rows, Number(root.dataset.revision));
  draw();
  return rows;
}

async function refresh() {
  const answer = await fetch(location.pathname, { headers: { accept: "text/html" } });
  if (!answer.ok || answer.redirected) return;
  const fresh = new DOMParser().parseFromString(await answer.text(), "text/html").getElementById("found");
  if (!fresh || Number(fresh.dataset.revision) < Number(root.dataset.revision)) return;
  root.dataset.revision = fresh.dataset.revision;
  const inner = { so: fresh.querySelector("#so-far"), ticks: fresh.querySelector("#ticks") };
  inner.ticks.querySelector(".plain").remove();
  document.getElementById("so-far").replaceWith(inner.so);
  document.getElementById("ticks").replaceWith(inner.ticks);
  looks.renew(fresh);
  findings.read();
  await overlay();
}

root.addEventListener("change", async ({ target }) => {
  if (!target.matches("#ticks [data-finding]")) return;
  const finding = findings.of.get(JSON.parse(target.dataset.finding).key);
  if (!target.checked) {
    if (one?.key === finding.key) close();
    await keep([{ path: finding.path, remove: true, was: finding.item }], { ...finding, found: false }, `${finding.name}: taken off`);
  } else { // asked for more at once: the phone's store may be slow
    const after = { ...finding, found: true };
    open(after);
    await keep(foundNow(finding), after, `${finding.name}: found`);
  }
});

form.addEventListener("submit", async (event) => {
  event.preventDefault();
  const before = one;
  if (event.submitter?.name === "remove") {
    close();
    await keep([{ path: before.path, remove: true, was: before.item }], { ...before, found: false }, `${before.name}: taken off`);
    return;
  }
  const { changes, after } = telling(before, values);
  if (changes.length && !(await keep(changes, after, `${before.name}: ${told(after) || "found"}`))) return;
  close();
});

camera.addEventListener("change", async () => {
  const files = [...camera.files];
  if (tooLarge(files)) { tell(tooLarge(files)); return; }
  const of = one;
  const names = [];
  for (const file of files) {
    const name = `${of.name.replace(/[^\w ]/g, "")} ${outbox.newId().slice(0, 6)}${/\.\w{1,5}$/.exec(file.name)?.[0] ?? ".jpg"}`;
    if (!(await keepShot({ job, url: `/job/${job}/photos`, file, name, note: of.name, says: `Photo: ${of.name}` }, tell))) break;
    names.push(name);
  }
  camera.value = "";
  if (!names.length) return;
  const now = one === of ? of : findings.of.get(of.key) ?? of; // he may have gone on meanwhile
  const { changes, after } = telling(now, one === of ? values : {});
  const all = [...changes, ...names.map((name) => ({ path: `${of.path}.photos[+]`, value: name }))];
  const photographed = { ...after, photos: [...(now.photos ?? []), ...names] };
  if (one === of) one = photographed; // what is typed meanwhile is told from there
  await keep(all, photographed, `${of.name}: ${names.length === 1 ? "a photo" : `${names.length} photos`}`);
});

document.getElementById("another").addEventListener("click", (event) => { event.preventDefault(); open(findings.another(one)); });
document.getElementById("all").addEventListener("click", (event) => {
  event.preventDefault();
  const box_ = root.querySelector(`#ticks [name="tick:${CSS.escape(one.key.replace(/#.*/, ""))}"]`);
  close();
  (box_ ?? document.getElementById("ticks")).closest("fieldset, form").scrollIntoView();
});

let fetching = 0;
outbox.onChange(async ({ detail }) => {
  const rows = await overlay();
  if (!detail || detail.job !== job || rows.some((row) => row.state === "waiting")) return;
  clearTimeout(fetching);
  fetching = setTimeout(() => refresh().catch(() => {}), 150);
});

await overlay();
const kept = draft();
const asked = new URLSearchParams(location.search).get("at");
const first = findings.of.get(kept?.key) ?? findings.of.get(asked);
if (first) open(first, kept?.key === first.key ? kept.values : {});
