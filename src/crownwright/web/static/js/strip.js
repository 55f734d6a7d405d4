// The piece of tape round what is typed, to be held against the tape in his hand.
import { measure } from "./tape.js";

const SVG = "http://www.w3.org/2000/svg";
const HIGH = 48;

function part(kind, attributes, text = "") {
  const one = document.createElementNS(SVG, kind);
  for (const [name, value] of Object.entries(attributes)) one.setAttribute(name, value);
  one.textContent = text;
  return one;
}

export function newStrip() {
  return part("svg", { class: "strip-of-tape", "aria-hidden": "true" });
}

// us: 3 in. of tape in sixteenths; metric: 8 cm in millimetres.
export function drawStrip(strip, text, units, bare) {
  const read = measure(text, units, bare);
  const wide = strip.getBoundingClientRect().width || 344;
  strip.setAttribute("viewBox", `0 0 ${wide} ${HIGH}`);
  const us = units !== "metric";
  const [step, span] = us ? [1 / 16, 3] : [1, 80];
  const middle = Number.isFinite(read) ? read : 0;
  const first = Math.max(0, middle - span / 2);
  const at = (value) => ((value - first) / span) * wide;
  let ticks = "";
  const labels = [];
  for (let k = Math.ceil(first / step); k * step <= first + span; k += 1) {
    const long = us ? [34, 9, 13, 9, 18, 9, 13, 9, 25, 9, 13, 9, 18, 9, 13, 9][k % 16] : k % 10 === 0 ? 34 : k % 5 === 0 ? 22 : 12;
    ticks += `M${at(k * step).toFixed(1)} 0v${long}`;
    if (us ? k % 16 === 0 : k % 10 === 0) {
      const label = us ? k / 16 : k / 10;
      if (label) labels.push(part("text", { x: at(k * step) - (at(k * step) > wide - 14 ? 14 : -13), y: 43 }, String(label)));
      const foot = us && label && label % 12 === 0;
      if (foot) labels.push(part("text", { x: at(k * step) - 20, y: 43 }, `${label / 12}F`));
    }
  }
  strip.replaceChildren(part("path", { d: ticks }), ...labels);
  if (Number.isFinite(read)) strip.append(part("path", { class: "reads", d: `M${at(read).toFixed(1)} 0v${HIGH}` }));
}
