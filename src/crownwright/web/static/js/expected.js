// What a reading can be by those before it, and what is usual on a top: one far outside is asked once more, a foot typed for an inch.
// Between two points no tape is longer than a way round by others, nor shorter than those leave (the triangle inequality, taken over
// every chain of tapes: bound smoothing, Crippen and Havel 1988). A flue stands on the top: no tape to it is longer than to a corner.
import { say, metres } from "./tape.js";

// Bounds [least, most] in metres of the distance between two points by what else is known of the top (see closing.js).
export function bounds(top, start, end) {
  const known = distances(top).filter(({ a, b }) => !(a === start && b === end) && !(a === end && b === start));
  const from = ways(start, known);
  const to = ways(end, known);
  const far = (way, point) => way.get(point) ?? Infinity;
  const ontop = top.corners.includes(start) && !top.corners.includes(end) ? Math.max(...top.corners.map((corner) => far(from, corner))) : Infinity;
  const left = known.flatMap(({ a, b, reads }) => [reads - far(from, a) - far(to, b), reads - far(from, b) - far(to, a)]);
  return [Math.max(0, ...left), Math.min(far(from, end), ontop)];
}

function distances({ tapes, flues }) {
  const sizes = flues.filter(({ shape }) => shape !== "round").flatMap(({ name, outside: [long, across] }) => [
    ["a", "b", long], ["c", "d", long], ["b", "c", across], ["d", "a", across], ["a", "c", Math.hypot(long, across)], ["b", "d", Math.hypot(long, across)],
  ].map(([a, b, reads]) => ({ a: name + a, b: name + b, reads })));
  return [...tapes.map(({ start, end, reads }) => ({ a: start, b: end, reads })), ...sizes].filter(({ reads }) => reads > 0);
}

// The shortest way from a point to every other by what is known (Bellman and Ford: as often over all as there are points).
function ways(start, known) {
  const way = new Map([[start, 0]]);
  for (let changed = true; changed; ) {
    changed = false;
    for (const { a, b, reads } of known) {
      for (const [here, there] of [[a, b], [b, a]]) {
        const by = (way.get(here) ?? Infinity) + reads;
        if (by >= (way.get(there) ?? Infinity)) continue;
        way.set(there, by);
        changed = true;
      }
    }
  }
  return way;
}

// What is odd about a value typed at a step, in words; "" where nothing is.
export function oddity(top, numbers, step, key, text, units, bare) {
  const read = metres(text, bare);
  const name = key.split(".")[0];
  const [least, most] = numbers.usual[name] ?? [-Infinity, Infinity];
  if (!Number.isFinite(read)) return "";
  if (read > most) return `${text}: ${say(most, units)} is the most that is usual here.`;
  if (read < least) return `${text}: ${say(least, units)} is the least that is usual here.`;
  if (name === "reads" && step.start && step.end) return between(bounds(top, step.start, step.end), read, numbers.slack, text, units);
  const sides = top.corners.map((corner, i) => [corner + top.corners[(i + 1) % top.corners.length], corner, top.corners[(i + 1) % top.corners.length]]);
  const taped = (a, b) => top.tapes.find((t) => (t.start === a && t.end === b) || (t.start === b && t.end === a))?.reads ?? NaN;
  const longest = Math.max(...sides.map(([, a, b]) => taped(a, b)));
  if (name === "outside" && read > longest) return `${text}: that is longer than any side of the stone.`;
  const along = sides.find(([side]) => side === step.side);
  if (name === "along" && along && read > taped(along[1], along[2]) + numbers.beyond) return `${text}: ${step.side} is only ${say(taped(along[1], along[2]), units)} long.`;
  return "";
}

function between([least, most], read, slack, text, units) {
  if (read > most + slack) return `${text}: by the tapes so far it cannot be more than ${say(most, units)}`;
  if (read < least - slack) return `${text}: by the tapes so far it cannot be less than ${say(least, units)}`;
  return "";
}
