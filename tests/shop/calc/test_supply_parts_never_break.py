"""Whatever comes in, supplies, cords, parts and safety answer finitely or name the field."""

from datetime import date
from math import inf, isfinite, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shop.calc.registry import answer_as_json, calculators, work_out
from shop.calc.working import BadInput

AREAS = ("supplies.", "cords.", "voltage_parts.", "safety.")
odd = st.one_of(
    st.sampled_from([0, 0.0, -1.0, nan, inf, -inf, 1e308, 5e-324, "", "x", None, True, [], {}]),
    st.floats(),
    st.integers(),
    st.text(max_size=6),
)


def numbers_in(plain):
    if isinstance(plain, float):
        yield plain
    elif isinstance(plain, dict):
        for value in plain.values():
            yield from numbers_in(value)
    elif isinstance(plain, list | tuple):
        for value in plain:
            yield from numbers_in(value)


def fitting(field, shapes):
    """Values that the schema of one field allows, its ends among them."""
    if "$ref" in field:
        return record(shapes[field["$ref"].rpartition("/")[2]], shapes)
    if "anyOf" in field:
        return st.one_of([fitting(one, shapes) for one in field["anyOf"]])
    if "enum" in field:
        return st.sampled_from(field["enum"])
    kind = field.get("type")
    if kind in ("number", "integer"):
        low, high = field.get("minimum", -10), field.get("maximum", 10**6)
        inside = st.floats(low, high) if kind == "number" else st.integers(low, high)
        return st.one_of(inside, st.sampled_from([low, high]))
    if kind == "array":
        most = min(field.get("maxItems", 3), 3)
        items = fitting(field["items"], shapes)
        return st.lists(items, min_size=field.get("minItems", 0), max_size=most)
    if field.get("format") == "date":
        return st.dates().map(date.isoformat)
    plain = {"boolean": st.booleans(), "null": st.none(), "object": st.just({})}
    texts = st.sampled_from(["A", "F", "DE", "JP", "US", "T1AL250V", "F500mAL125V"])
    return plain.get(str(kind), texts)


def record(shape, shapes):
    fields = {name: fitting(one, shapes) for name, one in shape["properties"].items()}
    needed = {name: fields.pop(name) for name in shape.get("required", [])}
    return st.fixed_dictionaries(needed, optional=fields)


def ours():
    return [one for name, one in calculators().items() if name.startswith(AREAS)]


every = pytest.mark.parametrize("one", ours(), ids=lambda one: one.name)


@every
@given(st.data())
@settings(max_examples=80)
def test_any_input_is_answered_finitely_or_refused_at_a_field(one, data):
    schema = one.schemas()["input"]
    shapes = schema["$defs"]
    first = shapes[schema["$ref"].rpartition("/")[2]]
    names = st.sampled_from([*first["properties"], "stranger"])
    sent = {
        **data.draw(record(first, shapes)),
        **data.draw(st.one_of(st.just({}), st.dictionaries(names, odd, max_size=2))),
    }

    try:
        answer = work_out(one.name, sent)
    except BadInput as refused:
        said = (refused.field, refused.reason, refused.code)
    else:
        said = (one.name, answer.text, answer.outcome)
        assert all(isfinite(value) for value in numbers_in(answer_as_json(answer)))

    assert all(said)


@every
def test_it_has_a_docstring_with_units_and_source(one):
    assert "Units:" in one.work_out.__doc__
    assert "Source:" in one.work_out.__doc__


def test_every_area_has_its_calculators():
    found = {one.name for one in ours()}

    assert {
        "supplies.band", "supplies.country", "supplies.plug",
        "cords.colours", "cords.coupler", "cords.gauge", "cords.marking",
        "cords.required",
        "voltage_parts.capacitor", "voltage_parts.check", "voltage_parts.neon",
        "voltage_parts.rating_plate", "voltage_parts.rear_outlet", "voltage_parts.switch",
        "voltage_parts.thermal_link", "voltage_parts.varistor",
        "safety.earth_limit", "safety.insulation_limit", "safety.limits", "safety.protection_class",
        "safety.touch_current", "safety.touch_voltage",
    } <= found  # fmt: skip
