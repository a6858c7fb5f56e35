"""What lies on the phone, unsent."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Page

READ_QUEUE = """
async () => {
  const db = await new Promise((done, failed) => {
    const asked = indexedDB.open("lampledger");
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => failed(asked.error);
  });
  const read = db.transaction("queue").objectStore("queue").getAll();
  const rows = await new Promise((done) => { read.onsuccess = () => done(read.result); });
  db.close();
  return rows.map((row) => row.body);
}
"""


def kept_entries(page: Page) -> list[dict[str, Any]]:
    """The entries in the phone's own store that the server has not acknowledged, oldest first."""
    return list(page.evaluate(READ_QUEUE))
