"""Limits of the shipped templates come from calculators; the few plain numbers are listed."""

from collections.abc import Iterator
from pathlib import Path

import orjson
import pytest

from shop.calc.discharge import SAFE_VOLT
from shop.core.models import Shop
from shop.jobs.services import import_template_file
from tests.factories.core import ShopFactory
from tests.shop.jobs.test_shipped_templates import FILES, a_repair, start, step_of

pytestmark = pytest.mark.django_db
LIST = (Path(__file__).parents[3] / "docs" / "templates.md").read_text()
# Bands and times that stand as plain numbers, each in the list of docs/templates.md.
PLAIN = {
    ("dented-chassis", "flat_left"): {0.001},
    ("dented-chassis", "gap_left"): {0.0005, 0.01, 0.0105},
    ("backup-cell-swap", "rest"): {600},
    ("series-lamp-power-up", "soak"): {600},
    ("series-lamp-power-up", "ramp"): {60},
    ("soak-test", "rest"): {600},
    ("supply-rails", "warm"): {600},
    ("valve-check", "warm"): {600},
}


@pytest.fixture
def shipped(db):
    ShopFactory()
    for file in FILES:
        import_template_file(path=file)


def steps_of(template) -> Iterator[dict]:
    for step in template:
        if "steps" in step:
            yield from steps_of(step["steps"])
        else:
            yield step


def bands_of(step) -> list:
    """The limits of a reading, of a table's columns, and of its rows where they have their own."""
    table = step.get("table", {"columns": [], "rows": []})
    rows = table["rows"] if isinstance(table["rows"], list) else []
    columns = [column.get("band") for column in table["columns"]]
    return [step.get("band"), *columns, *(row.get("limits") for row in rows)]


def numbers(value) -> Iterator[float]:
    if isinstance(value, bool):
        return
    if isinstance(value, int | float):
        yield value
    elif isinstance(value, list):
        for inner in value:
            yield from numbers(inner)
    elif isinstance(value, dict):
        # a factor of a fact only changes its unit or its sign
        for key, inner in value.items():
            if key != "times":
                yield from numbers(inner)


def factors(value) -> Iterator[float]:
    if isinstance(value, dict):
        if "times" in value:
            yield value["times"]
        for inner in value.values():
            yield from factors(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from factors(inner)


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_no_limit_or_time_is_a_plain_number_but_those_listed(file):
    found = {}
    for step in steps_of(orjson.loads(file.read_bytes())["steps"]):
        dwell = step.get("ramp", {}).get("dwell_seconds", 0)
        if plain := set(numbers([*bands_of(step), step.get("seconds", 0), dwell])) - {0}:
            found[file.stem, step["id"]] = plain

    assert found == {key: value for key, value in PLAIN.items() if key[0] == file.stem}


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_a_factor_in_a_band_changes_the_unit_or_the_sign_and_nothing_else(file):
    found = set()
    for step in steps_of(orjson.loads(file.read_bytes())["steps"]):
        found |= set(factors(bands_of(step)))

    assert found <= {-1, 1e-6, 1e-3, 1e6}


def test_every_plain_number_is_in_the_list():
    for (_file, step), _values in PLAIN.items():
        assert f"`{step}`" in LIST


def test_conditions_that_skip_a_discharge_stand_just_above_the_safe_volts():
    # a condition takes a plain number only, so it is held to the calculator's here
    texts = [file.read_text() for file in FILES]
    limits = {
        condition[1] for text in texts
        for condition in conditions(orjson.loads(text), "at_least")
    }  # fmt: skip

    assert limits == {SAFE_VOLT + 0.1}


def conditions(value, kind) -> Iterator[list]:
    if isinstance(value, dict):
        for key, inner in value.items():
            if key == kind:
                yield inner
            yield from conditions(inner, kind)
    elif isinstance(value, list):
        for inner in value:
            yield from conditions(inner, kind)


def test_a_conversion_has_the_limits_that_were_plain_numbers_before(shipped, anna):
    _sheet, pack = start("mains-conversion", a_repair(), anna)

    def band(id):
        found = step_of(pack, id)["band"]
        return found["low"], found["high"]

    assert band("dead_pins") == (-34, 34)
    assert band("dead_prove_before") == (12, pytest.approx(253))
    assert band("res_discharged.2") == (-50, 50)
    assert band("primary_ohm.1") == (pytest.approx(92 * 0.8), pytest.approx(92 * 1.25))
    assert band("insulation_secondary") == (2e6, None)
    assert band("insulation_chassis") == (2e6, None)
    assert band("thermal_link.2") == (0, 5)
    assert band("phasing_feed.1") == (1, 25)
    assert [point[0] for point in step_of(pack, "phasing_read.1")["band"]["points"]] == [1, 25]
    assert step_of(pack, "dead_minute")["seconds"] == 60


def test_a_power_up_has_the_limits_that_were_plain_numbers_before(shipped, anna):
    _sheet, pack = start("series-lamp-power-up", a_repair(use_at=("DE", 230, 50)), anna)

    assert step_of(pack, "earth")["band"]["high"] == 0.5
    assert step_of(pack, "insulation")["band"]["low"] == 1e6
    assert step_of(pack, "res_dead.2")["band"]["high"] == 50
    unloaded = step_of(pack, "sec_open.1")["band"]
    assert unloaded["low"] == pytest.approx(0.93 * unloaded["nominal"])
    assert unloaded["high"] == pytest.approx(1.07 * unloaded["nominal"])
    loaded = step_of(pack, "sec_loaded.1")["band"]
    assert loaded["low"] == pytest.approx(0.93 * loaded["nominal"])
    assert loaded["high"] == pytest.approx(1.05 * unloaded["nominal"])


def test_a_cell_swap_has_its_limits_without_any_known_drain(shipped, anna):
    cell = {"fitted": "CR2032", "replacement": "CR2032", "rechargeable": False,
            "charged_by_board": False}  # fmt: skip
    _sheet, pack = start("backup-cell-swap", a_repair(cell=cell), anna)

    pin, reverse = step_of(pack, "supply_pin")["band"], step_of(pack, "reverse")["band"]
    assert (pin["low"], pin["high"]) == (pytest.approx(2.2), pytest.approx(3.7))
    assert (reverse["low"], reverse["high"]) == (-0.001, pytest.approx(1e-5))


@pytest.mark.parametrize("protection", ["II", "0"])
def test_insulation_before_power_follows_the_class_of_the_unit(shipped, anna, protection):
    repair = a_repair(use_at=("DE", 230, 50), protection_class=protection)
    _sheet, pack = start("series-lamp-power-up", repair, anna)

    assert step_of(pack, "insulation")["band"]["low"] == 2e6


def test_insulation_before_power_is_by_the_shops_scheme_and_says_so(shipped, anna):
    Shop.objects.update(safety_scheme="asnzs_3760")
    _sheet, pack = start("mains-conversion", a_repair(), anna)

    work = pack["work"][step_of(pack, "insulation_chassis")["work"]]
    assert "AS/NZS 3760" in str(work["working"]["sources"])
    assert step_of(pack, "insulation_chassis")["band"]["low"] == 2e6


@pytest.mark.parametrize(
    ("template", "step"),
    [
        ("mains-conversion", "dead_pins"),
        ("mains-conversion", "insulation_secondary"),
        ("mains-conversion", "primary_ohm.1"),
        ("series-lamp-power-up", "insulation"),
        ("backup-cell-swap", "reverse"),
    ],
)
def test_a_limit_shows_its_sources_with_their_status(shipped, anna, template, step):
    use_at = ("DE", 230, 50) if template != "mains-conversion" else ("US", 120, 60)
    _sheet, pack = start(template, a_repair(use_at=use_at), anna)

    sources = pack["work"][step_of(pack, step)["work"]]["working"]["sources"]
    assert sources
    assert all(source["status"] for source in sources)


def test_every_limit_taken_from_a_calculation_leads_to_it(shipped, anna):
    repair = a_repair(rails=[{"name": "+15 V", "volt": 15}])
    slugs = ("mains-conversion", "series-lamp-power-up", "supply-rails")
    conversion, lamp, rails = (start(slug, repair, anna)[1] for slug in slugs)

    assert step_of(conversion, "res_discharged.2")["limits_from"] == "dead"
    assert step_of(conversion, "primary_ohm.1")["limits_from"] in conversion["work"]
    assert step_of(lamp, "ramp")["limits_from"] == "ramp"
    assert [row["limits_from"] for row in step_of(rails, "rails")["rows"]] == ["limits.1"]
    assert "limits.1" in rails["work"]


def test_a_limit_that_stands_as_a_number_leads_nowhere(shipped, anna):
    _sheet, pack = start("dented-chassis", a_repair(), anna)

    assert "limits_from" not in step_of(pack, "flat_left")
