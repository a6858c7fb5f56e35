"""The shop under test, its browsers and its people."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, Playwright, expect, sync_playwright

from deploy.launch.built_app import ensure_app_built
from deploy.launch.places import BUILT_APP, VENV_PYTHON
from deploy.proving.servers import NoServer
from tests.e2e.books import looking_into
from tests.e2e.house import House, open_house
from tests.e2e.job import Job, job_on_the_bench
from tests.e2e.phone import FLAGS, WAIT_MS, chromium
from tests.e2e.scene import Scene, set_scene

FAILED = pytest.StashKey[bool]()
expect.set_options(timeout=WAIT_MS)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    here = Path(__file__).parent
    reason = None if chromium() else "no Chromium; run: apt-get install -y chromium"
    # The main job first: it counts pieces on the wall, of which others take.
    items.sort(key=lambda item: item.path.parent == here and item.path.stem != "test_whole_job")
    for item in items:
        if here in item.path.parents:
            item.add_marker(pytest.mark.browser)
            if reason:
                item.add_marker(pytest.mark.skip(reason=reason))


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item) -> Any:
    """Fixtures may ask whether their test failed."""
    report = yield
    if report.when == "call":
        item.stash[FAILED] = report.failed
    return report


@pytest.fixture
def keep_look(request: pytest.FixtureRequest) -> Callable[[list[Page]], None]:
    """Keeps a picture of each page of a failed test, if SCREENSHOTS names a folder."""

    def look(pages: list[Page]) -> None:
        folder = os.environ.get("SCREENSHOTS")
        if not folder or not request.node.stash.get(FAILED, False):
            return
        for number, page in enumerate(pages):
            name = f"failed-{request.node.name}-{number}.png"
            page.screenshot(path=Path(folder) / name, full_page=True)

    return look


@pytest.fixture(scope="session")
def built_app() -> None:
    """The app as users get it; what is built already is taken as it is."""
    if not (BUILT_APP / "index.html").is_file():
        ensure_app_built(VENV_PYTHON)


@pytest.fixture(scope="session")
def house(built_app: None, tmp_path_factory: pytest.TempPathFactory) -> Iterator[House]:
    try:
        with open_house(tmp_path_factory.mktemp("house")) as opened:
            yield opened
    except NoServer as reason:
        pytest.skip(str(reason))


@pytest.fixture(scope="session")
def driver() -> Iterator[Playwright]:
    with sync_playwright() as started:
        yield started


@pytest.fixture(scope="session")
def chrome(driver: Playwright) -> Iterator[Browser]:
    browser = driver.chromium.launch(executable_path=chromium(), args=list(FLAGS))
    yield browser
    browser.close()


@pytest.fixture
def books(house: House, django_db_blocker: pytest.FixtureRequest) -> Iterator[None]:
    """The rows that the shop's processes write, through this process's models."""
    with django_db_blocker.unblock(), looking_into(house.database):
        yield


@pytest.fixture(scope="session")
def scene(house: House, driver: Playwright, django_db_blocker: Any) -> Scene:
    """A shop in the middle of its day, set once for all who look at it."""
    with django_db_blocker.unblock(), looking_into(house.database):
        return set_scene(house, driver)


@pytest.fixture
def job(
    house: House, driver: Playwright, books: None, tmp_path: Path, keep_look: Any
) -> Iterator[Job]:
    """A unit on Anna's bench, and phones as the test wants them."""
    with job_on_the_bench(house, driver, tmp_path) as begun:
        yield begun
        keep_look([page for phone in begun.phones for page in phone.open_pages()])
