// How the tapes of a top close, worked out on this phone while the book cannot be asked: the book's own adjustment of the same
// readings by the numbers that the page carries. Least squares of distances in a plane (Ghilani 2010, ch. 14): corners are points, the
// first at the origin and the second on the x axis; a round flue is a point, a rectangular one a rigid rectangle that was set
// square by eye. What does not close is tested by chi-square; a reading is off when without it, and only without it, the rest closes.
//   top: { corners: [name], flues: [{ name, shape, outside: [m] }], tapes: [{ key, start, end, reads, sd }] }; metres
//   numbers: { sd: { tape, size }, square, w, limits: [by freedom, from 1], slack }
import { beginnings } from "./placing.js";
import { solve, inverse } from "./normal.js";

const BOX = [[-0.5, -0.5], [0.5, -0.5], [0.5, 0.5], [-0.5, 0.5]];
const STILL = 1e-6; // m: a step of no more than this is at rest
const STEPS = 60;
const LEAST = 1e-6; // share of a reading under which the others do not check it
const SCREEN = 3; // limits over the test's own within which leaving a reading out is tried in full, and not by its w alone
const BIG = 0.05; // m: a misfit beyond which the plan is bent so far that it is placed anew
const TIES = { round: 2, rectangular: 3 };

// The readings as rows between numbered points, with what they are to place: corners, and the flues that are tied.
export function networkOf(top, numbers) {
  const points = new Map(top.corners.map((corner, i) => [corner, i]));
  const flues = [];
  let at = 2 * top.corners.length - 3;
  for (const flue of top.flues) {
    const own = flue.shape === "round" ? [flue.name] : [..."abcd"].map((letter) => flue.name + letter);
    const ties = new Set(top.tapes.filter((t) => own.includes(t.start) || own.includes(t.end)).map((t) => [t.start, t.end].sort().join()));
    if (ties.size < TIES[flue.shape] || flue.outside.some((size) => !(size > 0))) continue;
    flues.push({ ...flue, at, first: points.size });
    own.forEach((name) => points.set(name, points.size));
    at += flue.shape === "round" ? 2 : 5;
  }
  const rows = top.tapes
    .filter(({ start, end, reads }) => points.has(start) && points.has(end) && start !== end && reads > 0)
    .map(({ key, start, end, reads, sd }) => ({ key, a: points.get(start), b: points.get(end), reads, sd: sd ?? numbers.sd.tape }));
  for (const { name, shape, first, outside } of flues) {
    if (shape === "round") continue;
    outside.forEach((reads, k) => rows.push({ key: `flue:${name}`, size: k, a: first + k, b: first + k + 1, reads, sd: numbers.sd.size }));
  }
  return { corners: top.corners.length, flues, rows, size: at };
}

// Every point at parameters x: where it is, and how it moves with them as [parameter, dx, dy].
export function placed({ corners, flues }, x) {
  const at = Array.from({ length: corners }, (_, i) => (i === 0 ? { x: 0, y: 0, moves: [] } : i === 1 ? { x: x[0], y: 0, moves: [[0, 1, 0]] } : free(x, 2 * i - 3)));
  for (const { shape, at: k } of flues) {
    if (shape === "round") {
      at.push(free(x, k));
      continue;
    }
    const [long, across, c, s] = [x[k + 3], x[k + 4], Math.cos(x[k + 2]), Math.sin(x[k + 2])];
    for (const [u, v] of BOX) {
      const [dx, dy] = [u * long * c - v * across * s, u * long * s + v * across * c];
      const moves = [[k, 1, 0], [k + 1, 0, 1], [k + 2, -dy, dx], [k + 3, u * c, u * s], [k + 4, -v * s, v * c]];
      at.push({ x: x[k] + dx, y: x[k + 1] + dy, moves });
    }
  }
  return at;
}

function free(x, k) {
  return { x: x[k], y: x[k + 1], moves: [[k, 1, 0], [k + 1, 0, 1]] };
}

export function lengthOf(at, { a, b }) {
  return Math.hypot(at[b].x - at[a].x, at[b].y - at[a].y);
}

// What each row misses at x, in its own standard errors, with its slope: tapes and sizes first, then the turns taken as square.
function misses(net, square, numbers, x) {
  const at = placed(net, x);
  const rows = net.rows.map((row) => {
    const long = lengthOf(at, row) || 1;
    const [ux, uy] = [(at[row.b].x - at[row.a].x) / long, (at[row.b].y - at[row.a].y) / long];
    const slope = new Float64Array(net.size);
    for (const [k, dx, dy] of at[row.b].moves) slope[k] += (ux * dx + uy * dy) / row.sd;
    for (const [k, dx, dy] of at[row.a].moves) slope[k] -= (ux * dx + uy * dy) / row.sd;
    return { off: (lengthOf(at, row) - row.reads) / row.sd, slope };
  });
  if (!square.length) return rows;
  const walls = leanOf(at, net);
  for (const k of square) {
    const slope = walls.slope.map((value) => -value / numbers.square);
    slope[k] += 1 / numbers.square;
    rows.push({ off: (x[k] - walls.lean) / numbers.square, slope });
  }
  return rows;
}

// Mean turn of the sides against a square set on the first of them, with its slope: a flue stands square with all the walls.
function leanOf(at, { corners, size }) {
  const slope = new Float64Array(size);
  let lean = 0;
  for (let i = 0; i < corners; i += 1) {
    const [one, next] = [at[i], at[(i + 1) % corners]];
    const [dx, dy] = [next.x - one.x, next.y - one.y];
    const turned = Math.atan2(dy, dx) - (i * 2 * Math.PI) / corners;
    lean += Math.atan2(Math.sin(turned), Math.cos(turned)) / corners;
    const share = corners * (dx * dx + dy * dy) || 1;
    for (const [k, mx, my] of next.moves) slope[k] += (dx * my - dy * mx) / share;
    for (const [k, mx, my] of one.moves) slope[k] -= (dx * my - dy * mx) / share;
  }
  return { lean, slope };
}

function normalOf(rows, size, damping) {
  const normal = Array.from({ length: size }, () => new Float64Array(size));
  const pull = new Float64Array(size);
  for (const { off, slope } of rows) {
    for (let i = 0; i < size; i += 1) {
      if (!slope[i]) continue;
      pull[i] -= slope[i] * off;
      for (let j = 0; j < size; j += 1) normal[i][j] += slope[i] * slope[j];
    }
  }
  for (let i = 0; i < size; i += 1) normal[i][i] *= 1 + damping;
  return [normal, pull];
}

const dot = (one, other) => one.reduce((sum, value, k) => sum + value * other[k], 0);
const squares = (rows) => rows.reduce((sum, { off }) => sum + off * off, 0);

// Gauss-Newton steps, shorter where a whole one would lead uphill, and half where it would lead back by as much as the last led
// forth, as they do about a flue's turn, which the ties hardly feel. Null where the readings leave something free to move.
function settle(net, square, numbers, start) {
  let x = Float64Array.from(start);
  let rows = misses(net, square, numbers, x);
  let damping = 0;
  let last = null;
  for (let n = 0; n < STEPS && damping < 1e9; n += 1) {
    let step = solve(...normalOf(rows, net.size, damping));
    if (!step) return null;
    if (last && dot(step, last) < -0.5 * dot(last, last)) step = step.map((move) => move / 2);
    const tried = x.map((value, k) => value + step[k]);
    const there = misses(net, square, numbers, tried);
    const still = Math.max(...step.map(Math.abs)) <= STILL;
    if (!still && !(squares(there) <= squares(rows) * (1 + 1e-9) + 1e-12)) {
      damping = Math.max(4 * damping, 1e-3);
      continue;
    }
    [x, rows, last] = [tried, there, step];
    if (still && !damping) break;
    damping = damping > 1e-6 ? damping / 8 : 0;
  }
  const spread = inverse(normalOf(rows, net.size, 0)[0]);
  return spread && { x, rows, spread };
}

// The turns of flues count as square by eye until the tapes say otherwise (Baarda's w of that row beyond its limit).
function settleSquare(net, numbers, start) {
  let square = net.corners === 4 ? net.flues.filter(({ shape }) => shape !== "round").map(({ at }) => at + 2) : [];
  for (let from = start; ; ) {
    const found = settle(net, square, numbers, from);
    if (!found) return null;
    const kept = square.filter((_, i) => {
      const { off, slope } = found.rows[net.rows.length + i];
      const checked = 1 - slope.reduce((sum, value, m) => sum + value * dot(slope, found.spread[m]), 0);
      return checked < 1e-9 || Math.abs(off) / Math.sqrt(checked) <= numbers.w;
    });
    if (kept.length === square.length) return told(net, numbers, found);
    [square, from] = [kept, found.x];
  }
}

function told(net, numbers, { x, rows, spread }) {
  const freedom = rows.length - net.size;
  const statistic = squares(rows);
  const most = limit(numbers, freedom);
  const w = net.rows.map((_, i) => testOf(rows[i], spread));
  const worst = Math.max(0, ...net.rows.map((row, i) => Math.abs(rows[i].off) * row.sd));
  return { net, x, freedom, statistic, worst, w, most, closes: freedom <= 0 || (statistic <= most && Math.max(...w) <= numbers.w) };
}

function limit({ limits }, freedom) {
  return freedom > 0 ? limits[Math.min(freedom, limits.length) - 1] : 0;
}

// Baarda's w of a reading, without its sign: what it misses by against what it might; 0 where nothing checks it.
function testOf({ off, slope }, spread) {
  let taken = 0;
  for (let p = 0; p < slope.length; p += 1) if (slope[p]) for (let q = 0; q < slope.length; q += 1) taken += slope[p] * spread[p][q] * slope[q];
  return taken > 1 - LEAST ? 0 : Math.abs(off) / Math.sqrt(1 - taken);
}

// The top adjusted; null where its tapes do not hold it yet. `worst` in metres, `freedom` the readings beyond what is needed.
export function adjust(top, numbers) {
  const net = networkOf(top, numbers);
  return best(net, numbers, beginnings(net));
}

// From the first beginning, and where that does not close from the others too: a flue's turn may settle in two valleys.
function best(net, numbers, starts) {
  let found = null;
  for (const start of starts) {
    const other = settleSquare(net, numbers, start);
    if (other && (!found || other.statistic < found.statistic)) found = other;
    if (found?.closes) return found;
  }
  return found;
}

// Readings that may be the one that is off: [{ key, size, reads, likely }], lengths in metres, likeliest first. Without one of them all
// the others close, about as well as without any other (a ratio of likelihoods that chance brings in one of a hundred). One alone is
// the one; of several it cannot be told which; none: more than one is off.
export function explaining(found, numbers) {
  if (found.closes) return [];
  const bent = found.worst > BIG;
  const room = found.most + SCREEN * numbers.limits[0];
  const left = found.net.rows.map((row, i) => {
    if (found.w[i] === 0 || (!bent && found.statistic - found.w[i] ** 2 > room)) return null;
    const net = { ...found.net, rows: found.net.rows.filter((other) => other !== row) };
    const rest = best(net, numbers, bent ? [...beginnings(net).slice(0, 1), found.x] : [found.x]);
    return rest && { row, rest };
  }).filter(Boolean).sort((one, other) => one.rest.statistic - other.rest.statistic);
  if (!left[0]?.rest.closes) return [];
  const rivals = left.filter(({ rest }) => rest.statistic <= left[0].rest.statistic + numbers.limits[0]);
  return rivals.map(({ row, rest }) => ({ key: row.key, size: row.size, reads: row.reads, likely: lengthOf(placed(rest.net, rest.x), row) }));
}
