"""What lies on the phone: its own store, read without the app."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Page

from tests.e2e.phone import seen_soon

READ_ROWS = """
async (store) => {
  const db = await new Promise((done, failed) => {
    const asked = indexedDB.open("lampledger");
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => failed(asked.error);
  });
  const read = db.transaction(store).objectStore(store).getAll();
  const rows = await new Promise((done) => { read.onsuccess = () => done(read.result); });
  db.close();
  // A picture cannot leave the page; its size can.
  return rows.map((row) => (row && row.blob ? { ...row, blob: row.blob.size } : row));
}
"""


def rows_of(page: Page, store: str) -> list[dict[str, Any]]:
    return list(page.evaluate(READ_ROWS, store))


def kept_entries(page: Page) -> list[dict[str, Any]]:
    """The entries in the phone's own store that the server has not acknowledged, oldest first."""
    return [row["body"] for row in rows_of(page, "queue")]


def wait_until_kept(page: Page, *worksheets: str) -> None:
    """The worksheets with their packs lie on the phone."""
    wanted = set(worksheets)
    seen_soon(lambda: wanted <= {row["worksheet"] for row in rows_of(page, "packs")}, seconds=30)
