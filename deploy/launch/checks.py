"""What must hold before the shop starts. A check answers with one line, or None if all is well."""

from __future__ import annotations

import ctypes
import errno
import os
import shutil
import socket
import sqlite3
import tempfile
from collections.abc import Iterable, Sequence
from importlib.util import find_spec
from pathlib import Path

# WeasyPrint loads these by name at import (its documentation, "Installation").
PDF_LIBRARIES = {
    "libpango-1.0.so.0": "libpango-1.0-0",
    "libpangoft2-1.0.so.0": "libpangoft2-1.0-0",
    "libharfbuzz-subset.so.0": "libharfbuzz-subset0",
}
OLDEST_PYTHON = (3, 11)
OLDEST_SQLITE = (3, 37, 0)


def python_new_enough(version: Sequence[int]) -> str | None:
    if tuple(version[:2]) >= OLDEST_PYTHON:
        return None
    have = ".".join(str(part) for part in version[:2])
    return f"this is Python {have}; lampledger needs Python 3.11 or newer."


def sqlite_new_enough(version: tuple[int, ...] = sqlite3.sqlite_version_info) -> str | None:
    if version >= OLDEST_SQLITE:
        return None
    have = ".".join(str(part) for part in version)
    return f"this Python carries SQLite {have}; 3.37 or newer is needed, so use a newer Python."


def venv_can_be_made(modules: Iterable[str] = ("venv", "ensurepip")) -> str | None:
    """Debian ships `venv` without `ensurepip`, and then an environment has no pip."""
    missing = [name for name in modules if find_spec(name) is None]
    if not missing:
        return None
    return f"Python has no {missing[0]}; run: apt-get install -y python3-venv"


def libraries_present(libraries: dict[str, str] | None = None) -> str | None:
    """Say the exact apt line for the shared libraries that cannot be loaded."""
    wanted = PDF_LIBRARIES if libraries is None else libraries
    missing = [package for name, package in wanted.items() if not _loads(name)]
    if not missing:
        return None
    return (
        "the libraries that draw PDFs are missing; run: "
        f"apt-get install -y --no-install-recommends {' '.join(missing)}"
    )


def _loads(name: str) -> bool:
    try:
        ctypes.CDLL(name)
    except OSError:
        return False
    return True


def port_free(address: str, port: int, remedy: str = "choose another with --port") -> str | None:
    """Bind as the server will; SO_REUSEADDR, so that a port just given up counts as free."""
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((address, port))
            probe.listen(1)
        except OSError as error:
            return f"port {port} on {address} {_why_not_bound(error)}; {remedy}."
    return None


def _why_not_bound(error: OSError) -> str:
    if error.errno == errno.EADDRINUSE:
        return "is in use by another program"
    return f"cannot be opened ({error.strerror})"


def folder_writable(folder: Path) -> str | None:
    """Make the folder if need be and write one file into it."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=folder):
            pass
    except OSError as error:
        return f"the folder {folder} cannot be written to ({error.strerror})."
    return None


def room_on_disk(folder: Path, needed_bytes: int) -> str | None:
    existing = next(place for place in (folder, *folder.parents) if place.exists())
    free_bytes = shutil.disk_usage(existing).free
    if free_bytes >= needed_bytes:
        return None
    return (
        f"only {free_bytes / 1e9:.1f} GB free where {existing} lies; "
        f"{needed_bytes / 1e9:.1f} GB are needed."
    )


def folder_private(folder: Path) -> str | None:
    """Somebody else's folder would hand our keys to its owner."""
    if not folder.exists() or folder.stat().st_uid == os.getuid():
        return None
    return f"the folder {folder} belongs to another user; start as that user, or use --data."
