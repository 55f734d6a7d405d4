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

const IN_MM = { mm: 1, cm: 10, m: 1000 };

// Inches (us) or millimetres (metric) of a typed length; NaN where it is none that this page types.
export function measure(text, units, bare) {
  const said = text.trim().replace(/^[+-]/, "");
  if (units === "metric") {
    const found = /^([\d.]+)\s*(mm|cm|m)?$/.exec(said);
    return found ? Number(found[1]) * IN_MM[found[2] || bare] : NaN;
  }
  const found = /^(?:(\d+)\s*(?:'|ft)\s*)?(?:(\d+(?:\.\d+)?)(?!\s*\/))?\s*(?:(\d+)\/(\d+))?\s*(?:"|in\.?)?$/.exec(said);
  if (!found || !said) return NaN;
  return 12 * Number(found[1] || 0) + Number(found[2] || 0) + (found[3] ? Number(found[3]) / Number(found[4]) : 0);
}

// Metres as this page types them, to the half inch or the centimetre: a place shown with a finger is no better.
export function typedFrom(metres, units, bare) {
  if (units === "metric") return `${Math.max(0, Math.round(metres * 100)) * 10} mm`;
  const halves = Math.max(0, Math.round((metres / 0.0254) * 2));
  return asTyped({ ...fresh(), whole: String(Math.floor(halves / 2)), eighths: halves % 2 ? 4 : 0 }, "us", bare);
}
