"""Many entries on a phone, quicker than anybody taps: what was made by hand once more and again."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Page

MULTIPLY = """
async ({ findings, photos }) => {
  const db = await new Promise((done, failed) => {
    const asked = indexedDB.open("lampledger");
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => failed(asked.error);
  });
  const all = (store) => new Promise((done) => {
    const read = db.transaction(store).objectStore(store).getAll();
    read.onsuccess = () => done(read.result);
  });
  const queue = await all("queue");
  const said = queue.find((row) => row.body.kind === "finding");
  const shot = queue.find((row) => row.body.kind === "photo");
  const picture = (await all("photos")).find((row) => row.sha256 === shot.body.value.sha256);
  const hex = (bytes) => [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  const newId = () => {
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    const now = Date.now();
    for (let i = 0; i < 6; i++) bytes[i] = Math.floor(now / 2 ** (8 * (5 - i))) % 256;
    bytes[6] = 0x70 | (bytes[6] & 15);
    bytes[8] = 0x80 | (bytes[8] & 63);
    return hex(bytes).replace(/^(.{8})(.{4})(.{4})(.{4})/, "$1-$2-$3-$4-");
  };
  const noise = async (width, height) => {
    const canvas = new OffscreenCanvas(width, height);
    const context = canvas.getContext("2d");
    const dots = context.createImageData(width, height);
    for (let i = 0; i < dots.data.length; i += 4) {
      crypto.getRandomValues(dots.data.subarray(i, i + 3));
      dots.data[i + 3] = 255;
    }
    context.putImageData(dots, 0, 0);
    return canvas.convertToBlob({ type: "image/jpeg", quality: 0.8 });
  };
  const keep = (row, photo) => new Promise((done, failed) => {
    const stores = ["entries", "queue", "photos"];
    const tx = db.transaction(stores, "readwrite", { durability: "strict" });
    tx.objectStore("entries").put(row.body);
    tx.objectStore("queue").add(row);
    if (photo) tx.objectStore("photos").put(photo);
    tx.oncomplete = done;
    tx.onabort = () => failed(tx.error);
  });
  const again = ({ n: _n, ...row }, value) => {
    const id = newId();
    const made_at = new Date().toISOString();
    return { ...row, id, body: { ...row.body, id, made_at, value } };
  };
  const every = Math.ceil((findings + photos) / Math.max(1, photos));
  for (let i = 0, taken = 0; i < findings + photos; i++) {
    if (taken < photos && i % every === every - 1 || i - taken >= findings) {
      const side = 48 + 4 * (taken++ % 60);
      const blob = await noise(side, side);
      const bytes = await blob.arrayBuffer();
      const sha256 = hex(new Uint8Array(await crypto.subtle.digest("SHA-256", bytes)));
      const value = { ...shot.body.value, sha256, width: side, height: side, size: blob.size };
      await keep(again(shot, value), { ...picture, sha256, blob });
    } else {
      await keep(again(said, { ...said.body.value, text: `Finding ${i + 1}.` }));
    }
  }
  db.close();
}
"""


def multiply(page: Page, *, findings: int, photos: int) -> None:
    """Adds so many to the phone's store, in the form and by the transactions of the app.

    Copies a finding and a photo that were recorded on the screen before, each with an id, a time
    and content of its own; pictures are drawn in the page, 2 kB to about 100 kB.
    """
    counts: dict[str, Any] = {"findings": findings, "photos": photos}
    page.evaluate(MULTIPLY, counts)
