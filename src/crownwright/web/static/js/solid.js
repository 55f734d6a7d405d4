// The solid, drawn as on paper: flat tones and inked edges. No library; WebGL 2, and the plain picture where there is none.
import { inked, readGlb } from "./glb.js";
import { seen, turning } from "./turn.js";

const place = document.getElementById("solid");
const canvas = place.querySelector("canvas");
const said = place.querySelector(".said");
const panel = document.querySelector(".shown");

const VERTEX = `#version 300 es
in vec3 spot; uniform mat4 seen; uniform float pull; out vec3 world;
void main() { world = spot; gl_Position = seen * vec4(spot, 1.0); gl_Position.z -= pull * gl_Position.w; }`;
const FRAGMENT = `#version 300 es
precision highp float; in vec3 world; uniform vec3 colour; uniform vec3 towards; uniform float ink; uniform float cut; out vec4 tone;
void main() {
  if (world.z > cut) discard;
  if (ink > 0.5) { tone = vec4(colour, 1.0); return; }
  vec3 normal = normalize(cross(dFdx(world), dFdy(world)));
  if (!gl_FrontFacing) { tone = vec4(pow(colour * 0.5, vec3(0.4545)), 1.0); return; } // what is cut: one flat tone
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
  const [SEEN, COLOUR, TOWARDS, INK, PULL, CUT] = ["seen", "colour", "towards", "ink", "pull", "cut"].map(at);
  for (const group of groups) {
    group.drawn = group.bodies.map(({ points, triangles, colour }) => ({ colour, faces: loaded(gl, points, triangles), edges: loaded(gl, points, inked(points, triangles)) }));
  }
  const cut = document.getElementById("cut");
  let asked = false;
  place.querySelector(".flat").hidden = true;
  canvas.hidden = false;
  const hand = turning(canvas, reach, draw);

  function frame() {
    asked = false;
    const dots = Math.min(devicePixelRatio || 1, 2);
    const [wide, high_] = [Math.round(canvas.clientWidth * dots), Math.round(canvas.clientHeight * dots)];
    if (canvas.width !== wide || canvas.height !== high_) Object.assign(canvas, { width: wide, height: high_ });
    gl.viewport(0, 0, wide, high_);
    gl.clearColor(1, 1, 1, 1);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.enable(gl.DEPTH_TEST);
    gl.useProgram(made);
    const { matrix, towards } = seen(hand.eye, middle, wide / high_);
    gl.uniformMatrix4fv(SEEN, false, matrix);
    gl.uniform3fv(TOWARDS, towards);
    gl.uniform1f(CUT, high[2] + 0.001 - (Number(cut.value) / 100) * (high[2] - low[2]));
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
  const gl = canvas.getContext("webgl2", { antialias: true, preserveDrawingBuffer: true });
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
