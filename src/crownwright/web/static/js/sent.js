// What a form would send, as it would send it: for a script that sends it in the form's place.
export function sentAs(form) {
  return new URLSearchParams([...new FormData(form)].filter(([, value]) => typeof value === "string"));
}
