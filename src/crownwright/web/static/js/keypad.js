// A keypad for feet, inches and fractions, or for metric: every key is a glove wide. It types into whatever is the active field.
import { asTyped, fresh } from "./tape.js";

const US = [
  ["7", "8", "9", "1/8", "5/8"],
  ["4", "5", "6", "1/4", "3/4"],
  ["1", "2", "3", "3/8", "7/8"],
  ["ft", "0", "in", "1/2", "+1/16"],
];
const METRIC = [
  ["7", "8", "9", "mm"],
  ["4", "5", "6", "cm"],
  ["1", "2", "3", "m"],
  [".", "0", "back", "sign"],
];
const SAID = { back: "⌫", sign: "−" };
const SPOKEN = { back: "Take the last key back", sign: "Minus", ft: "feet", in: "inches", "+1/16": "and a sixteenth" };
const EIGHTHS = { "1/8": 1, "1/4": 2, "3/8": 3, "1/2": 4, "5/8": 5, "3/4": 6, "7/8": 7 };
const UNIT = "crownwright-unit";

export class Keypad {
  // heard.typed(text) at every key; heard.enter()
  constructor(root, units, bare, heard) {
    Object.assign(this, { root, units, bare, heard, keys: fresh(), done: [] });
    this.keys.unit = this.unit();
    this.board = document.createElement("div");
    this.board.className = `keys ${units}`;
    const rows = units === "metric" ? METRIC : US;
    for (const key of rows.flat()) this.board.append(this.key(key));
    if (units !== "metric") this.board.append(this.key("sign"), this.key("back"));
    this.board.append(this.enter("Keep"));
    root.append(this.board);
  }

  unit() {
    return this.units === "metric" ? localStorage.getItem(UNIT) || this.bare : "";
  }

  key(name) {
    const one = document.createElement("button");
    one.type = "button";
    one.dataset.key = name;
    one.textContent = SAID[name] ?? name;
    if (SPOKEN[name]) one.setAttribute("aria-label", SPOKEN[name]);
    if (name.includes("/")) one.className = "part";
    if (/^(ft|in|mm|cm|m|back|sign)$/.test(name)) one.className = "word";
    one.addEventListener("click", () => this.press(name));
    return one;
  }

  enter(text) {
    this.keep = document.createElement("button");
    this.keep.type = "button";
    this.keep.className = "enter";
    this.keep.textContent = text;
    this.keep.addEventListener("click", () => this.heard.enter());
    return this.keep;
  }

  // The keys of a real keyboard press those of the same name.
  typedOn(event) {
    if (event.ctrlKey || event.metaKey || event.target.closest?.("a, button")) return;
    const key = { Backspace: "back", "'": "ft", '"': "in", "-": "sign" }[event.key] ?? event.key;
    if (event.key === "Enter") this.heard.enter();
    else if (/^(\d|\.|back|ft|in|sign)$/.test(key) && this.has(key)) this.press(key);
    else return;
    event.preventDefault();
  }

  // Begin anew for another field; signed ones may be minus.
  begin(signed, enter = "Keep") {
    this.keys = { ...fresh(), unit: this.unit() };
    this.done = [];
    this.signed = signed;
    this.keep.textContent = enter;
    this.board.querySelector('[data-key="sign"]').disabled = !signed;
    this.light();
  }

  has(name) {
    return Boolean(this.board.querySelector(`[data-key="${CSS.escape(name)}"]:not(:disabled)`));
  }

  press(name) {
    const before = this.keys;
    this.keys = name === "back" ? this.done.pop() ?? { ...fresh(), unit: before.unit } : this.pressed(name);
    if (name !== "back" && this.keys !== before) this.done.push(before);
    this.light();
    this.heard.typed(asTyped(this.keys, this.units, this.bare));
  }

  pressed(name) {
    const keys = this.keys;
    if (/^\d$/.test(name)) return { ...keys, whole: keys.whole.length < 6 ? keys.whole.replace(/^0$/, "") + name : keys.whole };
    if (name === ".") return keys.whole.includes(".") ? keys : { ...keys, whole: `${keys.whole || "0"}.` };
    if (name in EIGHTHS) return { ...keys, eighths: keys.eighths === EIGHTHS[name] ? 0 : EIGHTHS[name] };
    if (name === "+1/16") return { ...keys, more: !keys.more };
    if (name === "sign") return { ...keys, minus: !keys.minus };
    if (name === "in") return { ...keys, inch: !keys.inch };
    if (name === "ft") return keys.feet === null && keys.whole ? { ...keys, feet: keys.whole, whole: "" } : keys;
    localStorage.setItem(UNIT, name);
    return { ...keys, unit: name };
  }

  light() {
    const { eighths, more, minus, inch, feet, unit } = this.keys;
    const on = { "+1/16": more, sign: minus && this.signed, in: inch, ft: feet !== null, [unit]: true };
    for (const one of this.board.children) {
      const lit = Boolean(on[one.dataset.key]) || (eighths > 0 && EIGHTHS[one.dataset.key] === eighths);
      one.classList.toggle("on", lit);
      if (one.classList.contains("part")) one.setAttribute("aria-pressed", String(lit));
    }
  }
}
