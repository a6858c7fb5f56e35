"""Lighthouse on three pages of a running shop: `python -m tests.e2e.lighthouse`.

Its figures are printed, not judged: on a shared machine they tell trends, not truths.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

import django
from playwright.sync_api import sync_playwright

from deploy.launch.built_app import ensure_app_built
from deploy.launch.commands import run_quietly
from deploy.launch.node import Node, ensure_node
from deploy.launch.places import VENV_PYTHON
from deploy.proving.servers import NoServer
from tests.e2e.house import House, open_house
from tests.e2e.phone import FLAGS, chromium
from tests.e2e.steps.staff import ThroughApi
from tests.e2e.steps.visits import book_in

HERE = Path(__file__).parent
PROGRAM = HERE / "node_modules" / "lighthouse" / "cli" / "index.js"
TRIES = 3
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
            for name, address, cookie in pages_of(house):
                print(line_of(name, node, address, cookie), flush=True)
    except NoServer as reason:
        print(reason)
    return 0


def ensure_lighthouse(node: Node) -> None:
    if not PROGRAM.is_file():
        words = [node.npm, "ci", "--no-audit", "--no-fund"]
        run_quietly("installing Lighthouse", words, cwd=HERE, env=node.environment())


def pages_of(house: House) -> list[tuple[str, str, str]]:
    """Name, address and cookie: signing in, a tech's first page, a customer's page."""
    with sync_playwright() as driver:
        dora, anna = (ThroughApi(driver, house.url, name) for name in ("dora", "anna"))
        repair = book_in(dora, serial="9230001")["id"]
        status = dora.post(f"repairs/{repair}/status-link/", {})["url"]
        return [
            ("sign in", f"{house.url}/app/", ""),
            ("my bench", f"{house.url}/app/bench", session_of(anna)),
            ("status page", str(status), ""),
        ]


def session_of(person: ThroughApi) -> str:
    cookies = person.context.storage_state()["cookies"]
    return next(f"sessionid={c['value']}" for c in cookies if c["name"] == "sessionid")


def line_of(name: str, node: Node, address: str, cookie: str) -> str:
    """The figures of a page. Lighthouse itself sometimes ends early: tried again, then said."""
    said = ""
    for _try in range(TRIES):
        try:
            return line(name, look_at(node, address, cookie))
        except subprocess.CalledProcessError as ended:
            said = f"{ended.stderr or ended.stdout}".strip()[-400:]
    return f"{name}: not measured in {TRIES} tries; Lighthouse said: {said}"


def look_at(node: Node, address: str, cookie: str) -> dict[str, Any]:
    """One run as on a phone. Raises CalledProcessError with what it said."""
    command = [
        str(node.folder / "node"), str(PROGRAM), address, "--output=json", "--quiet",
        f"--chrome-flags=--headless=new {' '.join(FLAGS)}",
        f"--extra-headers={json.dumps({'Cookie': cookie} if cookie else {})}",
    ]  # fmt: skip
    env = {**node.environment(), "CHROME_PATH": str(chromium())}
    done = subprocess.run(command, cwd=HERE, env=env, capture_output=True, text=True, check=True)
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
