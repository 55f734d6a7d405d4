// What this phone makes of the readings while the book has not seen them all: whether they close and which is off, shown as what it is,
// and gone once the book has answered.
import { adjust, explaining } from "./closing.js";
import { oddity } from "./expected.js";
import { valuesOf } from "./readings.js";
import { metres, say } from "./tape.js";

const HEAD = "On this phone, not yet checked against the book:";
const SHORT = "Not yet checked against the book:";
const MOST_NAMED = 3;

export class Provisional {
  constructor(root, readings) {
    Object.assign(this, { root, readings, again: new Set() });
    ({ units: this.units, bare: this.bare } = root.dataset);
  }

  get numbers() {
    return JSON.parse(this.root.dataset.numbers);
  }

  // The readings as closing.js takes them, with the values typed at one step in place of what stands there.
  top(step = null, values = {}) {
    const typed = (one) => (one.key === step?.key ? values : valuesOf(one));
    const read = (text) => metres(text ?? "", this.bare);
    const kept = this.readings.steps.filter((one) => !one.add && (one.now || one.key === step?.key));
    const tapes = kept.filter(({ kind }) => kind === "tape").map((one) => ({ key: one.key, start: one.start || one.now?.start, end: one.end || one.now?.end, reads: read(typed(one).reads) }));
    const flues = kept.filter(({ kind }) => kind === "flue").map((one) => ({ one, ...one.fixed, ...one.now })).map(({ one, name, shape = "rectangular" }) => ({
      name, shape, outside: [typed(one)["outside.0"], typed(one)["outside.1"]].slice(0, shape === "round" ? 1 : 2).map(read),
    }));
    return { corners: this.numbers.corners, flues, tapes: tapes.filter(({ reads }) => reads > 0) };
  }

  // The same readings are looked at once, however often it is asked.
  looked(top) {
    const same = JSON.stringify(top);
    if (same !== this.last?.same) this.last = { same, found: this.look(top) };
    return this.last.found;
  }

  // How it all closes: { closes: true, false or null (nothing checks it yet), says: [words], off: [keys] }.
  look(top) {
    const found = adjust(top, this.numbers);
    if (!found) return { closes: null, says: [], off: [] };
    if (found.freedom <= 0) return { closes: null, says: ["Nothing checks the tapes yet."], off: [] };
    const within = say(found.worst, this.units, true);
    if (found.closes) return { closes: true, says: [`The tapes close within ${within}`], off: [] };
    const off = explaining(found, this.numbers);
    return { closes: false, says: [`The tapes do not close: they miss by up to ${within}`, this.named(off)], off: off.map(({ key }) => key) };
  }

  named(off) {
    const name = ({ key, size }) => (size === undefined ? this.readings.of(key)?.name ?? key : `the size of ${key.slice("flue:".length)} along ${["ab", "bc"][size]}`);
    if (!off.length) return "No one reading explains it: more than one is off.";
    if (off.length === 1) return `It is ${name(off[0])}: it reads ${say(off[0].reads, this.units)}, and ${say(off[0].likely, this.units)} would close. Read it again.`;
    if (off.length <= MOST_NAMED) return `It may be ${off.slice(1).map(name).join(", ")} or ${name(off[0])}: from these it cannot be told which.`;
    return "Which reading is off cannot be told from these.";
  }

  // What is being typed, put with the rest: words for the pad, and whether they are bad news.
  tried(step, values) {
    if (!["tape", "flue"].includes(step.kind)) return { text: "", bad: false };
    const { closes, says } = this.looked(this.top(step, values));
    return { text: says.length ? `${SHORT} ${says.join(" ")}` : "", bad: closes === false };
  }

  odd(step, key, text) {
    return oddity(this.top(step, {}), this.numbers, { ...step.fixed, ...step }, key, text, this.units, this.bare);
  }

  // He read it once more as he was asked; it is not asked a third time.
  reread(step) {
    if (step.doubted) this.again.add(step.key);
  }

  // Show it in the place of the book's words, and mark what is off, as long as something of this job waits on the phone.
  show(rows) {
    this.clear();
    if (!rows.some((row) => row.state === "waiting")) return;
    const { closes, says, off } = this.looked(this.top());
    for (const { item } of this.readings.steps) { // what the book said of readings as they were
      item.classList.remove("suspect");
      if (!item.classList.contains("fault")) item.querySelectorAll("p").forEach((told) => told.remove());
    }
    this.root.querySelector("#closes").replaceChildren(paragraph("provisional", HEAD), ...says.map((text, i) => paragraph(i ? "" : `stamp${closes === false ? "" : " good"}`, text)));
    for (const step of this.readings.steps.filter(({ key, add }) => !add && off.includes(key))) {
      step.item.classList.add("suspect");
      step.item.append(paragraph("on-phone", off.length === 1 ? says[1] : "This may be the one that is off."));
      step.doubted = off.length === 1 && !this.again.has(step.key);
    }
  }

  clear() {
    for (const mark of this.root.querySelectorAll(".on-phone")) {
      mark.parentElement.classList.remove("suspect");
      mark.remove();
    }
    for (const step of this.readings.steps) step.doubted = false;
  }
}

function paragraph(className, text) {
  return Object.assign(document.createElement("p"), { className, textContent: text });
}
