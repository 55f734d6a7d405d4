// What was looked at, and how: a tick for a part in one way, kept on this phone at once as findings are.
export class Looks {
  // keep(changes, says, look) puts a tick in the outbox, and is over once it is there
  constructor(form, keep) {
    this.form = form;
    this.soon = new Map(); // being put in the outbox: they count before it has them
    this.form.querySelector(".plain").remove();
    this.form.addEventListener("change", ({ target }) => this.ticked(target, keep));
  }

  get boxes() {
    return [...this.form.querySelectorAll("[data-path]")];
  }

  // What waits, was refused, or was sent after this page was made.
  overlay(rows, head) {
    const now = new Map(this.boxes.map((box) => [box.dataset.path, box.defaultChecked]));
    for (const { look, state, revision } of rows) {
      if (look && !(state === "sent" && revision <= head)) now.set(look.path, look.done);
    }
    for (const [path, done] of this.soon) now.set(path, done);
    for (const box of this.boxes) box.checked = now.get(box.dataset.path);
  }

  // As the book has it by now.
  renew(fresh) {
    for (const box of this.boxes) {
      const there = fresh.querySelector(`[data-path="${CSS.escape(box.dataset.path)}"]`);
      if (there) box.defaultChecked = there.defaultChecked;
    }
  }

  async ticked(box, keep) {
    const { path, part, how } = box.dataset;
    const done = box.checked;
    this.soon.set(path, done);
    const change = done ? { path: `${path}.part`, value: part, was: null } : { path, remove: true, was: { part, how } };
    await keep([change], `${part[0].toUpperCase()}${part.slice(1)}, ${how}: ${done ? "looked at" : "taken off"}`, { path, done });
    if (this.soon.get(path) === done) this.soon.delete(path);
  }
}
