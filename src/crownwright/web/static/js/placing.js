// Where the points of a top about stand, for the adjustment to begin from: corners by two tapes each, flues by looking over the top.
const INCH = 0.0254;
const ROUGH = 0.01; // m: while looking for a place a tape counts as no better than this, so that one slip does not hide it
const BOX = [[-0.5, -0.5], [0.5, -0.5], [0.5, 0.5], [-0.5, 0.5]];

// Parameters of a network (see closing.js) to begin from, likeliest first; none where its corners cannot even be guessed. After the
// first, each turns one flue another way.
export function beginnings(net) {
  const corners = cornersOf(net);
  if (!corners) return [];
  const [a, b] = corners;
  const long = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const [c, s] = [(b[0] - a[0]) / long, (b[1] - a[1]) / long];
  const at = corners.map(([x, y]) => [(x - a[0]) * c + (y - a[1]) * s, (y - a[1]) * c - (x - a[0]) * s]);
  const flues = net.flues.map((flue) => placesOf(flue, net, at));
  const start = [at[1][0], ...at.slice(2).flat(), ...flues.flatMap(([first]) => first)];
  const others = flues.flatMap((places, i) => places.slice(1).map((place) => start.toSpliced(net.flues[i].at, place.length, ...place)));
  return [start, ...others];
}

// Distances between corners by "low,high"; the middle one where a pair was taped more than once.
function taped({ rows, corners }) {
  const found = new Map();
  for (const { a, b, reads } of rows) {
    if (Math.max(a, b) >= corners) continue;
    const pair = `${Math.min(a, b)},${Math.max(a, b)}`;
    found.set(pair, [...(found.get(pair) ?? []), reads]);
  }
  return new Map([...found].map(([pair, reads]) => [pair, reads.sort((p, q) => p - q)[Math.floor(reads.length / 2)]]));
}

function cornersOf(net) {
  const distances = taped(net);
  const between = (i, j) => distances.get(`${Math.min(i, j)},${Math.max(i, j)}`);
  const pairs = [...distances.keys()].map((pair) => pair.split(",").map(Number));
  pairs.sort((p, q) => (p[1] - p[0] !== 1) - (q[1] - q[0] !== 1) || p[0] - q[0] || p[1] - q[1]);
  for (const base of pairs) {
    const at = grown(base, net.corners, between);
    if (at) return at;
  }
  // a flue in the way of a diagonal: the ties may still hold the corners, so begin from a rectangle of the sides
  const side = (i, j) => [between(i, i + 1), between(j, (j + 1) % 4)].filter(Boolean);
  if (net.corners !== 4 || !distances.size) return null;
  const mean = (some) => some.reduce((sum, one) => sum + one, 0) / some.length;
  const [long, across] = [side(0, 2), side(1, 3)].map((some) => mean(some.length ? some : [...distances.values()]));
  return [[0, 0], [long, 0], [long, across], [0, across]];
}

// Corners placed one by one, each by two tapes from placed ones; null where they do not all come in.
function grown([i, j], count, between) {
  const at = new Map([[i, [0, 0]], [j, [between(i, j), 0]]]);
  while (at.size < count) {
    const ties = (k) => [...at.keys()].filter((p) => between(p, k)).sort((p, q) => p - q);
    const waiting = Array.from({ length: count }, (_, k) => k).filter((k) => !at.has(k));
    const k = waiting.reduce((one, other) => (ties(other).length > ties(one).length ? other : one));
    if (ties(k).length < 2) return null;
    at.set(k, bestPlace(k, at, ties(k), between));
  }
  return Array.from({ length: count }, (_, k) => at.get(k));
}

// Of the places that two of the tapes give, the one that fits all of them; between equals, the one where the letters run round.
function bestPlace(k, at, ties, between) {
  let best = null;
  ties.forEach((p, m) => ties.slice(m + 1).forEach((q) => {
    for (const place of meet(at.get(p), between(p, k), at.get(q), between(q, k))) {
      const misfit = ties.reduce((sum, r) => sum + Math.abs(Math.hypot(place[0] - at.get(r)[0], place[1] - at.get(r)[1]) - between(r, k)), 0);
      const rank = [ties.length > 2 ? Math.floor(misfit / INCH) : 0, -round(k, place, at), misfit];
      if (!best || less(rank, best.rank)) best = { rank, place };
    }
  }));
  return best.place;
}

function less(one, other) {
  const k = one.findIndex((value, i) => value !== other[i]);
  return k >= 0 && one[k] < other[k];
}

// The two places at given distances from p and q; where the tapes do not meet, the place between.
function meet(p, fromP, q, fromQ) {
  const d = Math.max(Math.hypot(q[0] - p[0], q[1] - p[1]), 1e-9);
  const along = (fromP ** 2 - fromQ ** 2 + d * d) / (2 * d);
  const up = Math.sqrt(Math.max(fromP ** 2 - along ** 2, 0));
  const [ux, uy] = [(q[0] - p[0]) / d, (q[1] - p[1]) / d];
  return [1, -1].map((sign) => [p[0] + along * ux - sign * up * uy, p[1] + along * uy + sign * up * ux]);
}

// How many triples of corners with k run round with their letters, less those that do not.
function round(k, place, at) {
  const names = [...at.keys()].sort((p, q) => p - q);
  let total = 0;
  names.forEach((i, m) => names.slice(m + 1).forEach((j) => {
    const [a, b, c] = [i, j, k].sort((p, q) => p - q).map((one) => (one === k ? place : at.get(one)));
    total += (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]) > 0 ? 1 : -1;
  }));
  return total;
}

// For each turn the place that fits a flue's ties to the corners best, of a grid over the top; as its parameters, best first.
function placesOf(flue, net, corners) {
  const circle = flue.shape === "round";
  const own = (point) => point >= flue.first && point < flue.first + (circle ? 1 : 4);
  const ties = net.rows.flatMap(({ a, b, reads, sd }) => [[a, b, reads, sd], [b, a, reads, sd]])
    .filter(([here, there]) => own(here) && there < net.corners)
    .map(([here, there, reads, sd]) => ({ box: circle ? [0, 0] : BOX[here - flue.first], from: corners[there], reads, sd: Math.max(sd, ROUGH) }));
  const turns = circle ? [0] : net.corners === 4 ? [0, -0.2, 0.2] : Array.from({ length: 24 }, (_, k) => ((k - 12) * Math.PI) / 12);
  const [long, across] = circle ? [0, 0] : flue.outside;
  const found = turns.map((turn) => {
    const [c, s] = [Math.cos(turn), Math.sin(turn)];
    const boxes = ties.map(({ box: [u, v], ...tie }) => ({ ...tie, dx: u * long * c - v * across * s, dy: u * long * s + v * across * c }));
    const cost = ([x, y]) => boxes.reduce((sum, { dx, dy, from, reads, sd }) => sum + ((Math.hypot(x + dx - from[0], y + dy - from[1]) - reads) / sd) ** 2, 0);
    const places = [...grid(corners)].map((place) => ({ place, cost: cost(place) }));
    const { place: [x, y], cost: least } = places.reduce((one, other) => (other.cost < one.cost ? other : one));
    return { least, place: circle ? [x, y] : [x, y, turn, long, across] };
  });
  return found.sort((one, other) => one.least - other.least).slice(0, 3).map(({ place }) => place);
}

function* grid(corners) {
  const [xs, ys] = [0, 1].map((axis) => corners.map((corner) => corner[axis]));
  const span = (all, k) => Math.min(...all) + ((Math.max(...all) - Math.min(...all)) * (k + 0.5)) / 12;
  for (let i = 0; i < 12; i += 1) for (let j = 0; j < 12; j += 1) yield [span(xs, i), span(ys, j)];
}
