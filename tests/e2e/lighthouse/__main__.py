"""Lighthouse on three pages of a running shop: `python -m tests.e2e.lighthouse`.

Its figures are printed, not judged: on a shared machine they tell trends, not truths.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import django
from playwright.sync_api import Playwright, sync_playwright

from deploy.launch.built_app import ensure_app_built
from deploy.launch.commands import run_quietly
from deploy.launch.node import Node, ensure_node
from deploy.launch.places import VENV_PYTHON
from deploy.proving.servers import NoServer
from tests.e2e.house import House, open_house
from tests.e2e.phone import FLAGS, Phone, chromium
from tests.e2e.steps.staff import ThroughApi, sign_in
from tests.e2e.steps.visits import on_the_bench, start_worksheet

HERE = Path(__file__).parent
PROGRAM = HERE / "node_modules" / "lighthouse" / "cli" / "index.js"
LOOKS = 5
IN_HAND = 4
FETCHED = ("Cache", "Code Cache", "Service Worker")  # of a profile: what a browser fetches again
AUDITS = ("first-contentful-paint", "largest-contentful-paint", "total-blocking-time",
          "cumulative-layout-shift")  # fmt: skip


def main() -> int:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")
    django.setup()
    if chromium() is None:
        print("no Chromium; run: apt-get install -y chromium")
        return 0
    node = ensure_node(VENV_PYTHON)
    ensure_app_built(VENV_PYTHON)
    ensure_lighthouse(node)
    try:
        with tempfile.TemporaryDirectory() as folder, open_house(Path(folder)) as house:
            for visit in visits(house, Path(folder)):
                print(line_of(visit, node), flush=True)
    except NoServer as reason:
        print(reason)
    return 0


def ensure_lighthouse(node: Node) -> None:
    if not PROGRAM.is_file():
        words = [node.npm, "ci", "--no-audit", "--no-fund"]
        run_quietly("installing Lighthouse", words, cwd=HERE, env=node.environment())


@dataclass(frozen=True)
class Visit:
    """A page and who opens it: a browser that knows nothing, or the phone that has this profile."""

    name: str
    address: str
    profile: Path | None = None


def visits(house: House, folder: Path) -> list[Visit]:
    """Signing in, the first page of a tech with work in hand, a customer's page."""
    with sync_playwright() as driver:
        dora, anna = (ThroughApi(driver, house.url, name) for name in ("dora", "anna"))
        repairs = [on_the_bench(dora, anna, serial=f"923000{n}")["id"] for n in range(IN_HAND)]
        start_worksheet(anna, repairs[0], "mains-conversion")
        status = dora.post(f"repairs/{repairs[0]}/status-link/", {})["url"]
        profile = signed_in(driver, house, folder / "phone")
    return [
        Visit("sign in", f"{house.url}/app/"),
        Visit("my bench", f"{house.url}/app/bench", profile),
        Visit("status page", str(status)),
    ]


def signed_in(driver: Playwright, house: House, profile: Path) -> Path:
    """A phone that Anna signed in on, and whose browser has since thrown away all it may fetch
    again: the app comes over the network, as after an update."""
    phone = Phone(driver, house.url, profile)
    sign_in(phone.open(), "anna", device="phone")
    phone.close()
    for fetched in FETCHED:
        shutil.rmtree(profile / "Default" / fetched, ignore_errors=True)
    return profile


def line_of(visit: Visit, node: Node) -> str:
    """The figures of the middle one of several looks: on a shared machine one alone tells little.
    Lighthouse itself sometimes ends early; such a look is said and left out."""
    looks, said = [], ""
    for _look in range(LOOKS):
        try:
            looks.append(look_at(node, visit))
        except subprocess.CalledProcessError as ended:
            said = f"{ended.stderr or ended.stdout}".strip()[-400:]
    if not looks:
        return f"{visit.name}: not measured in {LOOKS} looks; Lighthouse said: {said}"
    looks.sort(key=performance)
    every = ", ".join(str(performance(look)) for look in looks)
    return f"{line(visit.name, looks[len(looks) // 2])}\n  performance of every look: {every}"


def performance(found: dict[str, Any]) -> int:
    return round(100 * (found["categories"]["performance"]["score"] or 0))


def look_at(node: Node, visit: Visit) -> dict[str, Any]:
    """One run as on a phone. Raises CalledProcessError with what it said."""
    command = [str(node.folder / "node"), str(PROGRAM), visit.address, "--output=json", "--quiet"]
    with tempfile.TemporaryDirectory() as folder:
        flags = ["--headless=new", *FLAGS]
        if visit.profile:  # a copy: the next look finds the phone as this one did
            phone = shutil.copytree(visit.profile, Path(folder) / "phone", symlinks=True)
            flags.append(f"--user-data-dir={phone}")
            command.append("--disable-storage-reset")
        command.append(f"--chrome-flags={' '.join(flags)}")
        env = {**node.environment(), "CHROME_PATH": str(chromium())}
        done = subprocess.run(
            command, cwd=HERE, env=env, capture_output=True, text=True, check=True
        )
    return dict(json.loads(done.stdout))


def line(name: str, found: dict[str, Any]) -> str:
    scores = {key: round(100 * row["score"]) for key, row in found["categories"].items()
              if row["score"] is not None}  # fmt: skip
    marks = ", ".join(f"{key} {score}" for key, score in scores.items())
    times = ", ".join(f"{key} {found['audits'][key].get('displayValue', '-')}" for key in AUDITS)
    failed = ", ".join(key for key, row in found["audits"].items() if row["score"] == 0)
    return f"{name}: {marks}\n  {times}\n  without points: {failed or 'none'}"


if __name__ == "__main__":
    sys.exit(main())
