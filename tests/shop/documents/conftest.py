"""A repair with everything that a paper may show."""

import pytest

from shop.units.models import Piece
from tests.factories.core import ShopFactory
from tests.factories.papers import PIECE_CODE, UNIT_CODE
from tests.factories.units import ModelSheetFactory, RepairFactory, UnitFactory


@pytest.fixture
def repair(db):
    ShopFactory(
        name="Lamp Lane Repairs", address="Yard 7", terms="Stored for six months.", currency="EUR"
    )
    sheet = ModelSheetFactory(hazards=["high_voltage", "leaking_cell"])
    unit = UnitFactory(
        code=UNIT_CODE, make="Testmake", model="Model 88", serial="921043", model_sheet=sheet,
        set_for_volt=230,
    )  # fmt: skip
    Piece.objects.create(code=PIECE_CODE, unit=unit, name="step-down transformer")
    return RepairFactory(
        unit=unit, number=1042, complaint="It hums.\nSmelled hot.", damage="Dent, 4.7 Ω ±5 % µF",
        set_for_volt=230, set_for_hz=50, use_at_country="US", use_at_volt=120, use_at_hz=60,
        diagnosis_fee_minor=4500, spending_limit_minor=15000, sounds="save_first",
        signature={"svg": '<svg viewBox="0 0 9 9"><path d="M1 1L8 8"/></svg>', "name": "C. Test"},
    )  # fmt: skip
