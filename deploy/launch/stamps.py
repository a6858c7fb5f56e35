"""A stamp remembers from what something was made, so that a second start need not make it again."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from pathlib import Path


def digest_of_texts(texts: Iterable[str]) -> str:
    """SHA-256 over texts with their lengths, so that moving a border changes the digest."""
    digest = hashlib.sha256()
    for text in texts:
        content = text.encode()
        digest.update(f"{len(content)}:".encode() + content)
    return digest.hexdigest()


def digest_of_tree(folder: Path, without: frozenset[str]) -> str:
    """SHA-256 over names and contents of all files below a folder, but for entries `without`."""
    digest = hashlib.sha256()
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder)
        if name.parts[0] in without or not path.is_file():
            continue
        content = path.read_bytes()
        digest.update(f"{name.as_posix()}:{len(content)}:".encode() + content)
    return digest.hexdigest()


def is_current(stamp: Path, digest: str) -> bool:
    return stamp.is_file() and stamp.read_text().strip() == digest


def write(stamp: Path, digest: str) -> None:
    stamp.parent.mkdir(parents=True, exist_ok=True)
    stamp.write_text(f"{digest}\n")
