// Keeps the pages that are wanted on a roof, and what they are made of, on the phone, so that they open without a network.
// A new worker waits until every page of the old one is closed: no code is changed under a half-filled form.
const PAGES = "pages";
const PARTS = "parts";
const WANTED = /^\/(job\/[^/]+(\/(up-top|pour-day))?|doorstep)?$/;
const PATIENCE = 4000;

self.addEventListener("activate", (event) => event.waitUntil(Promise.all([self.clients.claim(), tidy()])));

self.addEventListener("message", (event) => {
  if (Array.isArray(event.data?.keep)) event.waitUntil(keep(event.data.keep, String(event.data.page)));
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || request.cache === "no-store" || url.origin !== location.origin) return;
  if (url.pathname.startsWith("/static/")) event.respondWith(part(request));
  else if (WANTED.test(url.pathname) && request.headers.get("accept")?.includes("text/html")) event.respondWith(page(request, url));
});

// Parts have an address by their content: what is kept under one never changes.
async function part(request) {
  const parts = await caches.open(PARTS);
  const kept = await parts.match(request.url);
  if (kept) return kept;
  const answer = await fetch(request);
  if (answer.ok) await parts.put(request.url, answer.clone());
  return answer;
}

async function page(request, url) {
  const pages = await caches.open(PAGES);
  const key = url.origin + url.pathname;
  try {
    const kept = await pages.match(key);
    const answer = await (kept ? soon(fetch(request)) : fetch(request));
    await note(pages, key, answer).catch(() => {});
    return answer;
  } catch {
    return (await pages.match(key)) ?? absent();
  }
}

// A phone that was shut out keeps nothing of the book.
async function note(pages, key, answer) {
  const html = answer.headers.get("content-type")?.startsWith("text/html");
  if (answer.status === 401 || (answer.redirected && new URL(answer.url).pathname === "/pair")) await caches.delete(PAGES);
  else if (answer.ok && html && !answer.redirected) await pages.put(key, answer.clone());
}

function soon(answer) {
  return Promise.race([answer, new Promise((_, late) => setTimeout(late, PATIENCE))]);
}

function absent() {
  const said = "<!doctype html><meta charset=utf-8><meta name=viewport content='width=device-width'><title>No network</title><h1>No network</h1><p>This page is not kept on this phone. <a href='/'>The book</a></p>";
  return new Response(said, { status: 503, headers: { "content-type": "text/html; charset=utf-8" } });
}

// The page that was open before there was a worker, and its parts.
async function keep(addresses, path) {
  const pages = await caches.open(PAGES);
  const key = location.origin + path;
  if (WANTED.test(path) && !(await pages.match(key))) {
    const answer = await fetch(key, { headers: { accept: "text/html" } }).catch(() => null);
    if (answer) await note(pages, key, answer);
  }
  const parts = await caches.open(PARTS);
  for (const address of addresses) {
    const url = new URL(address, location.origin);
    if (url.origin !== location.origin || !url.pathname.startsWith("/static/") || (await parts.match(url.href))) continue;
    const answer = await fetch(url.href).catch(() => null);
    if (answer?.ok) await parts.put(url.href, answer);
  }
  await tidy();
}

// Parts of a version that no kept page is made of any more can go.
async function tidy() {
  const pages = await caches.open(PAGES);
  const parts = await caches.open(PARTS);
  const texts = await Promise.all((await pages.keys()).map(async (key) => (await pages.match(key)).text()));
  const used = new Set(texts.flatMap((text) => text.match(/\/static\/[0-9a-f]+\//g) ?? []));
  for (const key of await parts.keys()) {
    const version = new URL(key.url).pathname.match(/^\/static\/[0-9a-f]+\//)?.[0];
    if (used.size && !used.has(version)) await parts.delete(key);
  }
}
