"""Write everything the shop must not lose into one file: `python3 deploy/backup.py TO_FOLDER`.

Works while the shop runs. With DATABASE_URL set to PostgreSQL it takes the database from there with
pg_dump, else the SQLite file of the data folder. How to bring it back: docs/runbook.md.
"""

from __future__ import annotations

import argparse
import os
import sqlite3
import subprocess
import sys
import tarfile
import tempfile
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from urllib.parse import unquote, urlsplit, urlunsplit

ROOT = Path(__file__).resolve().parents[1]
SQLITE = "lampledger.sqlite3"
# What a restore needs beside the database. Static files, logs and the queue are made anew.
KEPT = ("media", "secret-key", "lan", "kind-of-shop", "demo-logins", "mail")
# Lies in the archive only: the first start after bringing it back checks every record.
BROUGHT_BACK = "brought-back"


class BackupFailed(Exception):
    """Why there is no backup, in one line."""


def main(words: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python3 deploy/backup.py", allow_abbrev=False)
    parser.add_argument("to", type=Path, help="the folder that receives the backup")
    parser.add_argument("--data", type=Path, default=ROOT / "data", metavar="DIR")
    asked = parser.parse_args(words)
    try:
        made = back_up(asked.data, asked.to, os.environ.get("DATABASE_URL", ""))
    except (BackupFailed, OSError) as problem:
        print(f"No backup: {problem}", file=sys.stderr)
        return 1
    print(f"{made} ({made.stat().st_size / 1e6:.1f} MB)")
    return 0


def back_up(data_dir: Path, to: Path, database_url: str, now: datetime | None = None) -> Path:
    """Answers with the archive, complete or not there at all. Raises BackupFailed, OSError.

    The database goes first: every file that it names was written before its row.
    """
    to.mkdir(parents=True, exist_ok=True)
    now = now or datetime.now(UTC)
    made = to / f"lampledger-{now:%Y%m%dT%H%M%SZ}.tar.gz"
    with tempfile.TemporaryDirectory(dir=to, prefix=".unfinished-") as name:
        copied = copy_database(data_dir, Path(name), database_url)
        unfinished = Path(name) / "archive"
        _pack(unfinished, copied, data_dir)
        unfinished.replace(made)
    return made


def copy_database(data_dir: Path, to: Path, database_url: str) -> Path:
    scheme = urlsplit(database_url).scheme
    if scheme in {"postgres", "postgresql"}:
        return _dump_postgresql(database_url, to / "database.dump")
    # As in the settings: sqlite:////folder/file names /folder/file.
    named = Path("/", urlsplit(database_url).path.lstrip("/"))
    source = named if scheme == "sqlite" else data_dir / SQLITE
    if not source.is_file():
        raise BackupFailed(f"there is no database {source}; name the data folder with --data")
    return _copy_sqlite(source, to / SQLITE)


def _copy_sqlite(source: Path, target: Path) -> Path:
    """SQLite's own copy: one moment of the database, also while others write."""
    with (
        closing(sqlite3.connect(f"{source.resolve().as_uri()}?mode=ro", uri=True)) as shop,
        closing(sqlite3.connect(target)) as copy,
    ):
        shop.backup(copy)
        found = copy.execute("PRAGMA integrity_check").fetchone()[0]
    if found != "ok":
        raise BackupFailed(f"the copy of the database is not sound: {found}")
    return target


def _dump_postgresql(database_url: str, target: Path) -> Path:
    address, password = without_password(database_url)
    command = [
        "pg_dump",
        "--format=custom",
        "--no-owner",
        f"--file={target}",
        f"--dbname={address}",
    ]
    try:
        subprocess.run(command, env={**os.environ, **password}, check=True)
    except FileNotFoundError as error:
        raise BackupFailed("no pg_dump; run: apt-get install -y postgresql-client") from error
    except subprocess.CalledProcessError as error:
        raise BackupFailed(f"pg_dump ended with exit code {error.returncode}") from error
    return target


def without_password(database_url: str) -> tuple[str, dict[str, str]]:
    """The address for a command line, which all may read, and the password for the environment."""
    parts = urlsplit(database_url)
    if parts.password is None:
        return database_url, {}
    person, _, place = parts.netloc.rpartition("@")
    bare = parts._replace(netloc=f"{person.partition(':')[0]}@{place}")
    return urlunsplit(bare), {"PGPASSWORD": unquote(parts.password)}


def _pack(archive: Path, database: Path, data_dir: Path) -> None:
    handle = os.open(archive, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "wb") as file:
        with tarfile.open(fileobj=file, mode="w:gz") as tar:
            tar.add(database, database.name)
            for name in KEPT:
                if (data_dir / name).exists():
                    tar.add(data_dir / name, name)
            tar.addfile(tarfile.TarInfo(BROUGHT_BACK))
        file.flush()
        os.fsync(file.fileno())


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
