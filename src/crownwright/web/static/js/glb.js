// Reads binary glTF 2.0 as the desk writes it: named groups of bodies, each with positions, triangles and a colour.
const JSON_CHUNK = 0x4e4f534a;

export function readGlb(buffer) {
  const view = new DataView(buffer);
  if (view.getUint32(0, true) !== 0x46546c67) throw new Error("that is no solid");
  let tree = null;
  let start = 0;
  for (let at = 12; at < buffer.byteLength; ) {
    const length = view.getUint32(at, true);
    if (view.getUint32(at + 4, true) === JSON_CHUNK) tree = JSON.parse(new TextDecoder().decode(new Uint8Array(buffer, at + 8, length)));
    else start = at + 8;
    at += 8 + length;
  }
  const part = (index, Kind) => {
    const accessor = tree.accessors[index];
    const place = tree.bufferViews[accessor.bufferView];
    return new Kind(buffer, start + place.byteOffset, place.byteLength / Kind.BYTES_PER_ELEMENT);
  };
  return tree.nodes.filter((node) => node.children).map((group) => ({
    name: group.name,
    bodies: group.children.map((child) => {
      const drawn = tree.meshes[tree.nodes[child].mesh].primitives[0];
      return {
        points: part(drawn.attributes.POSITION, Float32Array),
        triangles: part(drawn.indices, Uint32Array),
        colour: tree.materials[drawn.material].pbrMetallicRoughness.baseColorFactor,
      };
    }),
  }));
}

// The edges of a body that a draughtsman would ink: where two faces meet at more than a few degrees.
export function inked(points, triangles, bend = Math.cos((20 * Math.PI) / 180)) {
  const keys = new Map();
  const spot = (i) => `${Math.round(points[3 * i] * 1e4)},${Math.round(points[3 * i + 1] * 1e4)},${Math.round(points[3 * i + 2] * 1e4)}`;
  for (let t = 0; t < triangles.length; t += 3) {
    const corners = [triangles[t], triangles[t + 1], triangles[t + 2]];
    const normal = across(points, corners);
    for (let k = 0; k < 3; k += 1) {
      const [a, b] = [corners[k], corners[(k + 1) % 3]];
      const [one, other] = [spot(a), spot(b)];
      const key = one < other ? `${one}|${other}` : `${other}|${one}`;
      if (keys.has(key)) keys.get(key).normals.push(normal);
      else keys.set(key, { ends: [a, b], normals: [normal] });
    }
  }
  const lines = [];
  for (const { ends, normals } of keys.values()) {
    const flat = normals.length === 2 && normals[0].reduce((sum, n, i) => sum + n * normals[1][i], 0) > bend;
    if (!flat) lines.push(...ends);
  }
  return new Uint32Array(lines);
}

function across(points, [a, b, c]) {
  const u = [0, 1, 2].map((i) => points[3 * b + i] - points[3 * a + i]);
  const v = [0, 1, 2].map((i) => points[3 * c + i] - points[3 * a + i]);
  const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
  const size = Math.hypot(...n) || 1;
  return n.map((x) => x / size);
}
