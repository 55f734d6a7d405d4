// What was found, as a list that knows what waits on this phone: read from the page, overlaid with the outbox.
export class Findings {
  constructor(root) {
    this.root = root;
    this.soon = new Map(); // being put in the outbox: they count before it has them
    this.read();
  }

  // All that may be found by its key, and what was.
  read() {
    this.of = new Map();
    for (const box of this.root.querySelectorAll("#ticks [data-finding]")) this.put({ ...JSON.parse(box.dataset.finding), found: box.defaultChecked });
    for (const line of this.root.querySelectorAll("#so-far [data-finding]")) this.put({ ...JSON.parse(line.dataset.finding), found: true });
  }

  put(finding) {
    this.of.set(finding.key, { state: "", ...finding });
  }

  get found() {
    return [...this.of.values()].filter((one) => one.found);
  }

  // What waits, was refused, or was sent after this page was made.
  overlay(rows, head) {
    for (const { finding, state, revision } of rows) {
      if (finding && !(state === "sent" && revision <= head)) this.put({ ...finding, state: state === "sent" ? "" : state });
    }
    for (const one of this.soon.values()) this.put(one);
  }

  // One more of the same kind at the same place.
  another(one) {
    const base = one.key.replace(/#.*/, "");
    let n = 2;
    while (this.of.get(`${base}#${n}`)?.found) n += 1;
    const first = this.of.get(base) ?? one;
    const item = Object.fromEntries(Object.entries(first.item).filter(([key]) => ["what", "face", "flue"].includes(key)));
    const path = `${first.path.replace(/(#\d+)?\]$/, "")}#${n}]`;
    const tells = first.tells.map((tell) => ({ ...tell, typed: "" }));
    return { key: `${base}#${n}`, name: `${first.name.replace(/, \d+$/, "")}, ${n}`, path, item, tells, photos: [], found: false, state: "" };
  }
}

export function told(one) {
  return one.tells.filter(({ typed }) => typed).map(({ label, typed }) => `${label.toLowerCase()} ${typed}`).join(", ");
}

// The changes that make one thing found: by what it is, so that found on two phones it is found once.
export function foundNow(one) {
  return one.found ? [] : [{ path: `${one.path}.what`, value: one.item.what, was: null }];
}

// The changes that telling more of it makes, value by value, and the finding as it is then.
export function telling(one, values) {
  const tells = one.tells.map((tell) => ({ ...tell, typed: values[tell.key] ?? tell.typed }));
  const item = { ...one.item };
  const changes = [];
  tells.forEach(({ key, kind, typed }, k) => {
    const was = one.tells[k].typed;
    if (typed === was) return;
    const path = `${one.path}.${key}`;
    if (typed) changes.push({ path, value: kind === "count" && /^\d{1,5}$/.test(typed) ? Number(typed) : typed, was: was || null });
    else changes.push({ path, remove: true, was });
    if (typed) item[key] = typed;
    else delete item[key];
  });
  return { changes: [...foundNow(one), ...changes], after: { ...one, tells, item, found: true } };
}
