// Keeps the pages that are wanted on a roof, and what they are made of, on the phone, so that they open without a network. In place of
// any other page it shows what is kept.
// A new worker waits until every page of the old one is closed: no code is changed under a half-filled form.
const PAGES = "pages";
const PARTS = "parts";
const WANTED = /^\/(job\/[^/]+(\/(up-top|found|photos|pour-day))?|doorstep)?$/;
const PATIENCE = 4000;
const POLICY = "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; connect-src 'self'; img-src 'self'; base-uri 'none'; form-action 'self'";

self.addEventListener("activate", (event) => event.waitUntil(Promise.all([self.clients.claim(), tidy()])));

self.addEventListener("message", (event) => {
  if (Array.isArray(event.data?.keep)) event.waitUntil(keep(event.data.keep, String(event.data.page), event.data.near ?? []));
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || request.cache === "no-store" || url.origin !== location.origin) return;
  if (url.pathname.startsWith("/static/")) event.respondWith(part(request));
  else if (WANTED.test(url.pathname) && request.headers.get("accept")?.includes("text/html")) event.respondWith(page(request, url));
  else if (request.mode === "navigate") event.respondWith(fetch(request).catch(() => absent(url)));
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
    return (await pages.match(key)) ?? absent(url);
  }
}

// A phone that was shut out keeps nothing of the book.
async function note(pages, key, answer) {
  const html = answer.headers.get("content-type")?.startsWith("text/html");
  const away = answer.type === "opaqueredirect"; // as the door sends away a phone that it does not know: none of these pages goes on elsewhere
  if (answer.status === 401 || away || (answer.redirected && new URL(answer.url).pathname === "/pair")) await caches.delete(PAGES);
  else if (answer.ok && html && !answer.redirected) await pages.put(key, answer.clone());
}

function soon(answer) {
  return Promise.race([answer, new Promise((_, late) => setTimeout(late, PATIENCE))]);
}

// What is shown in place of a page that is not kept: those that are, what waits, and how to go on. Titles are as the book wrote them.
async function absent(url) {
  const pages = await caches.open(PAGES);
  const part = async (name) => (await (await caches.open(PARTS)).keys()).map((key) => new URL(key.url).pathname).findLast((path) => path.endsWith(name));
  const [style, slip] = await Promise.all([part("/css/sheet.css"), part("/js/slip.js")]);
  const kept = await Promise.all((await pages.keys()).map(async ({ url: address }) => {
    const title = (await (await pages.match(address)).text()).match(/<title>([^<]*)<\/title>/)?.[1] ?? "A page";
    return `<li><a class="go" href="${plain(new URL(address).pathname)}">${title}</a></li>`;
  }));
  const list = kept.length ? `<p>These pages are kept on this phone and go on without a network:</p><ul class="kept">${kept.join("")}</ul>` : "<p>No other page is kept on this phone.</p>";
  const said = `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>No network</title>
${style ? `<link rel="stylesheet" href="${style}">` : ""}${slip ? `<script type="module" src="${slip}"></script>` : ""}</head><body class="roof"><div class="sheet"><main id="body">
<div class="head"><h1>No network</h1></div>
<p class="stamp">The book cannot be asked just now, and this page is not kept on this phone.</p>
${list}
<p>Nothing that was typed is lost: what waits on this phone goes by itself once the book answers, from any page.</p>
<p class="row"><a class="go do" href="${plain(url.pathname + url.search)}">Try this page again</a></p></main></div></body></html>`;
  return new Response(said, { status: 503, headers: { "content-type": "text/html; charset=utf-8", "content-security-policy": POLICY } });
}

function plain(text) {
  return text.replace(/[&<>"']/g, (sign) => `&#${sign.charCodeAt(0)};`);
}

// The page that was open before there was a worker and those of the same visit, with all their parts.
async function keep(addresses, path, near) {
  const pages = await caches.open(PAGES);
  for (const wanted of [path, ...near].filter((one) => WANTED.test(one))) {
    const key = location.origin + wanted;
    if (await pages.match(key)) continue;
    const answer = await fetch(key, { headers: { accept: "text/html" } }).catch(() => null);
    if (answer) await note(pages, key, answer);
  }
  const parts = await caches.open(PARTS);
  const had = new Set();
  for (const wanted of near) {
    const text = await (await pages.match(location.origin + wanted))?.text();
    addresses.push(...(text?.match(/\/static\/[\w./-]+\.(?:js|css)/g) ?? []));
  }
  for (const address of addresses) await keepPart(parts, new URL(address, location.origin), had);
  await tidy();
}

// A part and those it is made of.
async function keepPart(parts, url, had) {
  if (url.origin !== location.origin || !url.pathname.startsWith("/static/") || had.has(url.href)) return;
  had.add(url.href);
  let answer = await parts.match(url.href);
  if (!answer) {
    answer = await fetch(url.href).catch(() => null);
    if (!answer?.ok) return;
    await parts.put(url.href, answer.clone());
  }
  if (!url.pathname.endsWith(".js")) return;
  for (const [, name] of (await answer.text()).matchAll(/(?:from|import) "(\.\/[\w-]+\.js)"/g)) await keepPart(parts, new URL(name, url), had);
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
