"""The project's own Python environment, made once and renewed when the pinned list changes."""

from __future__ import annotations

import subprocess
import sys
import tomllib
from pathlib import Path

from deploy.launch import stamps
from deploy.launch.commands import run_quietly
from deploy.launch.places import CONSTRAINTS, PYPROJECT, ROOT, VENV, VENV_PYTHON

PYTHON = f"{sys.version_info.major}.{sys.version_info.minor}"


def pinned(pyproject: Path, *, with_tests: bool) -> list[str]:
    """The requirements of the project, with those of its tests if asked for.

    The tests read an instrument as well, so theirs hold what a bench PC needs.
    """
    project = tomllib.loads(pyproject.read_text())["project"]
    tests = project["optional-dependencies"]["test"] if with_tests else []
    return [*project["dependencies"], *(instruments(pyproject) if with_tests else []), *tests]


def instruments(pyproject: Path) -> list[str]:
    """What a PC at a bench needs beside to read an instrument."""
    project = tomllib.loads(pyproject.read_text())["project"]
    listed: list[str] = project["optional-dependencies"]["instruments"]
    return listed


def ensure_instruments() -> None:
    """Add to the environment what reads instruments. Raises CannotStart."""
    ensure_environment()
    _pip_install("instruments", instruments(PYPROJECT))


def digest_of(requirements: list[str], constraints: str, python: str = PYTHON) -> str:
    """What the environment is made from: the list, all pins, and the Python that made it."""
    return stamps.digest_of_texts([python, constraints, *sorted(requirements)])


def environment_current(*, with_tests: bool) -> bool:
    requirements = pinned(PYPROJECT, with_tests=with_tests)
    digest = digest_of(requirements, CONSTRAINTS.read_text())
    return VENV_PYTHON.exists() and stamps.is_current(_stamp(with_tests), digest)


def ensure_environment(*, with_tests: bool = False) -> Path:
    """Make or renew `.venv`; answers with its Python. A current one costs two file reads.

    Raises CannotStart if it cannot be made or a package cannot be installed.
    """
    if environment_current(with_tests=with_tests):
        return VENV_PYTHON
    if not _usable():
        run_quietly("making .venv", [sys.executable, "-m", "venv", "--clear", VENV], cwd=ROOT)
    _install(with_tests=with_tests)
    return VENV_PYTHON


def _usable() -> bool:
    """An environment half made, or made by a Python since removed or replaced, is made anew."""
    asking = f"import sys, pip; sys.exit('%d.%d' % sys.version_info[:2] != '{PYTHON}')"
    try:
        answer = subprocess.run([VENV_PYTHON, "-c", asking], capture_output=True, check=False)
    except OSError:
        return False
    return answer.returncode == 0


def _install(*, with_tests: bool) -> None:
    requirements = pinned(PYPROJECT, with_tests=with_tests)
    _pip_install(f"{len(requirements)} packages and what they need", requirements)
    for tests in {False, with_tests}:  # what the tests need includes what the shop needs
        listed = pinned(PYPROJECT, with_tests=tests)
        stamps.write(_stamp(tests), digest_of(listed, CONSTRAINTS.read_text()))


def _pip_install(what: str, requirements: list[str]) -> None:
    run_quietly(
        f"installing {what}",
        [VENV_PYTHON, "-m", "pip", "install", "--quiet", "-c", CONSTRAINTS, *requirements],
        cwd=ROOT,
    )


def _stamp(with_tests: bool) -> Path:
    return VENV / ("made-with-tests" if with_tests else "made")
