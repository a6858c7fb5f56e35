"""With the app closed what waits goes out by the service worker; nothing of customers stays."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import Page, expect

from shop.repairs.models import Photo, Repair
from tests.e2e.camera import photo
from tests.e2e.house import wait_for
from tests.e2e.job import Job, require_whole, take_up
from tests.e2e.phone import Phone
from tests.e2e.steps.keypad import enter
from tests.e2e.steps.queue import kept_entries, rows_of
from tests.e2e.steps.staff import sign_in

ALL_THAT_IS_KEPT = """
async () => {
  const db = await new Promise((done) => {
    const asked = indexedDB.open("lampledger");
    asked.onsuccess = () => done(asked.result);
  });
  const kept = [JSON.stringify(localStorage)];
  for (const store of db.objectStoreNames) {
    const read = db.transaction(store).objectStore(store).getAll();
    const rows = await new Promise((d) => (read.onsuccess = () => d(read.result)));
    kept.push(store, JSON.stringify(rows));
  }
  db.close();
  for (const name of await caches.keys()) {
    const cache = await caches.open(name);
    for (const request of await cache.keys()) {
      kept.push(request.url, await (await cache.match(request)).text());
    }
  }
  return kept.join("\\n");
}
"""


def test_the_service_worker_sends_what_waits_while_no_window_is_open(job: Job) -> None:
    phone = job.phone("anna")
    page = take_up(job, phone, "anna")
    phone.cut_off(True)
    page.goto(job.address(job.swap, "cell_volt_found"))
    enter(page.locator("article"), "1.1", keypad=True)
    expect(page.locator("article > .lines > *")).to_have_count(1)
    page.goto(job.address(job.look, "photo_whole"))
    page.locator("article input[type=file]").set_input_files(photo(job.folder, "front"))
    page.locator("article").get_by_role("button", name="Save photo").click()
    expect(page.locator("article > .lines > *")).to_have_count(1)
    kept, (picture,) = kept_entries(page), rows_of(page, "photos")

    page.goto("about:blank")  # no window of the app is left
    phone.cut_off(False)
    wake_the_worker(phone, page)

    for record, one in zip((job.swap, job.look), kept, strict=True):
        assert wait_for(lambda r=record, i=one["id"]: [e for e in job.entries(r) if str(e.id) == i])
        require_whole(record)
    assert Photo.objects.get(sha256=picture["sha256"])
    page.goto("/app/queue")
    expect(page.get_by_text("Everything on this phone has been sent.")).to_be_visible()
    assert kept_entries(page) == []


def wake_the_worker(phone: Phone, page: Page) -> None:
    """As the browser does by itself once there is network."""
    assert phone.context is not None
    devtools = phone.context.new_cdp_session(page)
    seen: list[dict[str, Any]] = []
    devtools.on(
        "ServiceWorker.workerRegistrationUpdated", lambda e: seen.extend(e["registrations"])
    )
    devtools.send("ServiceWorker.enable")
    page.wait_for_timeout(500)
    (id,) = {one["registrationId"] for one in seen if one["scopeURL"].endswith("/app/")}
    asked = {"origin": phone.url, "registrationId": id, "tag": "queue", "lastChance": False}
    devtools.send("ServiceWorker.dispatchSyncEvent", asked)


@pytest.mark.parametrize(
    ("who", "pages"),
    [
        ("anna", ("/app/bench", "/app/repairs/{}")),
        ("dora", ("/app/desk", "/app/desk/repairs/{}")),
        ("max", ("/app/board", "/app/desk/repairs/{}", "/app/repairs/{}", "/app/bench")),
    ],
)
def test_nothing_of_a_customer_stays_on_a_device_whoever_uses_it(
    job: Job, who: str, pages: tuple[str, ...]
) -> None:
    repair = Repair.objects.select_related("customer", "unit").get(id=job.repair)
    phone = job.phone(who)
    page = phone.open()
    sign_in(page, who, device=f"phone of {who}")
    for path in pages:
        page.goto(path.format(job.repair))
        expect(page.locator("main h1").first).to_be_attached()
        page.wait_for_load_state("networkidle")
    page.evaluate("navigator.serviceWorker.ready")
    if who == "anna":  # what a tech needs comes by itself, once the first screen had its time
        expect(page.get_by_text("Ready for the bench")).to_be_visible(timeout=30_000)

    kept = page.evaluate(ALL_THAT_IS_KEPT)

    assert len(kept) > 10_000  # the app itself, at least
    customer = repair.customer
    for told in (customer.name, customer.phone, customer.email):
        assert not told or told not in kept, (who, told)
