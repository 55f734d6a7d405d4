// What is typed is kept on this phone first, then sent, oldest first, until the book has said yes. Sending twice is harmless:
// each entry carries an id made here.
//   keep({ job, base, changes, says, step, values }) -> the row, once it is kept
//   rows() -> all rows; state: "waiting", "sent" (with its revision), "refused" (why), "met" (what another device typed)
//   photo rows carry { url, file, name, note } in place of changes; straight(row) sends one that the phone cannot keep
import * as store from "./store.js";

const FIRST = 1000;
const LONGEST = 60000;
const PATIENCE = 20000;
const SHELF = "crownwright-shelf";
const KEPT_SENT = 3 * 24 * 3600 * 1000;
const LATER = new Set([401, 403, 408, 409, 425, 429]);
const bell = new EventTarget();
let token = document.querySelector('meta[name="form-token"]')?.content ?? "";
let pause = FIRST;
let timer = 0;
let sending = false;
let asked = false;
export let trouble = "";

// crypto.randomUUID is there on secure pages only, and a phone on the mason's own network is not on one.
export function newId() {
  return Array.from(crypto.getRandomValues(new Uint8Array(12)), (b) => b.toString(16).padStart(2, "0")).join("");
}

export function onChange(heard) {
  bell.addEventListener("change", heard);
}

function ring(sent = null) {
  bell.dispatchEvent(new CustomEvent("change", { detail: sent }));
}

export async function rows() {
  await ready;
  return store.all();
}

// On the shelf, which is written at once, until the store has it: the page may be closed in the same instant.
export async function keep(entry) {
  const row = { id: newId(), typed_at: new Date().toISOString(), state: "waiting", why: "", ...entry };
  if (!row.file) shelve(row);
  try {
    row.n = await store.add(row);
  } finally {
    unshelve(row.id);
  }
  ring();
  send();
  return row;
}

// A row that cannot be kept, sent while the page is open. Empty once the book has it, otherwise why it has not.
export async function straight(entry) {
  const row = { id: newId(), ...entry };
  try {
    let answer = await post(row);
    if (answer.status === 403 && (await freshToken())) answer = await post(row);
    if (!answer.ok) return (await said(answer)) || `The book answers ${answer.status}.`;
  } catch {
    return "The book does not answer.";
  }
  ring(row);
  return "";
}

// Whether this browser has a place for files; one that is full says so only when something is put there.
export function keepsPhotos() {
  return store.takesFiles();
}

function shelf() {
  return JSON.parse(localStorage.getItem(SHELF) || "{}");
}

function shelve(row) {
  try {
    localStorage.setItem(SHELF, JSON.stringify({ ...shelf(), [row.id]: row }));
  } catch {
    // full: the store says so if it is, too
  }
}

function unshelve(id) {
  const { [id]: _there, ...others } = shelf();
  localStorage.setItem(SHELF, JSON.stringify(others));
}

// What a page before this one could put on the shelf, but not in the store any more.
async function recover() {
  const left = Object.values(shelf());
  if (!left.length) return;
  const there = new Set((await store.all()).map((row) => row.id));
  for (const row of left) {
    if (!there.has(row.id)) await store.add(row);
    unshelve(row.id);
  }
}

export async function forget(n) {
  await store.remove(n);
  ring();
}

export async function again(row) {
  await store.put({ ...row, state: "waiting", why: "" });
  ring();
  send();
}

export async function send() {
  asked = true;
  if (sending) return;
  sending = true;
  clearTimeout(timer);
  try {
    while (asked) {
      asked = false;
      for (const row of (await store.all()).filter((r) => r.state === "waiting")) {
        if (await deliver(row)) continue;
        timer = setTimeout(send, pause);
        pause = Math.min(pause * 2, LONGEST);
        asked = false;
        break;
      }
    }
  } finally {
    sending = false;
  }
}

// True when the book has answered for good, one way or the other.
async function deliver(row) {
  let answer;
  try {
    answer = await post(row);
    if (answer.status === 403 && (await freshToken())) answer = await post(row);
    if (answer.status >= 500 || LATER.has(answer.status)) throw new Error((await said(answer)) || `the book answers ${answer.status}`);
    const told = await answer.json();
    await store.put(settled(row, told));
  } catch (error) {
    trouble = error instanceof TypeError || error.name === "AbortError" || error.name === "TimeoutError" ? "" : error.message;
    ring();
    return false;
  }
  pause = FIRST;
  trouble = "";
  ring(row);
  return true;
}

function settled(row, told) {
  const { file: _sent, ...rest } = row;
  if (!told.accepted) return { ...row, state: "refused", why: `${told.what}. ${told.remedy}` };
  if (told.conflicts?.length) return { ...rest, state: "met", revision: told.revision, conflicts: told.conflicts };
  const problem = told.problems?.[0];
  if (problem) return { ...row, state: "refused", why: `${problem.what}. ${problem.remedy}` };
  return { ...rest, state: "sent", revision: told.revision, sent_at: Date.now() };
}

async function said(answer) {
  try {
    const told = await answer.json();
    return `${told.what}. ${told.remedy}`;
  } catch {
    return "";
  }
}

function post(row) {
  const headers = { accept: "application/json", "x-form-token": token };
  const signal = AbortSignal.timeout ? AbortSignal.timeout(row.file ? 6 * PATIENCE : PATIENCE) : undefined;
  if (row.file) {
    const body = new FormData();
    body.append("photo", row.file, row.name);
    body.append("note", row.note || "");
    body.append("id", row.id);
    return fetch(row.url, { method: "POST", body, headers, signal });
  }
  const body = JSON.stringify({ id: row.id, base: row.base, typed_at: row.typed_at, changes: row.changes });
  return fetch(`/job/${row.job}/entries`, { method: "POST", body, headers: { ...headers, "content-type": "application/json" }, signal });
}

// A page kept on the phone may carry the token of a sitting that is over.
async function freshToken() {
  const answer = await fetch("/", { headers: { accept: "text/html" }, cache: "no-store" });
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const fresh = page.querySelector('meta[name="form-token"]')?.content;
  const changed = Boolean(fresh) && fresh !== token;
  token = fresh || token;
  return changed;
}

async function tidy() {
  for (const row of await store.all()) {
    if (row.state === "sent" && Date.now() - row.sent_at > KEPT_SENT) await store.remove(row.n);
  }
}

function now() {
  pause = FIRST;
  send();
}

addEventListener("online", now);
addEventListener("focus", now);
addEventListener("pageshow", now);
document.addEventListener("visibilitychange", () => { if (!document.hidden) now(); });
const ready = recover().catch(() => {});
ready.then(tidy).finally(send);
