// Lengths as the keypad types them: a state of keys to text, and typed text to a number the tape can be drawn at.
export const fresh = () => ({ minus: false, feet: null, whole: "", eighths: 0, more: false, inch: false, unit: "" });

function fraction(sixteenths) {
  let [over, under] = [sixteenths, 16];
  while (over && over % 2 === 0) [over, under] = [over / 2, under / 2];
  return over ? `${over}/${under}` : "";
}

// us: 4' 3 1/2", or 51 1/2 where a bare number is in inches anyway; metric: always with its unit.
export function asTyped(keys, units, bare) {
  const sign = keys.minus ? "-" : "";
  if (units === "metric") return keys.whole ? `${sign}${keys.whole} ${keys.unit || bare}` : "";
  const inches = [keys.whole, fraction(keys.eighths * 2 + (keys.more ? 1 : 0))].filter(Boolean).join(" ");
  if (keys.feet !== null) return `${sign}${keys.feet}'${inches ? ` ${inches}"` : ""}`;
  return inches ? `${sign}${inches}${keys.inch || bare !== "in" ? '"' : ""}` : "";
}

const IN_METRES = { mm: 0.001, cm: 0.01, m: 1, in: 0.0254, ft: 0.3048 };
const METRIC = /^(\d+\.?\d*|\.\d+)\s*(mm|cm|m)$/;
const NUMBER = /^(\d+\.?\d*|\.\d+)$/;
const US = /^(?:(\d+)\s*(?:'|ft\.?)\s*-?\s*)?(?:(\d+(?:\.\d+)?)(?![\d.]*\s*\/))?[\s-]*(?:(\d+)\/(\d+))?\s*(?:"|in\.?)?$/;

// Metres of a typed length, minus where it says so; NaN where it is none that a tape here reads.
export function metres(text, bare) {
  const sign = /^\s*[-−]/.test(text) ? -1 : 1;
  const said = text.trim().replace(/^[-−+]\s*/, "");
  const [, number, unit = bare] = METRIC.exec(said) ?? NUMBER.exec(said) ?? [];
  if (number) return sign * Number(number) * IN_METRES[unit];
  const found = US.exec(said);
  const unsaid = !/['"]|ft|in/.test(said) && bare !== "in";
  if (!found || !said || unsaid) return NaN;
  const inches = 12 * Number(found[1] || 0) + Number(found[2] || 0) + (found[3] ? Number(found[3]) / Number(found[4]) : 0);
  return sign * inches * IN_METRES.in;
}

// Inches (us) or millimetres (metric) of a typed length, without its sign, for drawing it.
export function measure(text, units, bare) {
  return Math.abs(metres(text, bare)) / IN_METRES[units === "metric" ? "mm" : "in"];
}

// A length in words: to the sixteenth, or the millimetre; `up` rounds up, for what lies "within" it.
export function say(length, units, up = false) {
  const step = units === "metric" ? IN_METRES.mm : IN_METRES.in / 16;
  const steps = up ? Math.max(Math.ceil(length / step - 1e-6), 1) : Math.round(Math.abs(length) / step);
  const sign = length < 0 ? "-" : "";
  if (units === "metric") return `${sign}${steps} mm`;
  return `${sign}${[Math.floor(steps / 16) || "", fraction(steps % 16)].filter(Boolean).join(" ") || "0"} in.`;
}

// Metres as this page types them, to the half inch or the centimetre: a place shown with a finger is no better.
export function typedFrom(metres, units, bare) {
  if (units === "metric") return `${Math.max(0, Math.round(metres * 100)) * 10} mm`;
  const halves = Math.max(0, Math.round((metres / 0.0254) * 2));
  return asTyped({ ...fresh(), whole: String(Math.floor(halves / 2)), eighths: halves % 2 ? 4 : 0 }, "us", bare);
}
