"""What screens show of a unit."""

import pytest

from shop.units.errors import BadCode
from shop.units.selectors import (
    hazard_rows,
    model_sheet_matches,
    model_sheets_visible_to,
    understood_code,
    unit_card,
    units_visible_to,
)
from shop.units.services import add_piece
from tests.factories.units import ModelSheetFactory, UnitFactory

pytestmark = pytest.mark.django_db


def test_hazards_of_the_sheet_come_with_their_words(anna):
    sheet = ModelSheetFactory(hazards=["live_chassis", "selenium"])
    UnitFactory(model_sheet=sheet)

    card = unit_card(units_visible_to(anna).get())

    assert card["hazards"] == [
        {"key": "live_chassis", "text": "live chassis"},
        {"key": "selenium", "text": "selenium rectifier"},
    ]


def test_a_hazard_without_a_word_is_shown_by_its_key_and_never_dropped():
    assert hazard_rows(["new_hazard"]) == [{"key": "new_hazard", "text": "new_hazard"}]


@pytest.mark.parametrize("units", [1, 6])
def test_cards_take_the_same_queries_for_one_and_for_many(anna, units, django_assert_num_queries):
    for _ in range(units):
        add_piece(unit=UnitFactory(model_sheet=ModelSheetFactory()), name="cord")

    with django_assert_num_queries(2):
        cards = [unit_card(unit) for unit in units_visible_to(anna)]

    assert len(cards) == units


def test_who_no_longer_works_here_sees_no_unit_and_no_sheet(stranger):
    UnitFactory(model_sheet=ModelSheetFactory())

    assert not units_visible_to(stranger).exists()
    assert not model_sheets_visible_to(stranger).exists()


def test_a_sheet_is_found_by_words_of_make_model_and_kind(anna):
    sheet = ModelSheetFactory(make="Testmake", model="Glimmer 2", kind="preamplifier")
    ModelSheetFactory(make="Testmake", model="Murk", kind="tuner")

    found = model_sheet_matches("GLIMMER pre", model_sheets_visible_to(anna))

    assert list(found) == [sheet]


def test_a_mistyped_code_says_what_is_wrong_with_it():
    with pytest.raises(BadCode) as refused:
        understood_code("NR7Q2K9B")  # the last character of tests/vectors/codes.json is A

    assert refused.value.facts["errors"][0]["code"] == "check_does_not_fit"
