"""What the tests of the bench's own templates share: published, started, judged."""

from shop.jobs.services import apply_operations, import_template_file
from tests.factories.jobs import Phone
from tests.factories.units import RepairFactory, UnitFactory
from tests.factories.working import verdicts_of, work_to_end
from tests.shop.jobs.shipped.files import TEMPLATES
from tests.shop.jobs.test_shipped_templates import a_repair, locks_of, start, step_of

HERE = ("DE", 230, 50)


def publish(*slugs):
    """Templates as they are shipped, those that are worked inside others first."""
    for slug in slugs:
        import_template_file(path=TEMPLATES / f"{slug}.json")


def nobody_knows():
    """A repair of a unit without a model sheet, used where the bench stands."""
    country, volt, hz = HERE
    unit = UnitFactory(model_sheet=None, set_for_volt=volt)
    return RepairFactory(
        unit=unit, stage="on_the_bench", use_at_country=country, use_at_volt=volt, use_at_hz=hz
    )


def band_of(pack, id):
    band = step_of(pack, id)["band"]
    return band["low"], band["high"]


def column_of(pack, id, key):
    return next(column for column in step_of(pack, id)["columns"] if column["key"] == key)


def ids_of(pack):
    return [step["id"] for step in pack["steps"]]


def read(sheet, person, step, typed, unit="V"):
    """One reading; answers how it went."""
    operation = Phone(person, sheet).read(step, typed, unit=unit)
    (result,) = apply_operations(person=person, device_id=None, operations=[operation])
    return result


__all__ = [
    "HERE", "a_repair", "band_of", "column_of", "ids_of", "locks_of", "nobody_knows", "publish",
    "read", "start", "step_of", "verdicts_of", "work_to_end",
]  # fmt: skip
