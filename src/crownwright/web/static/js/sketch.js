// Marks the reading that is asked for on the sketch, and tells where on the stone a finger points.
const SVG = "http://www.w3.org/2000/svg";

function part(kind, attributes) {
  const one = document.createElementNS(SVG, kind);
  for (const [name, value] of Object.entries(attributes)) one.setAttribute(name, value);
  return one;
}

function known() {
  const svg = document.getElementById("sketch");
  return svg ? { svg, ...JSON.parse(svg.dataset.sketch) } : null;
}

function ends(side, corners) {
  const pairs = corners.map((corner, i) => [corner, corners[(i + 1) % corners.length]]);
  return pairs.find(([a, b]) => a + b === side);
}

function line([x1, y1], [x2, y2]) {
  const end = (cx, cy) => part("circle", { class: "end", cx, cy, r: 6 });
  return [part("path", { class: "tape", d: `M${x1} ${y1}L${x2} ${y2}` }), end(x1, y1), end(x2, y2)];
}

export function markStep(step, place = null) {
  const at = known();
  const layer = document.getElementById("mark");
  if (!at || !layer) return;
  layer.replaceChildren();
  at.svg.classList.toggle("aim", Boolean(step?.tap) && at.measured);
  if (!step) return;
  const { points } = at;
  const side = ends(step.side, at.corners);
  if (points[step.start] && points[step.end]) layer.append(...line(points[step.start], points[step.end]));
  else if (side) layer.append(...line(points[side[0]], points[side[1]]));
  else if (points[step.start]) layer.append(part("circle", { class: "ring", cx: points[step.start][0], cy: points[step.start][1], r: 12 }));
  if (place) layer.append(part("circle", { class: "end", cx: place[0], cy: place[1], r: 8 }));
}

// Where a finger points: along a side from its first corner and in from its string, in metres. A place on the edge is given by the
// nearest side, one farther in by the first side, as the list of readings has it.
export function pointed(event, step) {
  const at = known();
  if (!at || !at.measured || !step?.tap) return null;
  const box = at.svg.getBoundingClientRect();
  const view = at.svg.viewBox.baseVal;
  const x = ((event.clientX - box.left) / box.width) * view.width;
  const y = ((event.clientY - box.top) / box.height) * view.height;
  const from = (side) => {
    const [a, b] = ends(side, at.corners).map((corner) => at.points[corner]);
    const long = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const [ux, uy] = [(b[0] - a[0]) / long, (b[1] - a[1]) / long];
    const along = (x - a[0]) * ux + (y - a[1]) * uy;
    const inward = (x - a[0]) * uy - (y - a[1]) * ux; // the sketch's y runs down
    return { side, along: Math.min(Math.max(along, 0), long) / at.scale, inward: inward / at.scale, place: [x, y] };
  };
  if (step.side) return from(step.side);
  const sides = at.corners.map((corner, i) => from(corner + at.corners[(i + 1) % at.corners.length]));
  const nearest = sides.reduce((one, other) => (Math.abs(other.inward) < Math.abs(one.inward) ? other : one));
  return step.tap === "side" || Math.abs(nearest.inward) < 0.05 ? { ...nearest, inward: 0 } : sides[0];
}
