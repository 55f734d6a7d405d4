// The readings of the roof page as a list that knows what waits on this phone: read from the page, overlaid with the outbox.
const BAD = /[[\],=#]/;

function says(asks, values) {
  const short = { along: "along", inward: "in", out: "out", below: "down", above_string: "high" };
  return asks.filter((ask) => values[ask.key]).map((ask) => `${values[ask.key]} ${short[ask.key] ?? ""}`.trim()).join(", ");
}

// What is typed at a step by the keys of its asks, from the item that stands there.
export function valuesOf(step) {
  const values = {};
  for (const ask of step.asks) {
    const [name, nth] = ask.key.split(".");
    const part = nth === undefined ? step.now?.[name] : step.now?.[name]?.[Number(nth)];
    values[ask.key] = part === undefined || part === null ? "" : typeof part === "object" ? String(part.reads ?? "") : String(part);
  }
  return values;
}

function itemOf(step, values) {
  const item = { ...step.fixed };
  for (const ask of step.asks) {
    const [name, nth] = ask.key.split(".");
    if (!values[ask.key]) continue;
    if (nth === undefined) item[name] = values[ask.key];
    else item[name] = [...(item[name] ?? []), values[ask.key]];
  }
  return item;
}

// The change that typing makes, as the book's own pages make it: one value at its own place, several together as one item.
export function changeOf(step, values) {
  const item = itemOf(step, values);
  if (step.asks.length === 1 && !step.path.endsWith("[+]")) {
    const [{ key }] = step.asks;
    return { item, change: { path: `${step.path}.${key}`, value: values[key], was: step.now?.[key] ?? null } };
  }
  return { item, change: { path: step.path, value: item, was: step.now ?? null } };
}

export function removalOf(step) {
  return { item: null, change: { path: step.path, remove: true, was: step.now } };
}

// Whether two items say the same, in whatever order.
export function same(one, other) {
  return JSON.stringify(one, Object.keys(one ?? {}).sort()) === JSON.stringify(other, Object.keys(other ?? {}).sort());
}

// By what name a reading is passed over: to read it again is another thing than to read it.
export function passed(step) {
  return step.key + (step.again || step.doubted ? "!" : "");
}

export class Readings {
  constructor(root) {
    this.root = root;
    this.read();
  }

  read() {
    this.steps = [...this.root.querySelectorAll("#readings .reading, #adds .reading")].map((item) => this.stepOf(item));
  }

  stepOf(item) {
    const step = JSON.parse(item.dataset.step);
    return Object.assign(step, { item, now: step.before, add: Boolean(item.closest("#adds")), row: null });
  }

  of(key) {
    return this.steps.find((step) => step.key === key) ?? null;
  }

  taken(step) {
    const values = valuesOf(step);
    return !step.add && step.asks.every((ask) => values[ask.key] || ask.may);
  }

  // The first reading that is still wanted and was not passed over.
  next(skipped) {
    const again = (step) => step.doubted || (step.again && !step.row);
    const left = this.steps.filter((step) => !step.add && !skipped.has(passed(step)));
    return left.find(again) ?? left.find((step) => !this.taken(step)) ?? null;
  }

  // What waits, was refused, or was sent after this page was made.
  overlay(rows, head) {
    for (const row of rows) {
      if (!row.step || (row.state === "sent" && row.revision <= head)) continue;
      let step = this.of(row.step);
      if (step?.add) step = this.added(step, row);
      if (!step) continue;
      step.row = row;
      if (row.state !== "met") step.now = row.item;
      this.paint(step);
    }
  }

  // Typed just now: it counts before the outbox has it.
  put(step, entry) {
    step.row = { ...entry, state: "waiting" };
    step.now = entry.item;
    this.paint(step);
  }

  added(add, row) {
    const flue = add.kind === "flue";
    const key = flue ? `flue:${row.item.name}` : `new:${row.id}`;
    const known = this.of(key);
    if (known) return known;
    const item = add.item.cloneNode(true);
    item.classList.remove("here");
    const named = flue ? `${row.item.name}, ${row.item.shape}` : add.kind === "tape" ? `${row.item.start} to ${row.item.end}` : `${add.kind === "drop" ? "Drop" : "Offset"} along ${row.item.side}`;
    const says = Object.entries(row.item).filter(([, value]) => typeof value === "string" && !BAD.test(value));
    const path = flue ? add.path.replace(/\[.*\]/, `[name=${row.item.name}]`) : add.path.replace("[+]", `[${says.map(([k, v]) => `${k}=${v}`).join(",")}]`);
    const step = { ...add, key, name: named, path, item, add: false, now: row.item, tap: "" };
    item.querySelector("span").textContent = named;
    item.dataset.key = step.key;
    item.querySelector("a").href = "#ask";
    this.into(add.kind, [step]);
    if (flue) {
      const spare = add.fixed.name;
      this.tie(row.item, spare);
      this.spare(spare);
    }
    return step;
  }

  // The next flue to be added gets a name of its own at once, network or not; otherwise it would be put over this one.
  spare(old) {
    let n = 1;
    while (this.of(`flue:F${n}`)) n += 1;
    const named = (text) => text.replaceAll(old, `F${n}`);
    for (const step of this.steps.filter((one) => one.add && one.kind === "flue")) {
      step.item.dataset.step = named(step.item.dataset.step);
      Object.assign(step, JSON.parse(step.item.dataset.step));
    }
    for (const template of this.root.querySelectorAll("template[data-shape]")) {
      for (const tie of template.content.querySelectorAll(".reading")) {
        Object.assign(tie.dataset, { step: named(tie.dataset.step), key: named(tie.dataset.key) });
        const span = tie.querySelector("span");
        span.textContent = named(span.textContent);
      }
    }
  }

  // A flue that was added wants its tapes, network or not.
  tie(flue, spare) {
    const template = this.root.querySelector(`template[data-shape="${flue.shape}"]`);
    const ties = [...(template?.content.querySelectorAll(".reading") ?? [])].map((tie) => {
      const item = document.importNode(tie, true);
      const named = (text) => text.replaceAll(spare, flue.name);
      item.dataset.step = named(item.dataset.step);
      item.dataset.key = named(item.dataset.key);
      item.querySelector("span").textContent = named(item.querySelector("span").textContent);
      return this.stepOf(item);
    }).filter((step) => !this.of(step.key));
    this.into("tape", ties, "flue");
  }

  into(kind, steps, after = kind) {
    const place = this.steps.findLastIndex((step) => !step.add && step.kind === after);
    const before = this.steps[place]?.item;
    const list = before?.parentElement ?? this.root.querySelector("#readings .readings:last-of-type");
    for (const step of [...steps].reverse()) {
      if (before) before.after(step.item);
      else list.append(step.item);
    }
    this.steps.splice(place < 0 ? this.lastOf("tape") + 1 : place + 1, 0, ...steps);
  }

  lastOf(kind) {
    return this.steps.findLastIndex((step) => !step.add && step.kind === kind);
  }

  paint(step) {
    const { item, row } = step;
    const text = item.querySelector("b");
    text.textContent = row?.removed ? "taken out" : says(step.asks, valuesOf(step)) || "to read";
    item.classList.toggle("taken", Boolean(row?.removed) || this.taken(step));
    item.classList.toggle("waiting", row?.state === "waiting");
    item.classList.toggle("refused", row?.state === "refused" || row?.state === "met");
  }
}
