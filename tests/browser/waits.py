"""Waiting for a state of the phone, never for a time: what is drawn says less than what its store holds."""

from __future__ import annotations

from playwright.sync_api import Page

LONGEST = 60_000  # ms, on a machine with much else to do
STEP = 50  # ms between two looks
WAITING = """async () => {
  const asked = (request) => new Promise((done, failed) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });
  const drafts = Object.keys(localStorage).filter((name) => name.startsWith('crownwright-draft'))
    .flatMap((name) => Object.keys(JSON.parse(localStorage.getItem(name)).of)).filter((key) => key.endsWith(' kept'));
  const shelf = Object.keys(JSON.parse(localStorage.getItem('crownwright-shelf') || '{}'));
  const db = await asked(indexedDB.open('crownwright'));
  const rows = await asked(db.transaction('rows').objectStore('rows').getAll());
  db.close();
  return drafts.length + shelf.length + rows.filter((row) => row.state === 'waiting').length;
}"""
"""What is on its way into the outbox, and what waits in it, by the phone's own store: the list on the page is drawn later."""
ONLINE = "() => dispatchEvent(new Event('online'))"


def until(page: Page, script: str, arg: object = None) -> None:
    """Wait for a state that is asked with a promise: `wait_for_function` takes the promise itself for true."""
    for _ in range(LONGEST // STEP):
        if page.evaluate(script, arg):
            return
        page.wait_for_timeout(STEP)
    raise AssertionError(f"never came: {script}")


def all_sent(page: Page) -> None:
    """Wait until nothing that was typed is on its way to the book any more."""
    until(page, f"async () => (await ({WAITING})()) === 0")
