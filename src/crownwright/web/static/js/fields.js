// The fields of a reading: what is typed on our own keypad, and what is chosen of a few.
//   fields(asks, values, { activate(i), choose(i, value) }) -> one element for each question

function typedField(one, i, value, { activate }) {
  const whole = document.createElement("div");
  whole.className = "field";
  const label = document.createElement("label");
  label.htmlFor = `value-${i}`;
  label.textContent = one.label;
  const input = Object.assign(document.createElement("input"), { id: `value-${i}`, name: one.key, value, readOnly: true, inputMode: "none", autocomplete: "off" });
  input.addEventListener("focus", () => activate(i));
  input.addEventListener("click", () => activate(i));
  whole.append(label, input);
  return whole;
}

function chips(one, i, chosen, { choose }) {
  const whole = document.createElement("fieldset");
  whole.className = "chips";
  const legend = document.createElement("legend");
  legend.textContent = one.label;
  whole.append(legend);
  for (const [value, words] of one.options) {
    const label = document.createElement("label");
    const input = Object.assign(document.createElement("input"), { type: "radio", name: one.key, value, checked: chosen === value });
    const text = document.createElement("span");
    text.textContent = words;
    input.addEventListener("change", () => choose(i, value));
    label.append(input, text);
    whole.append(label);
  }
  return whole;
}

export function fields(asks, values, heard) {
  return asks.map((one, i) => (one.options.length ? chips : typedField)(one, i, values[one.key], heard));
}
