// The solid, drawn as on paper: flat tones and inked edges. No library; WebGL 2, and the plain picture where there is none.
import { inked, readGlb } from "./glb.js";
import { cutThrough } from "./section.js";
import { seen, turning } from "./turn.js";

const place = document.getElementById("solid");
const canvas = place.querySelector("canvas");
const said = place.querySelector(".said");
const panel = document.querySelector(".shown");

const VERTEX = `#version 300 es
in vec3 spot; uniform mat4 seen; uniform float pull; out vec3 world;
void main() { world = spot; gl_Position = seen * vec4(spot, 1.0); gl_Position.z -= pull * gl_Position.w; }`;
const FRAGMENT = `#version 300 es
precision highp float; in vec3 world; uniform vec3 colour; uniform vec3 towards; uniform float ink; uniform float cut; uniform vec3 hatch; out vec4 tone;
void main() {
  if (ink > 1.5) { // a cut face: paper, a breath of the colour, and hatching as on a section
    float across = mod(dot(gl_FragCoord.xy, hatch.xy), hatch.z);
    float line = 1.0 - smoothstep(0.3, 1.1, min(across, hatch.z - across));
    tone = vec4(mix(mix(vec3(1.0), pow(colour, vec3(0.4545)), 0.3), vec3(0.16, 0.14, 0.12), line * 0.75), 1.0);
    return;
  }
  if (world.z > cut) discard;
  if (ink > 0.5) { tone = vec4(colour, 1.0); return; }
  vec3 normal = normalize(cross(dFdx(world), dFdy(world)));
  if (!gl_FrontFacing) { tone = vec4(pow(colour * 0.5, vec3(0.4545)), 1.0); return; } // an inside that a cut lays open
  float light = 0.62 + 0.28 * normal.y + 0.16 * dot(normal, towards);
  tone = vec4(pow(clamp(colour * light, 0.0, 1.0), vec3(0.4545)), 1.0);
}`;

function program(gl) {
  const made = gl.createProgram();
  for (const [kind, text] of [[gl.VERTEX_SHADER, VERTEX], [gl.FRAGMENT_SHADER, FRAGMENT]]) {
    const shader = gl.createShader(kind);
    gl.shaderSource(shader, text);
    gl.compileShader(shader);
    if (!gl.getShaderParameter(shader, gl.COMPILE_STATUS)) throw new Error(gl.getShaderInfoLog(shader));
    gl.attachShader(made, shader);
  }
  gl.bindAttribLocation(made, 0, "spot");
  gl.linkProgram(made);
  return made;
}

function loaded(gl, points, indices) {
  const array = gl.createVertexArray();
  gl.bindVertexArray(array);
  gl.bindBuffer(gl.ARRAY_BUFFER, gl.createBuffer());
  gl.bufferData(gl.ARRAY_BUFFER, points, gl.STATIC_DRAW);
  gl.enableVertexAttribArray(0);
  gl.vertexAttribPointer(0, 3, gl.FLOAT, false, 0, 0);
  gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, gl.createBuffer());
  gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, indices, gl.STATIC_DRAW);
  return { array, count: indices.length };
}

// Lines of a cut: where they go changes with the cut.
function drawnAnew(gl) {
  const array = gl.createVertexArray();
  const buffer = gl.createBuffer();
  gl.bindVertexArray(array);
  gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
  gl.enableVertexAttribArray(0);
  gl.vertexAttribPointer(0, 3, gl.FLOAT, false, 0, 0);
  return {
    array,
    count: 0,
    put(points) {
      gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
      gl.bufferData(gl.ARRAY_BUFFER, points, gl.DYNAMIC_DRAW);
      this.count = points.length / 3;
    },
  };
}

// Which way each group is hatched, and how far apart in CSS px: neighbours never alike.
const HATCHES = [[0.7071, 0.7071, 7], [0.7071, -0.7071, 10], [0.7071, -0.7071, 5], [0.9659, 0.2588, 9], [0.2588, 0.9659, 6]];

function bounds(groups) {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (const { bodies } of groups) for (const { points } of bodies) points.forEach((x, i) => { low[i % 3] = Math.min(low[i % 3], x); high[i % 3] = Math.max(high[i % 3], x); });
  return { middle: low.map((x, i) => (x + high[i]) / 2), reach: Math.hypot(...low.map((x, i) => high[i] - x)) / 2, low, high };
}

function choices(groups, changed) {
  const row = panel.querySelector(".groups");
  for (const group of groups) {
    const label = document.createElement("label");
    const box = Object.assign(document.createElement("input"), { type: "checkbox", checked: true });
    box.addEventListener("change", () => { group.hidden = !box.checked; changed(); });
    label.append(box, ` ${group.name}`);
    row.append(label);
  }
  panel.hidden = false;
}

function show(gl, groups) {
  const { middle, reach, low, high } = bounds(groups);
  const made = program(gl);
  const at = (name) => gl.getUniformLocation(made, name);
  const [SEEN, COLOUR, TOWARDS, INK, PULL, CUT, HATCH] = ["seen", "colour", "towards", "ink", "pull", "cut", "hatch"].map(at);
  groups.forEach((group, k) => {
    group.hatch = HATCHES[k % HATCHES.length];
    group.drawn = group.bodies.map((body) => ({ ...body, faces: loaded(gl, body.points, body.triangles), edges: loaded(gl, body.points, inked(body.points, body.triangles)), rim: drawnAnew(gl) }));
  });
  const plane = drawnAnew(gl);
  let cutAt = Infinity;
  const cut = document.getElementById("cut");
  let asked = false;
  place.querySelector(".flat").hidden = true;
  canvas.hidden = false;
  const hand = turning(canvas, reach, draw);

  // Move the cut: its plane, and the rim of every body on it.
  function cutTo(z) {
    if (z === cutAt) return;
    cutAt = z;
    const [x0, y0, x1, y1] = [low[0] - 1, low[1] - 1, high[0] + 1, high[1] + 1];
    plane.put(new Float32Array([x0, y0, z, x1, y0, z, x0, y1, z, x1, y1, z]));
    for (const group of groups) for (const body of group.drawn) body.rim.put(cutThrough(body.points, body.triangles, z));
  }

  // Close a body where it is cut: where its skin is entered more often than left, the eye looks into it through the plane.
  function closed(body) {
    if (!body.rim.count) return;
    gl.enable(gl.STENCIL_TEST);
    gl.colorMask(false, false, false, false);
    gl.depthMask(false);
    gl.disable(gl.DEPTH_TEST);
    gl.uniform1f(INK, 0);
    gl.stencilFunc(gl.ALWAYS, 0, 0xff);
    gl.stencilOpSeparate(gl.FRONT, gl.KEEP, gl.KEEP, gl.DECR_WRAP);
    gl.stencilOpSeparate(gl.BACK, gl.KEEP, gl.KEEP, gl.INCR_WRAP);
    gl.bindVertexArray(body.faces.array);
    gl.drawElements(gl.TRIANGLES, body.faces.count, gl.UNSIGNED_INT, 0);
    gl.colorMask(true, true, true, true);
    gl.depthMask(true);
    gl.enable(gl.DEPTH_TEST);
    gl.stencilFunc(gl.NOTEQUAL, 0, 0xff);
    gl.stencilOp(gl.ZERO, gl.ZERO, gl.ZERO);
    gl.uniform1f(INK, 2);
    gl.bindVertexArray(plane.array);
    gl.drawArrays(gl.TRIANGLE_STRIP, 0, plane.count);
    gl.disable(gl.STENCIL_TEST);
  }

  function frame() {
    asked = false;
    const dots = Math.min(devicePixelRatio || 1, 2);
    const [wide, high_] = [Math.round(canvas.clientWidth * dots), Math.round(canvas.clientHeight * dots)];
    if (canvas.width !== wide || canvas.height !== high_) Object.assign(canvas, { width: wide, height: high_ });
    gl.viewport(0, 0, wide, high_);
    gl.clearColor(1, 1, 1, 1);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT | gl.STENCIL_BUFFER_BIT);
    gl.enable(gl.DEPTH_TEST);
    gl.useProgram(made);
    const { matrix, towards } = seen(hand.eye, middle, wide / high_);
    gl.uniformMatrix4fv(SEEN, false, matrix);
    gl.uniform3fv(TOWARDS, towards);
    const z = high[2] + 0.001 - (Number(cut.value) / 100) * (high[2] - low[2]);
    cutTo(z);
    gl.uniform1f(CUT, z);
    for (const [part, kind, ink] of [["faces", gl.TRIANGLES, 0], ["edges", gl.LINES, 1]]) {
      gl.uniform1f(INK, ink);
      gl.uniform1f(PULL, ink * 0.0015);
      for (const group of groups) {
        if (group.hidden) continue;
        for (const body of group.drawn) {
          gl.uniform3fv(COLOUR, ink ? [0.09, 0.08, 0.07] : body.colour.slice(0, 3));
          gl.bindVertexArray(body[part].array);
          gl.drawElements(kind, body[part].count, gl.UNSIGNED_INT, 0);
        }
      }
    }
    for (const group of groups) {
      if (group.hidden) continue;
      gl.uniform1f(PULL, 0);
      gl.uniform3f(HATCH, group.hatch[0], group.hatch[1], group.hatch[2] * dots);
      for (const body of group.drawn) {
        gl.uniform3fv(COLOUR, body.colour.slice(0, 3));
        closed(body);
      }
    }
    gl.uniform1f(INK, 1);
    gl.uniform1f(PULL, 0.002);
    gl.uniform1f(CUT, z + 0.001);
    gl.uniform3fv(COLOUR, [0.09, 0.08, 0.07]);
    for (const group of groups) {
      if (group.hidden) continue;
      for (const { rim } of group.drawn) {
        gl.bindVertexArray(rim.array);
        gl.drawArrays(gl.LINES, 0, rim.count);
      }
    }
  }
  function draw() {
    if (!asked) requestAnimationFrame(frame);
    asked = true;
  }
  choices(groups, draw);
  cut.addEventListener("input", draw);
  for (const button of panel.querySelectorAll("[data-look]")) button.addEventListener("click", () => hand.look(button.dataset.look));
  new ResizeObserver(draw).observe(canvas);
  draw();
}

async function start() {
  const gl = canvas.getContext("webgl2", { antialias: true, stencil: true, preserveDrawingBuffer: true });
  if (!gl) {
    said.textContent = "This browser has no WebGL, so here is a picture.";
    return;
  }
  try {
    const answer = await fetch(place.dataset.solid);
    if (!answer.ok) throw new Error(`the desk answers ${answer.status}`);
    show(gl, readGlb(await answer.arrayBuffer()));
  } catch (error) {
    said.textContent = `The solid cannot be shown (${error.message}), so here is a picture.`;
  }
}

start();
