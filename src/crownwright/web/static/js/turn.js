// Turning by hand: one finger turns, two bring nearer and move, the wheel and the keys likewise.
export const LOOKS = { corner: [-0.75, 0.5], front: [0, 0.05], above: [0, 1.5], below: [-0.75, -0.6] };

export function turning(canvas, reach, changed) {
  const whole = () => reach * 2.2 * Math.max(1, canvas.clientHeight / Math.max(canvas.clientWidth, 1));
  const eye = { round: LOOKS.corner[0], up: LOOKS.corner[1], away: whole(), x: 0, y: 0 };
  const fingers = new Map();
  let gap = 0;

  function turn(dx, dy) {
    eye.round += dx * 0.008;
    eye.up = Math.max(-1.55, Math.min(1.55, eye.up + dy * 0.008));
    changed();
  }
  function nearer(times) {
    eye.away = Math.max(reach * 0.6, Math.min(reach * 8, eye.away * times));
    changed();
  }
  function spread() {
    const [a, b] = [...fingers.values()];
    return Math.hypot(a.x - b.x, a.y - b.y);
  }
  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
    if (fingers.size === 2) gap = spread();
  });
  canvas.addEventListener("pointermove", (event) => {
    const last = fingers.get(event.pointerId);
    if (!last) return;
    const [dx, dy] = [event.clientX - last.x, event.clientY - last.y];
    fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
    if (fingers.size === 1 && !event.shiftKey) turn(dx, dy);
    else {
      const scale = eye.away / canvas.clientHeight / fingers.size;
      eye.x -= dx * scale;
      eye.y += dy * scale;
      if (fingers.size === 2) {
        const now = spread();
        nearer(gap / now || 1);
        gap = now;
      } else changed();
    }
  });
  for (const end of ["pointerup", "pointercancel"]) canvas.addEventListener(end, (event) => fingers.delete(event.pointerId));
  canvas.addEventListener("wheel", (event) => {
    event.preventDefault();
    nearer(Math.exp(event.deltaY * 0.001));
  }, { passive: false });
  canvas.addEventListener("keydown", (event) => {
    const keys = { ArrowLeft: [-20, 0], ArrowRight: [20, 0], ArrowUp: [0, -20], ArrowDown: [0, 20] };
    if (keys[event.key]) turn(...keys[event.key]);
    else if (event.key === "+" || event.key === "=") nearer(0.85);
    else if (event.key === "-") nearer(1.18);
    else return;
    event.preventDefault();
  });
  return {
    eye,
    look(name) {
      [eye.round, eye.up] = LOOKS[name];
      Object.assign(eye, { away: whole(), x: 0, y: 0 });
      changed();
    },
  };
}

// The matrix (column by column) that puts a point of the world on the screen, for an eye turned round `middle`.
export function seen(eye, middle, wide) {
  const [cr, sr, cu, su] = [Math.cos(eye.round), Math.sin(eye.round), Math.cos(eye.up), Math.sin(eye.up)];
  const right = [cr, 0, sr];
  const up = [sr * su, cu, -cr * su];
  const back = [-sr * cu, su, cr * cu];
  const at = (axis) => -(axis[0] * middle[0] + axis[1] * middle[1] + axis[2] * middle[2]);
  const [tx, ty, tz] = [at(right) - eye.x, at(up) - eye.y, at(back) - eye.away];
  const near = eye.away / 50;
  const far = eye.away * 6;
  const f = 2.4;
  const [a, b] = [(far + near) / (near - far), (2 * far * near) / (near - far)];
  const rows = [right, up, back];
  const m = [];
  for (let i = 0; i < 3; i += 1) m.push((f / wide) * rows[0][i], f * rows[1][i], a * rows[2][i], -rows[2][i]);
  m.push((f / wide) * tx, f * ty, a * tz + b, -tz);
  return { matrix: new Float32Array(m), towards: new Float32Array(back) };
}
