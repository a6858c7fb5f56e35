"""A full queue outlives a killed browser and arrives once through a link that loses requests.

The first entries are made by hand on the screen; the rest are copies of those, with own ids, times,
texts and pictures, put into the phone's store in the app's own form (`steps/many.py`). With
`ENTRIES_BY_HAND=450` every finding is typed on the screen instead, which takes far longer.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

from PIL import Image
from playwright.sync_api import Page, expect

from shop.jobs.models import Entry
from shop.repairs.models import Photo
from tests.e2e.camera import photo
from tests.e2e.house import wait_for
from tests.e2e.job import Job, require_whole, save_photo, take_up
from tests.e2e.phone import seen_soon
from tests.e2e.steps import bench
from tests.e2e.steps.many import multiply
from tests.e2e.steps.queue import kept_entries, rows_of

ENTRIES, PHOTOS = 500, 50
FINDINGS_BY_HAND = min(ENTRIES - PHOTOS, int(os.environ.get("ENTRIES_BY_HAND", "3")))
SYNC_SECONDS = 150


def test_500_entries_and_50_photos_outlive_killed_browsers_and_arrive_once_over_a_lossy_link(
    job: Job,
) -> None:
    phone = job.phone("anna")
    link = phone.link
    take_up(job, phone, "anna")
    phone.close()
    page = phone.open(job.address(job.look, "photo_whole"), offline=True)
    fill_the_queue(page, job)
    kept, pictures = kept_entries(page), unsent_pictures(page)
    assert (len(kept), len(pictures)) == (ENTRIES, PHOTOS)

    phone.kill()
    page = phone.open("/app/queue", offline=True)
    assert kept_entries(page) == kept
    assert unsent_pictures(page) == pictures
    assert bench.unsent(page) == ENTRIES

    link.every = 3
    phone.cut_off(False)
    wait_for(lambda: link.passed["photo"] >= 10, seconds=SYNC_SECONDS)
    phone.kill()
    page = phone.open("/app/queue")
    seen_soon(lambda: bench.unsent(page) == 0, seconds=SYNC_SECONDS)

    expect(page.get_by_text("Everything on this phone has been sent.")).to_be_visible()
    assert (kept_entries(page), unsent_pictures(page)) == ([], {})
    assert {"photo midway", "photo after", "photo before", "sync after"} <= set(link.lost)
    the_books_hold_each_once(job, kept, pictures)


def fill_the_queue(page: Page, job: Job) -> None:
    save_photo(page, photo(job.folder, "front"))
    for number in range(FINDINGS_BY_HAND):
        bench.add_finding(page, f"Typed by hand, number {number + 1}.")
    multiply(page, findings=ENTRIES - PHOTOS - FINDINGS_BY_HAND, photos=PHOTOS - 1)


def unsent_pictures(page: Page) -> dict[str, int]:
    """Pictures on the phone that the shop does not have, with their sizes in bytes."""
    return {row["sha256"]: row["blob"] for row in rows_of(page, "photos") if not row["sent"]}


def the_books_hold_each_once(
    job: Job, kept: list[dict[str, Any]], pictures: dict[str, int]
) -> None:
    held = {str(entry.id): entry for entry in Entry.objects.filter(repair=job.repair)}
    assert all(held[one["id"]].value.items() >= one["value"].items() for one in kept)
    for record in (job.repair, job.look):
        in_order = [held[one["id"]].seq for one in kept if one["record"] == record]
        assert in_order == sorted(in_order)
        require_whole(record)
    assert Entry.objects.filter(record=job.repair).count() == ENTRIES - PHOTOS
    shot = [one["value"] for one in kept if one["kind"] == "photo"]
    taken = {value["sha256"]: (value["width"], value["height"]) for value in shot}
    assert taken.keys() == pictures.keys()
    assert wait_for(lambda: stored(job.house.folder / "media", taken)) == taken


def stored(media: Path, taken: dict[str, tuple[int, int]]) -> dict[str, tuple[int, int]] | None:
    """Sizes in pixels of the pictures in the shop, as read from their files to the last line.

    That the bytes are the phone's the server checks by their hash; what it keeps is without EXIF.
    """
    rows = list(Photo.objects.filter(sha256__in=taken))
    if len(rows) < len(taken):
        return None
    found = {}
    for row in rows:
        with Image.open(media / row.file.name) as picture:
            picture.load()
            found[row.sha256] = picture.size
    return found
