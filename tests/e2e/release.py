"""A later release of the app: what was built, under the names a changed build would have."""

from __future__ import annotations

import hashlib
import re
import shutil
from pathlib import Path

NAME = re.compile(r"^(?P<stem>.+)-(?P<hash>[\w-]{8})(?P<end>\.\w+)$")
IN_WORDS = {".js", ".css", ".html", ".json", ".webmanifest"}
MARK = '<meta name="release" content="next" />'


def next_release(built: Path, folder: Path) -> Path:
    """The same code, every hashed file renamed, and a mark in the page. Returns the folder."""
    shutil.copytree(built, folder)
    names = {file.name: _renamed(file.name) for file in (folder / "assets").iterdir()}
    before = _short_hash(folder / "index.html")
    for file in [one for one in folder.rglob("*") if one.suffix in IN_WORDS]:
        text = file.read_text()
        for old, new in names.items():
            text = text.replace(old, new)
        file.write_text(text)
    for old, new in names.items():
        (folder / "assets" / old).rename(folder / "assets" / new)
    page = folder / "index.html"
    page.write_text(page.read_text().replace("<head>", f"<head>{MARK}"))
    worker = folder / "sw.js"
    told = worker.read_text()
    assert before in told, "the worker does not name the page by its hash"
    worker.write_text(told.replace(before, _short_hash(page)))
    return folder


def _renamed(name: str) -> str:
    found = NAME.match(name)
    if not found:
        return name
    other = hashlib.sha256(name.encode()).hexdigest()[:8]
    return f"{found['stem']}-{other}{found['end']}"


def _short_hash(file: Path) -> str:
    """As `build-tools/service-worker-plugin.ts` names the version of a file."""
    return hashlib.sha256(file.read_bytes()).hexdigest()[:12]
