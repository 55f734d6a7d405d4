// Values half typed, by reading, each with the id its entry will have: they stand when he touches another reading, and when the
// page is opened anew. They go once the entry of that id is in the outbox, so that nothing is kept twice either.
import { newId } from "./outbox.js";

const KEPT = " kept";

export class Drafts {
  constructor(job) {
    this.name = `crownwright-draft-${job}`;
  }

  read() {
    return JSON.parse(localStorage.getItem(this.name) || '{"last":"","of":{}}');
  }

  write(last, of) {
    localStorage.setItem(this.name, JSON.stringify({ last, of }));
  }

  // The reading that he was at last.
  get last() {
    return this.read().last;
  }

  // { id, values } of a reading half typed.
  of(key) {
    return this.read().of[key];
  }

  put(key, values) {
    const { of } = this.read();
    of[key] = { id: of[key]?.id ?? newId(), values };
    this.write(key, of);
  }

  // Being put in the outbox: no longer what he is at, but not gone before it is there.
  shelve(key) {
    const { of } = this.read();
    if (of[key]) of[`${key}${KEPT}`] = of[key];
    delete of[key];
    this.write("", of);
  }

  // The page was closed between the two: what was not in the outbox yet is asked for again, with what was typed.
  unshelve() {
    const { last, of } = this.read();
    let at = last;
    for (const key of Object.keys(of).filter((one) => one.endsWith(KEPT))) {
      at = key.slice(0, -KEPT.length);
      of[at] = of[key];
      delete of[key];
    }
    this.write(at, of);
  }

  // Gone for good; with an id only where it is that one's.
  drop(key, id = null) {
    const { last, of } = this.read();
    if (id && of[key]?.id !== id) return;
    delete of[key];
    this.write(last === key ? "" : last, of);
  }

  // What is in the outbox, on its way there or typed anew under the same id, is no draft any more.
  kept(rows) {
    for (const row of rows) [row.step, `${row.step}${KEPT}`].forEach((key) => this.drop(key, row.id));
  }

  shelved(key, id) {
    this.drop(`${key}${KEPT}`, id);
  }
}
