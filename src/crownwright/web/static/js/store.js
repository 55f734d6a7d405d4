// Rows kept on this phone in the order they came: in IndexedDB, or in localStorage where a browser has none.
const NAME = "crownwright";
const ROWS = "rows";
const LAST = "crownwright-rows";
let opened = null;

function asked(request) {
  return new Promise((done, failed) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });
}

function open() {
  opened ??= new Promise((done) => {
    let request;
    try {
      request = indexedDB.open(NAME, 1);
    } catch {
      done(null);
      return;
    }
    request.onupgradeneeded = () => request.result.createObjectStore(ROWS, { keyPath: "n", autoIncrement: true });
    request.onsuccess = () => {
      request.result.onversionchange = () => request.result.close();
      request.result.onclose = () => { opened = null; };
      done(request.result);
    };
    request.onerror = request.onblocked = () => done(null);
  });
  return opened;
}

// On the disk before it is called kept: "strict" waits for the flush, where the browser knows the word.
async function within(db, doing) {
  const transaction = db.transaction(ROWS, "readwrite", { durability: "strict" });
  const done = new Promise((yes, no) => {
    transaction.oncomplete = yes;
    transaction.onerror = transaction.onabort = () => no(transaction.error);
  });
  const result = await asked(doing(transaction.objectStore(ROWS)));
  await done;
  return result;
}

function listed() {
  return JSON.parse(localStorage.getItem(LAST) || "[]");
}

function list(rows) {
  localStorage.setItem(LAST, JSON.stringify(rows));
}

// Keeps a new row and returns its number. Throws where this browser keeps nothing at all.
export async function add(row) {
  const db = await open();
  if (db) return within(db, (rows) => rows.add(row));
  if (row.file) throw new Error("no place for a photo");
  const rows = listed();
  const n = 1 + Math.max(0, ...rows.map((r) => r.n));
  list([...rows, { ...row, n }]);
  return n;
}

export async function takesFiles() {
  return Boolean(await open());
}

export async function put(row) {
  const db = await open();
  if (db) return within(db, (rows) => rows.put(row));
  return list(listed().map((r) => (r.n === row.n ? row : r)));
}

export async function remove(n) {
  const db = await open();
  if (db) return within(db, (rows) => rows.delete(n));
  return list(listed().filter((r) => r.n !== n));
}

export async function all() {
  const db = await open();
  if (!db) return listed();
  return asked(db.transaction(ROWS).objectStore(ROWS).getAll());
}
