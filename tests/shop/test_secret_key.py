"""The shop's own secret: made once, whoever of its processes starts first."""

from __future__ import annotations

import stat
from multiprocessing import get_context
from pathlib import Path

from shop.environment import env_secret

NAME = "A_SECRET_THAT_NOBODY_SET"


def made(file: Path) -> str:
    return env_secret(NAME, file)


def test_processes_that_start_together_get_one_secret(tmp_path):
    file = tmp_path / "data" / "secret-key"

    with get_context("spawn").Pool(4) as processes:
        found = processes.map(made, [file] * 40, chunksize=1)

    assert set(found) == {file.read_text()}
    assert len(found[0]) > 60
    assert [one.name for one in file.parent.iterdir()] == ["secret-key"]
    assert stat.S_IMODE(file.stat().st_mode) == 0o600


def test_one_that_comes_second_keeps_what_is_there(tmp_path, monkeypatch):
    file = tmp_path / "secret-key"
    file.write_text("the first")
    there = iter([False])
    monkeypatch.setattr(Path, "exists", lambda self: next(there, True))  # not yet, when it looked

    assert env_secret(NAME, file) == "the first"


def test_a_secret_from_the_environment_makes_no_file(tmp_path, monkeypatch):
    monkeypatch.setenv(NAME, "from outside")

    assert env_secret(NAME, tmp_path / "secret-key") == "from outside"
    assert not (tmp_path / "secret-key").exists()


def test_a_disk_without_links_keeps_a_secret_as_well(tmp_path, monkeypatch):
    def refuses(source, target):
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr("os.link", refuses)

    first = env_secret(NAME, tmp_path / "data" / "secret-key")

    assert env_secret(NAME, tmp_path / "data" / "secret-key") == first
    assert [one.name for one in (tmp_path / "data").iterdir()] == ["secret-key"]
