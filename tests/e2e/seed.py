"""Fills empty books with a small invented shop: `python -m tests.e2e.seed`.

Runs as a process of its own, as a command of the shop would, before the web server starts.
"""

from __future__ import annotations

import os
from datetime import timedelta
from typing import Any, Final

import django

PEOPLE: Final = {  # username: name, role, password
    "anna": ("Anna Lot", "tech", "anna holds the iron"),
    "ben": ("Ben Litze", "tech", "ben reads the scope"),
    "dora": ("Dora Tresen", "desk", "dora knows every tag"),
    "max": ("Max Zähler", "manager", "max counts the fuses"),
}
METERS: Final = (
    ("Hand meter", ["multimeter", "two_pole"], [
        ("voltage_dc", 0.5, 2, 0.001), ("voltage_ac", 0.9, 4, 0.01), ("resistance", 0.8, 2, 0.01),
        ("current_dc", 1.0, 3, 1e-8), ("current_ac", 1.2, 5, 1e-5),
    ]),
    ("Safety tester", ["safety_tester", "insulation_tester", "earth_tester", "leakage_tester"], [
        ("resistance", 3, 2, 0.001), ("current_ac", 3, 2, 1e-6), ("voltage_ac", 1.5, 2, 0.1),
    ]),
    ("Power meter", ["power_meter"], [
        ("power", 1.0, 2, 0.01), ("voltage_ac", 0.5, 2, 0.1), ("current_ac", 0.8, 3, 0.001),
    ]),
)  # fmt: skip
# Order code, name, pieces on the wall, reorder level. One 160 mA fuse less and it is at its level.
PARTS: Final = (
    ("FUSE-T80mAL250V", "Fuse 5 x 20 mm T80mAL250V", 9, 3),
    ("FUSE-T160mAL250V", "Fuse 5 x 20 mm T160mAL250V", 6, 5),
    ("CELL-2xLR6", "Two AA cells, alkaline", 12, 3),
    ("HOLDER-2xLR6", "Holder for two AA cells", 8, 2),
    ("CELL-CR2032", "Cell CR2032", 8, 2),
    ("HOLDER-CR2032", "Holder for CR2032", 8, 2),
    ("DIODE-SILICON-SMALL", "Silicon diode, small signal", 80, 20),
    ("RES-1K-0W25", "Resistor 1 kΩ 0.25 W", 90, 25),
    ("GROMMET-6", "Grommet 6 mm", 30, 10),
    ("TIE-STRAIN", "Strain relief tie", 60, 20),
    ("LABEL-CELL", "Cell label", 70, 20),
    ("LABEL-PLATE", "Rating plate sticker", 34, 10),
)


def main() -> None:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")
    django.setup()
    from django.core.management import call_command

    call_command("migrate", verbosity=0)
    call_command("collectstatic", verbosity=0, interactive=False)
    open_shop()


def open_shop() -> None:
    from shop.core.models import Shop

    Shop.objects.create(
        id=1, name="Glimmer Repairs", address="Prüfgasse 1\n00000 Musterstadt",
        phone="+49 30 23125 000", email="desk@glimmer.example", opening_words="Tuesday to Friday",
        terms="Units not fetched in six months are disposed of.", tax_percent=19,
        hour_price_minor=7200, diagnosis_fee_minor=3500,
    )  # fmt: skip
    people = hire()
    set_up_benches()
    write_sheets()
    fill_wall(by=people["max"])
    import_templates(by=people["max"])


def hire() -> dict[str, Any]:
    from shop.core.models import Person

    hired = {}
    for username, (name, role, password) in PEOPLE.items():
        person = Person(username=username, name=name, role=role)
        person.set_password(password)
        person.save()
        hired[username] = person
    return hired


def set_up_benches() -> None:
    from shop.benches.models import Bench
    from shop.calc.codes import Kind
    from shop.units.models import Shelf

    lamps = [{"watt": watt, "volt": 230} for watt in (25, 40, 60, 100)]
    Bench.objects.create(name="Bench 1", volt=230, hz=50, lamps=lamps)
    Shelf.objects.create(code=code(Kind.SHELF, "SHELF1"), name="Shelf A1")
    for number, (name, kinds, rows) in enumerate(METERS):
        hang_up_meter(number, name, kinds, rows)


def hang_up_meter(number: int, name: str, kinds: list[str], rows: list[Any]) -> None:
    from django.utils import timezone

    from shop.benches.models import Meter
    from shop.calc.codes import Kind

    keys = ("quantity", "percent", "counts", "resolution")
    today = timezone.localdate()
    Meter.objects.create(
        code=code(Kind.METER, f"METER{number}"), name=name, kinds=kinds,
        accuracy=[dict(zip(keys, row, strict=True)) for row in rows],
        calibrated_on=today - timedelta(days=60), calibration_due_on=today + timedelta(days=300),
    )  # fmt: skip


LOW_RESERVOIRS = [
    {"name": "C1", "volt": 16, "farad": 0.0022, "bleeder_ohm": 1000},
    {"name": "C2", "volt": 100, "farad": 0.000047, "bleeder_ohm": 220000},
]


def write_sheets() -> None:
    """One sheet that knows everything the job templates ask for, and a hazard to be warned of.

    Nothing in it is above 120 V d.c., so that one tech alone may power it with the cover off.
    """
    from shop.units.models import ModelSheet
    from tests.factories.sheets import full_sheet

    ModelSheet.objects.create(
        **full_sheet(
            hazards=["leaking_cell"],
            reservoirs=LOW_RESERVOIRS,
            valves=[],
            known_faults=[{"fault": "cell leaks", "template": "backup-cell-swap"}],
        )
    )


def fill_wall(*, by: Any) -> None:
    from django.utils import timezone

    from shop.calc.codes import Kind
    from shop.core.ids import new_id
    from shop.stock.models import Bin, Part, Supplier
    from shop.stock.services import put_in

    supplier = Supplier.objects.create(name="Bauteilhof", email="orders@bauteilhof.example")
    for number, (order_code, name, pieces, level) in enumerate(PARTS):
        part = Part.objects.create(
            code=code(Kind.PART, f"PART{number:02}"), name=name, order_code=order_code,
            supplier=supplier, cost_minor=20, price_minor=90, reorder_level=level,
            order_up_to=level + 20,
        )  # fmt: skip
        bin = Bin.objects.create(code=code(Kind.BIN, f"BINN{number:02}"), name=f"A{number + 1}")
        put_in(id=new_id(), part=part, bin=bin, quantity=pieces, by=by, at=timezone.now())


def import_templates(*, by: Any) -> None:
    from shop.jobs.services import import_template_file
    from shop.jobs.shipped import shipped_templates

    for file in shipped_templates():
        import_template_file(path=file, by=by)


def code(kind: Any, body: str) -> str:
    """A tag code from six characters; what the alphabet lacks is read as it would be typed."""
    from shop.calc.codes import make_code

    return make_code(kind, body.translate(str.maketrans("ILOU", "110V")))


if __name__ == "__main__":
    main()
