// Where a level of z cuts a body: the lines its skin leaves there, as pairs of ends, wound so that the body lies on their left
// as seen from the cut side. Corners on the level count as behind it, so that every line of a closed skin meets the next.
export function cutThrough(points, triangles, z) {
  const lines = [];
  for (let t = 0; t < triangles.length; t += 3) {
    const corners = [triangles[t], triangles[t + 1], triangles[t + 2]];
    const before = corners.map((i) => points[3 * i + 2] > z);
    const sum = before[0] + before[1] + before[2];
    if (sum === 0 || sum === 3) continue;
    const ends = [];
    for (let k = 0; k < 3; k += 1) {
      const [a, b] = [k, (k + 1) % 3];
      if (before[a] !== before[b]) ends.push({ into: before[b], at: between(points, corners[a], corners[b], z) });
    }
    const [first, second] = ends[0].into ? [ends[1], ends[0]] : ends;
    lines.push(...first.at, z, ...second.at, z);
  }
  return new Float32Array(lines);
}

function between(points, a, b, z) {
  const share = (z - points[3 * a + 2]) / (points[3 * b + 2] - points[3 * a + 2]);
  return [points[3 * a] + share * (points[3 * b] - points[3 * a]), points[3 * a + 1] + share * (points[3 * b + 1] - points[3 * a + 1])];
}

// The area between those lines: what the cut face of the body measures.
export function areaOf(lines) {
  let twice = 0;
  for (let k = 0; k < lines.length; k += 6) twice += lines[k] * lines[k + 4] - lines[k + 3] * lines[k + 1];
  return twice / 2;
}
