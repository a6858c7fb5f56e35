"""Input that does not fit: the field by its path, and a sentence that a tech understands."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.registry import calculators, work_out
from shop.calc.working import BadInput

SCALE = {"old_mark": "T80mAL250V", "old_volt": 230, "new_volt": 115}
SECTION = {"name": "A", "start": "P1", "finish": "P2", "rated_volt": 115}


@pytest.mark.parametrize(
    ("name", "sent", "field", "code", "sentence"),
    [
        ("fuses.scale", {"old_volt": "high"}, "old_volt", "wrong_kind", "This must be a number."),
        ("fuses.scale", {"old_volt": 0}, "old_volt", "too_small", "This must be at least 1 V."),
        ("fuses.scale", {"old_volt": 5e9}, "old_volt", "too_large", "This must be at most 1000 V."),
        ("fuses.scale", {"position": "left"}, "position", "not_a_choice", "left is not one of"),
        ("fuses.scale", {"tea": 1}, "tea", "unknown_field", "There is no field tea."),
        ("fuses.scale", {"old_mark": ""}, "old_mark", "empty", "This must not be left empty."),
        ("fuses.scale", {"old_mark": "T" * 41}, "old_mark", "too_long", "may hold 40 at most"),
        (
            "fuses.scale",
            {"primary_reconnected": 1},
            "primary_reconnected",
            "wrong_kind",
            "yes or no",
        ),
        ("fuses.scale", {"old_volt": float("nan")}, "old_volt", "not_finite", "a finite number"),
        ("supplies.country", {"country": "Japan"}, "country", "bad_format", "for example: JP"),
        ("cells.retention", {"on": "soon"}, "on", "bad_date", "a date such as 2026-11-25"),
        ("windings.arrangements", {"sections": "two"}, "sections", "wrong_kind", "must be a list"),
        (
            "windings.arrangements",
            {"sections": [{**SECTION, "rated_volt": -4}]},
            "sections[0].rated_volt",
            "too_small",
            "This must be at least 0.1 V.",
        ),
        (
            "windings.arrangements",
            {"sections": [{"name": "A", "start": "P1", "finish": "P2"}]},
            "sections[0].rated_volt",
            "missing",
            "This is needed.",
        ),
    ],
)
def test_what_does_not_fit_is_said_at_its_field_in_plain_words(name, sent, field, code, sentence):
    with pytest.raises(BadInput) as refused:
        work_out(name, {**calculators()[name].example, **sent})

    assert (refused.value.field, refused.value.code) == (field, code)
    assert sentence in refused.value.reason


def refusal(name, sent):
    try:
        work_out(name, sent)
    except BadInput as refused:
        return refused
    return None


@given(
    st.sampled_from(sorted(calculators())),
    st.data(),
    st.none() | st.booleans() | st.floats() | st.text(max_size=4) | st.just([]) | st.just({}),
)
def test_no_refusal_speaks_the_language_of_the_validator(name, data, value):
    one = calculators()[name]
    field = data.draw(st.sampled_from(sorted(one.takes.__struct_fields__)))

    refused = refusal(name, {**one.example, field: value})

    if refused:
        assert not set(refused.reason) & {"`", "$"}
        assert "Expected" not in refused.reason
        assert re.split(r"[.\[]", refused.field)[0] in one.takes.__struct_fields__
