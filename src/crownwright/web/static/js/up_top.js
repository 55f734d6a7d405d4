// One reading after another: asked by name, typed on our own keypad, kept on this phone first. It goes on without a network.
import * as outbox from "./outbox.js";
import { askBook, renew } from "./by_book.js";
import { Drafts } from "./drafts.js";
import { fields } from "./fields.js";
import { Keypad } from "./keypad.js";
import { Provisional } from "./provisional.js";
import { changeOf, passed, Readings, removalOf, same, valuesOf } from "./readings.js";
import { markStep, pointed } from "./sketch.js";
import { drawStrip, newStrip } from "./strip.js";
import { typedFrom } from "./tape.js";

const root = document.getElementById("top");
const { units, bare } = root.dataset;
const about = document.querySelector('meta[name="job"]');
const job = about.content;
const SKIPPED = `crownwright-skipped-${job}`;
const ask = document.getElementById("ask");
const form = document.getElementById("typed");
const box = document.getElementById("values");
const strip = newStrip();
const says = document.createElement("p");
const readings = new Readings(root);
const own = new Provisional(root, readings);
const drafts = new Drafts(job);
const ALOUD = 300; // ms the book has to answer before the phone says what it makes of a reading by itself
let skipped = new Set(JSON.parse(localStorage.getItem(SKIPPED) || "[]"));
let step = null;
let values = {};
let active = 0;
let touched = false;
let chosen = false;
let trying = 0;
let turns = 0;
let warned = "";
let looking = 0;

const pad = document.getElementById("pad");
says.id = "says-now";
says.setAttribute("aria-live", "polite");
pad.append(says, strip);
const keypad = new Keypad(pad, units, bare, { typed, enter });

function button(text, pressed) {
  const one = document.createElement("button");
  one.type = "button";
  one.textContent = text;
  one.addEventListener("click", pressed);
  return one;
}

const skip = button("Skip", passOver);
const takeOut = button("Take it out", remove);
form.querySelector(".plain")?.remove();
const others = document.createElement("p");
others.className = "row others";
others.append(takeOut);
document.querySelector(".asked").append(skip);
box.after(others);
document.body.classList.add("padded");

function set(key, value) {
  values[key] = value;
  touched = true;
  drafts.put(step.key, values);
}

function fill() {
  box.replaceChildren(...fields(step.asks, values, { activate, choose }));
}

function choose(i, value) {
  set(step.asks[i].key, value);
  activate(following(i) ?? i);
}

// The field after this one that is still empty, or before it and not to be left out.
function following(i) {
  const empty = (k) => !values[step.asks[k].key];
  const order = step.asks.map((_, k) => k);
  return order.find((k) => k > i && empty(k)) ?? order.find((k) => k < i && empty(k) && !step.asks[k].may) ?? null;
}

function activate(i) {
  active = i;
  const one = step.asks[i];
  [...box.children].forEach((child, k) => child.classList.toggle("active", k === i));
  pad.hidden = false;
  keypad.begin(one.signed, following(i) === null ? "Keep" : "Next");
  drawStrip(strip, values[one.key], units, bare);
  reveal(box.children[i]);
}

// The pad stays at the foot of the window; what is typed into stays above it.
function reveal(child) {
  const over = child.getBoundingClientRect().bottom + 8 - pad.getBoundingClientRect().top;
  if (over > 0) scrollBy(0, over);
}

function show(next) {
  step?.item.classList.remove("here");
  step = next;
  const from = step && drafts.of(step.key)?.values;
  touched = Boolean(from);
  chosen = false;
  say("");
  document.getElementById("ask-says").textContent = !step ? "Enough is read" : step.doubted ? `Read ${step.name} again` : step.ask;
  document.getElementById("ask-why").textContent = step ? step.why : enough();
  skip.hidden = !step || step.add || (readings.taken(step) && !step.again && !step.doubted);
  takeOut.hidden = !step?.now || !step.path.includes("[");
  pad.hidden = !step;
  markStep(step);
  if (!step) {
    box.replaceChildren();
    return;
  }
  step.item.classList.add("here");
  values = { ...valuesOf(step), ...from };
  fill();
  activate(Math.max(step.asks.findIndex((one) => !values[one.key] && !one.may), 0));
}

function enough() {
  const left = readings.steps.filter((one) => !one.add && !readings.taken(one)).length;
  if (left) return `Passed over: ${left}. Touch one in the list to read it after all.`;
  return "Nothing more is asked for. Photos of the four faces, then you may climb down.";
}

function say(text, bad = false) {
  says.textContent = text;
  says.classList.toggle("bad", bad);
  if (text && box.children[active]) reveal(box.children[active]);
}

function typed(text) {
  set(step.asks[active].key, text);
  const input = box.children[active].querySelector("input:not([type=radio])");
  if (input) input.value = text;
  drawStrip(strip, text, units, bare);
  clearTimeout(trying);
  trying = setTimeout(tryIt, 400);
}

// What it would do to the closing: as the book says; as this phone can tell where the book is slow to answer, or cannot be asked.
async function tryIt() {
  const asked = step;
  const turn = (turns += 1);
  if (!asked || asked.add || following(-1) !== null) return;
  const sayOwn = () => { if (turn === turns && asked === step) say(...Object.values(own.tried(asked, values))); };
  const aloud = setTimeout(sayOwn, navigator.onLine ? ALOUD : 0);
  try {
    const told = await askBook(asked.key, values);
    clearTimeout(aloud);
    if (turn === turns && asked === step) say(told.says[0] ?? "", told.fault || told.closes === false);
  } catch {
    clearTimeout(aloud);
    sayOwn();
  }
}

// A value far from what it can be, or from what is usual, is asked once more; typed again, or kept again, it stands.
function wild(one) {
  const odd = own.odd(step, one.key, values[one.key]);
  const asked = `${step.key} ${one.key} ${values[one.key]}`;
  if (!odd || warned === asked) return false;
  warned = asked;
  clearTimeout(trying);
  turns += 1;
  say(`${odd} Look again; press once more if it stands.`, true);
  return true;
}

function enter() {
  const one = step.asks[active];
  if (!values[one.key] && !one.may) {
    say("Type it first, or skip it.", true);
    return;
  }
  if (values[one.key] && wild(one)) return;
  const next = following(active);
  if (next !== null) activate(next);
  else commit(changeOf(step, values));
}

// The next reading is asked at once; the entry is on the phone a moment later, or its reading is shown again with what is wrong.
async function commit({ item, change }, removed = false) {
  const kept = step;
  const { id = outbox.newId() } = drafts.of(kept.key) ?? {};
  const typedNow = Object.values(values).filter(Boolean).join(", ");
  clearTimeout(trying);
  own.reread(kept);
  if (!removed && !kept.add && !kept.again && readings.taken(kept) && same(item, kept.now)) {
    drafts.drop(kept.key);
    advance();
    return;
  }
  const entry = {
    id,
    job,
    base: Number(root.dataset.revision),
    changes: [change],
    says: `${kept.name}: ${removed ? "taken out" : typedNow}`,
    step: kept.key,
    item: removed ? null : item,
    removed,
  };
  if (!kept.add) readings.put(kept, entry);
  drafts.shelve(kept.key);
  advance();
  try {
    await outbox.keep(entry);
  } catch (error) {
    show(kept);
    say(`This phone keeps nothing (${error.message}). Write it down.`, true);
    return;
  }
  drafts.shelved(kept.key, id);
  navigator.vibrate?.(30);
  await overlay();
  if (!touched && !chosen) advance();
}

function advance() {
  show(readings.next(skipped));
  if (!step) return;
  ask.scrollIntoView();
  reveal(box.children[active]);
}

function remove() {
  commit(removalOf(step), true);
}

function passOver() {
  skipped.add(passed(step));
  localStorage.setItem(SKIPPED, JSON.stringify([...skipped]));
  drafts.drop(step.key);
  advance();
}

async function overlay() {
  const rows = (await outbox.rows()).filter((row) => row.job === job);
  drafts.kept(rows);
  readings.overlay(rows, Number(root.dataset.revision));
  clearTimeout(looking);
  looking = setTimeout(() => lookOver(rows), navigator.onLine ? ALOUD : 0);
  return rows;
}

// Whether it closes, as far as this phone can tell while the book has not answered; what is off is asked again.
function lookOver(rows) {
  own.show(rows);
  if (!touched && !chosen && readings.next(skipped) !== step) advance();
}

// The lists as the book has them by now; what is being typed stays.
async function refresh() {
  if (!(await renew(root))) return;
  readings.read();
  await overlay();
  const again = step && readings.of(step.key);
  if (again && (touched || chosen)) {
    again.item.classList.add("here");
    step = again;
    markStep(step);
  } else if (!touched) {
    show(readings.next(skipped));
  }
}

let fetching = 0;
outbox.onChange(async ({ detail }) => {
  const rows = await overlay();
  if (!detail || detail.job !== job || rows.some((row) => row.state === "waiting")) return;
  clearTimeout(fetching);
  fetching = setTimeout(() => refresh().catch(() => {}), 150);
});

root.addEventListener("click", (event) => {
  const link = event.target.closest(".reading a");
  if (!link) return;
  event.preventDefault();
  show(readings.of(link.parentElement.dataset.key));
  chosen = true;
  ask.scrollIntoView();
  reveal(box.children[active]);
});

ask.addEventListener("click", (event) => {
  if (!event.target.closest("#sketch")) return;
  const found = pointed(event, step);
  if (!found) return;
  const put = { side: found.side, along: typedFrom(found.along, units, bare), inward: found.inward ? typedFrom(found.inward, units, bare) : "" };
  for (const one of step.asks) if (one.key in put) set(one.key, put[one.key]);
  const place = found.place;
  const last = step.asks.length - 1;
  fill();
  activate(last);
  markStep(step, place);
});

form.addEventListener("submit", (event) => { event.preventDefault(); if (step) enter(); });
addEventListener("keydown", (event) => { if (step && !pad.hidden) keypad.typedOn(event); });

await overlay();
drafts.unshelve();
const asked = new URLSearchParams(location.search).get("at");
show(readings.of(drafts.last) ?? readings.of(asked) ?? readings.next(skipped));
chosen = Boolean(step) && step === readings.of(asked); // asked for by its address: it stays until he has typed it
if (step) ask.scrollIntoView();
