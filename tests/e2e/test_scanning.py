"""Scanning on a phone: what the camera shows, what is typed, and where each code leads."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Playwright, expect

from shop.benches.models import Meter
from shop.calc.codes import Kind, make_code
from shop.jobs.models import Entry
from shop.repairs.models import Repair
from shop.stock.models import Bin, Part
from shop.units.models import Shelf
from tests.e2e.books import looking_into
from tests.e2e.camera import fake_camera, frame_of
from tests.e2e.house import House, wait_for
from tests.e2e.phone import WAIT_MS, as_phone
from tests.e2e.scene import Scene
from tests.e2e.steps import bench
from tests.e2e.steps.looks import faults_of
from tests.e2e.steps.staff import sign_in

STRANGER = make_code(Kind.UNIT, "ZZZZZZ")
FOREIGN = "https://elsewhere.example/offer"
TORN = "NABCDEFG"  # the check of NABCDEF is another
Open = Callable[..., Page]


@pytest.fixture(scope="module")
def books(house: House, django_db_blocker: Any) -> Iterator[None]:
    with django_db_blocker.unblock(), looking_into(house.database):
        yield


@pytest.fixture(scope="module")
def signed_in(house: House, chrome: Browser, driver: Playwright) -> Any:
    """Anna's cookies, so that each test begins in an empty browser of hers."""
    with chrome.new_context(base_url=house.url, **as_phone(driver)) as context:
        page = context.new_page()
        page.goto("/app/")
        sign_in(page, "anna", device="scanning phone")
        return context.storage_state()


@pytest.fixture
def phone(
    house: House, chrome: Browser, driver: Playwright, signed_in: Any, scene: Scene, books: None
) -> Iterator[Callable[..., BrowserContext]]:
    """Opens browsers with a camera; closed afterwards."""
    with ExitStack() as stack:

        def give(*, signed: bool = True, worker: bool = False, **camera: Any) -> BrowserContext:
            context = chrome.new_context(
                base_url=house.url, storage_state=signed_in if signed else None,
                service_workers="allow" if worker else "block", **as_phone(driver),
            )  # fmt: skip
            stack.callback(context.close)
            context.set_default_timeout(WAIT_MS)
            fake_camera(context, **camera)
            return context

        yield give


def scanning(context: BrowserContext, path: str = "/app/scan") -> Page:
    page = context.new_page()
    page.goto(path)
    expect(page.get_by_role("heading", name="Scan a tag")).to_be_visible()
    return page


def unit_of(repair: str) -> Any:
    return Repair.objects.select_related("unit").get(id=repair).unit


def test_a_tag_is_read_as_soon_as_the_page_opens_and_leads_to_its_repair(
    phone: Any, scene: Scene
) -> None:
    page = scanning(phone(picture=frame_of(unit_of(scene.in_work).code)))

    page.wait_for_url(f"**/app/repairs/{scene.in_work}")
    assert page.evaluate("camera.open") == 0


def test_whoever_comes_back_is_not_thrown_out_by_the_same_tag(phone: Any, scene: Scene) -> None:
    code = unit_of(scene.in_work).code
    page = scanning(phone(picture=frame_of(code)))
    page.wait_for_url(f"**/app/repairs/{scene.in_work}")

    page.get_by_role("navigation", name="Main").get_by_role("link", name="Scan").click()

    expect(page.get_by_text("This is the tag just opened.")).to_be_visible()
    page.wait_for_timeout(1_000)
    assert page.url.endswith("/app/scan")
    page.evaluate("(address) => camera.show(address)", frame_of(unit_of(scene.asked).code))
    page.wait_for_url(f"**/app/repairs/{scene.asked}")


def test_of_several_tags_one_chooses(phone: Any, scene: Scene) -> None:
    mine, other = unit_of(scene.in_work), unit_of(scene.asked)
    context = phone(picture=frame_of(mine.code, other.code))
    # Opened before: then the phone knows its name.
    page = context.new_page()
    page.goto(f"/app/repairs/{scene.in_work}")
    expect(page.get_by_text(mine.code).first).to_be_visible()
    page.goto("/app/scan")

    choice = page.get_by_role("region", name="Several tags in view")
    expect(choice.get_by_role("button", name=other.code)).to_be_visible()
    expect(choice.get_by_role("button", name=mine.code)).to_contain_text(mine.model)
    expect(page.locator("svg polygon")).to_have_count(2)
    assert faults_of(page) == []
    choice.get_by_role("button", name=other.code).click()

    page.wait_for_url(f"**/app/repairs/{scene.asked}")


@pytest.mark.parametrize(
    ("text", "kind", "said"),
    [
        (FOREIGN, "QRCode", "web address of elsewhere.example"),
        ("4006381333931", "DataMatrix", "4006381333931 is no tag of the shop"),
        (TORN, "DataMatrix", "the tag is damaged or misprinted"),
    ],
)
def test_what_is_not_ours_is_told_and_scanning_goes_on(
    phone: Any, scene: Scene, text: str, kind: str, said: str
) -> None:
    page = scanning(phone(picture=frame_of(text, kind=kind)))
    expect(page.get_by_text(said)).to_be_visible()

    page.evaluate("(address) => camera.show(address)", frame_of(unit_of(scene.in_work).code))

    page.wait_for_url(f"**/app/repairs/{scene.in_work}")


@pytest.mark.parametrize(
    ("refuses", "said"),
    [
        ("NotAllowedError", "The camera is not allowed."),
        ("NotFoundError", "This device has no camera."),
        ("NotReadableError", "The camera was taken by another app."),
    ],
)
def test_without_a_camera_it_says_why_and_the_code_can_be_typed(
    phone: Any, scene: Scene, refuses: str, said: str
) -> None:
    page = scanning(phone(refuses=refuses))
    expect(page.get_by_role("alert")).to_contain_text(said)
    assert faults_of(page) == []

    code = unit_of(scene.in_work).code
    page.get_by_label("Code on the tag").fill(f" {code[:4].lower()}-{code[4:].lower()} ")
    page.get_by_role("button", name="Find").click()

    page.wait_for_url(f"**/app/repairs/{scene.in_work}")


def test_a_camera_taken_back_can_be_tried_again(phone: Any, scene: Scene) -> None:
    page = scanning(phone(refuses="NotReadableError", picture=frame_of(STRANGER)))
    expect(page.get_by_role("alert")).to_be_visible()

    page.evaluate("camera.refuses = null")
    page.get_by_role("button", name="Try the camera again").click()

    page.wait_for_url(f"**/app/t/{STRANGER}")
    expect(page.get_by_role("alert")).to_contain_text("Nothing here has this code.")


def test_a_camera_never_allowed_before_is_asked_for_by_one_button(phone: Any, scene: Scene) -> None:
    page = scanning(phone(permission="prompt", picture=frame_of(unit_of(scene.in_work).code)))
    expect(page.get_by_text("No picture is kept or sent.")).to_be_visible()
    assert page.evaluate("camera.open") == 0

    page.get_by_role("button", name="Open the camera").click()

    page.wait_for_url(f"**/app/repairs/{scene.in_work}")


def test_the_light_is_offered_only_where_there_is_one_and_shows_its_state(phone: Any) -> None:
    dark = scanning(phone())
    expect(dark.get_by_role("button", name="Sound and buzz")).to_be_visible()
    expect(dark.get_by_role("button", name="Light")).to_have_count(0)

    page = scanning(phone(torch=True))
    page.get_by_role("button", name="Light on").click()

    expect(page.get_by_role("button", name="Light off")).to_have_attribute("aria-pressed", "true")
    assert page.evaluate("camera.lit") is True


def test_silence_is_kept_on_the_phone(phone: Any) -> None:
    page = scanning(phone())
    page.get_by_role("button", name="Sound and buzz: on").click()

    page.reload()

    expect(page.get_by_role("button", name="Sound and buzz: off")).to_be_visible()


def test_the_camera_is_let_go_while_nobody_looks_and_comes_back(phone: Any) -> None:
    page = scanning(phone())
    wait_for(lambda: page.evaluate("camera.open === 1"))

    see(page, "hidden")
    wait_for(lambda: page.evaluate("camera.open === 0"))
    see(page, "visible")

    wait_for(lambda: page.evaluate("camera.open === 1"))
    page.get_by_role("navigation", name="Main").get_by_role("link", name="My bench").click()
    wait_for(lambda: page.evaluate("camera.open === 0"))


def see(page: Page, state: str) -> None:
    page.evaluate(
        """(state) => {
          Object.defineProperty(document, "visibilityState", { value: state, configurable: true });
          document.dispatchEvent(new Event("visibilitychange"));
        }""",
        state,
    )


def test_a_reader_that_types_as_a_keyboard_works_without_touching_a_field(
    phone: Any, scene: Scene
) -> None:
    page = scanning(phone(refuses="NotFoundError"))
    expect(page.get_by_role("alert")).to_be_visible()
    page.keyboard.type("NABCDEFG\n")
    expect(page.get_by_text("The last character does not fit")).to_be_visible()

    page.keyboard.type(f"{unit_of(scene.in_work).code}\n")

    page.wait_for_url(f"**/app/repairs/{scene.in_work}")


def test_a_mistyped_code_says_where_it_may_be_wrong(phone: Any, scene: Scene) -> None:
    code = unit_of(scene.in_work).code
    exchanged = code[:2] + code[3] + code[2] + code[4:]
    assert exchanged != code
    page = scanning(phone(refuses="NotFoundError"))

    page.get_by_label("Code on the tag").fill(exchanged)
    page.get_by_role("button", name="Find").click()
    page.get_by_role("button", name=re.compile(rf"{code}.*in place 3")).click()

    page.wait_for_url(f"**/app/repairs/{scene.in_work}")
    page.goto("/app/scan")
    before = page.get_by_role("region", name="Opened before")
    expect(before.get_by_role("button", name=code)).to_be_visible()


@pytest.mark.parametrize(
    ("model", "next_step"),
    [
        (Bin, "Fuse|Cell|Holder|Diode|Resistor|Grommet|relief|label|sticker|Two AA"),
        (Part, "reserved"),
        (Meter, "Its accuracy and calibrations"),
        (Shelf, "Nothing here|[A-Z0-9]{8}"),
    ],
)
def test_every_kind_of_code_is_understood_and_leads_on(
    phone: Any, model: Any, next_step: str
) -> None:
    thing = model.objects.order_by("code").first()

    page = scanning(phone(picture=frame_of(thing.code)))

    page.wait_for_url(f"**/app/t/{thing.code}")
    expect(page.locator("main").get_by_text(thing.name).first).to_be_visible()
    expect(page.locator("main").get_by_text(re.compile(next_step)).first).to_be_visible()
    assert faults_of(page) == []


def test_a_part_of_the_worksheet_leads_back_to_its_step_and_another_is_taken_for_it(
    phone: Any, scene: Scene
) -> None:
    worksheet = scene.worksheets["mains-conversion"]
    context = phone()
    page = context.new_page()
    page.goto(f"/app/worksheets/{worksheet}")
    expect(page.locator("article").first).to_be_visible()
    wanted = Part.objects.get(order_code="LABEL-PLATE")
    other = Part.objects.get(order_code="TIE-STRAIN")

    page.goto(f"/app/scan?worksheet={worksheet}")
    page.evaluate("(address) => camera.show(address)", frame_of(wanted.code))
    page.wait_for_url(re.compile(rf"/app/worksheets/{worksheet}\?step="))
    expect(page.get_by_text("this part is wanted here")).to_be_visible()

    page.goto(f"/app/scan?worksheet={worksheet}")
    page.evaluate("(address) => camera.show(address)", frame_of(other.code))
    page.wait_for_url(f"**/app/t/{other.code}?worksheet={worksheet}")
    page.get_by_role("button", name="One more").click()
    page.get_by_role("button", name="Take 2 for this repair").click()
    entry = wait_for(lambda: Entry.objects.filter(kind="part", value__part=other.code).first())
    assert (entry.value["quantity"], str(entry.repair_id)) == (2, scene.in_work)
    page.get_by_role("button", name="Put 1 back").click()
    expect(page.get_by_text("put back from")).to_be_visible()


def test_the_address_on_a_label_comes_to_the_unit_also_when_one_must_sign_in_first(
    phone: Any, scene: Scene
) -> None:
    code = unit_of(scene.in_work).code
    page = phone(signed=False).new_page()
    page.goto(f"/app/t/{code}")

    sign_in(page, "anna", device="phone of the address")

    page.wait_for_url(f"**/app/repairs/{scene.in_work}")


def test_without_network_the_phone_knows_units_by_their_repair_and_the_rest_by_name(
    phone: Any, scene: Scene
) -> None:
    unit, part = unit_of(scene.in_work), Part.objects.get(order_code="TIE-STRAIN")
    context = phone(worker=True)
    page = scanning(context)
    bench.wait_for_worker(page)
    page.goto(f"/app/repairs/{scene.in_work}")
    expect(page.get_by_text(unit.code).first).to_be_visible()
    page.goto("/app/bench")
    wait_for(lambda: page.evaluate(HAS_CODES))
    page.goto("/app/scan")
    wait_for(lambda: page.evaluate(HAS_DECODER))
    context.set_offline(True)

    page.goto(f"/app/t/{unit.code}")  # as any phone's own camera opens it
    page.wait_for_url(f"**/app/repairs/{scene.in_work}")
    page.goto("/app/scan")
    page.evaluate("(address) => camera.show(address)", frame_of(part.code))
    page.wait_for_url(f"**/app/t/{part.code}")
    expect(page.locator("main")).to_contain_text(part.name)
    expect(page.get_by_text("this phone knows its name, no more")).to_be_visible()

    page.goto(f"/app/t/{STRANGER}")
    expect(page.get_by_role("alert")).to_contain_text("By its first letter it is: Unit.")


def test_a_sheet_of_labels_is_chosen_drawn_and_opened(phone: Any) -> None:
    page = phone().new_page()
    page.goto("/app/labels")
    page.get_by_role("button", name="Meters").click()
    page.get_by_role("button", name="Choose all of these").click()
    assert faults_of(page) == []

    meters = page.get_by_role("listitem").filter(has=page.get_by_role("checkbox"))
    assert meters.count() >= 3
    page.get_by_role("button", name=f"Draw {meters.count()} labels").click()

    sheet = page.get_by_role("link", name="Open the sheet to print it")
    expect(sheet).to_be_visible(timeout=60_000)
    pdf = page.request.get(str(sheet.get_attribute("href"))).body()
    assert pdf.startswith(b"%PDF")


HAS_DECODER = """
async () => {
  const kept = await Promise.all((await caches.keys()).map(async (name) =>
    (await (await caches.open(name)).keys()).some((one) => one.url.includes("zxing_reader"))));
  return kept.includes(true);
}
"""
HAS_CODES = """
() => new Promise((told) => {
  const opening = indexedDB.open("lampledger");
  opening.onsuccess = () => {
    const asked = opening.result.transaction("meta").objectStore("meta").get("codes");
    asked.onsuccess = () => { opening.result.close(); told(asked.result !== undefined); };
  };
})
"""
