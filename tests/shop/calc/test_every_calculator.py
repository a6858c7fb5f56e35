"""What every calculator owes its readers: a question, a worked case, titles and a page."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from shop.calc.areas import AREAS, area_of
from shop.calc.pages import faults
from shop.calc.registry import calculators, work_out
from shop.calc.working import Outcome, Status

PAGES = Path(__file__).parents[3] / "docs" / "calculations"
every = pytest.mark.parametrize("one", calculators().values(), ids=lambda one: one.name)


def fields(one) -> Iterator[tuple[str, dict]]:
    for shape, schema in one.schemas()["input"]["$defs"].items():
        for name, field in schema.get("properties", {}).items():
            is_tag = len(field.get("enum", [])) == 1  # says which of several shapes it is
            if not is_tag:
                yield f"{shape}.{name}", field


@every
def test_it_answers_a_question_of_an_area(one):
    assert one.question.endswith("?")
    assert area_of(one.name) in AREAS.values()


@every
def test_its_worked_case_is_answered_with_working_and_sources(one):
    answer = work_out(one.name, one.example)

    assert answer.outcome in {Outcome.OK, Outcome.WARN}
    assert answer.text
    assert answer.working.lines
    assert {source.status for source in answer.working.sources} <= set(Status)
    assert answer.working.sources


@every
def test_each_of_its_fields_has_a_title_for_a_form(one):
    untitled = [name for name, field in fields(one) if not field.get("title")]

    assert untitled == []


@every
def test_each_of_its_numbers_has_a_unit_or_says_what_it_counts(one):
    bare = [
        name
        for name, field in fields(one)
        if field.get("type") in {"number", "integer"}
        and not field.get("x-unit")
        and not field.get("description")
    ]

    assert bare == []


def test_the_pages_are_written_and_up_to_date():
    # Mend with: python -m shop calc --pages docs/calculations
    assert faults(PAGES) == []
