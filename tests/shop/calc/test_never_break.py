"""Whatever comes in, a calculator answers in finite numbers or names the field at fault."""

import re
from math import isfinite

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shop.calc.registry import answer_as_json, calculators, work_out
from shop.calc.working import BadInput
from tests.shop.calc.any_input import anything_for

every = pytest.mark.parametrize("one", calculators().values(), ids=lambda one: one.name)


def numbers_in(plain):
    if isinstance(plain, float):
        yield plain
    elif isinstance(plain, dict | list):
        for value in plain.values() if isinstance(plain, dict) else plain:
            yield from numbers_in(value)


def texts_of(answer):
    working = answer["working"]
    return [answer["text"], *working["cautions"], *(line["result"] for line in working["lines"])]


def run(name, sent):
    try:
        return answer_as_json(work_out(name, sent)), None
    except BadInput as refused:
        return None, refused


@every
@given(st.data())
@settings(deadline=None)
def test_any_input_is_answered_finitely_or_refused_at_a_field(one, data):
    answer, refused = run(one.name, data.draw(anything_for(one)))

    if refused:
        assert all((refused.field, refused.reason, refused.code))
    else:
        assert all(isfinite(number) for number in numbers_in(answer))
        assert all(texts_of(answer))
        assert not re.search(r"\b(nan|inf|Infinity)\b", " ".join(texts_of(answer)))


@every
def test_a_field_too_many_is_refused_by_name(one):
    answer, refused = run(one.name, {**one.example, "colour_of_the_box": 1})

    assert answer is None
    assert refused.field == "colour_of_the_box"


@every
def test_its_docstring_names_its_source_and_its_units(one):
    assert "Source:" in one.work_out.__doc__
    if "x-unit" in str(one.schemas()["input"]):
        assert "Units:" in one.work_out.__doc__
