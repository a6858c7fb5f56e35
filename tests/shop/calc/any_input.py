"""Inputs for any calculator, made from its own schema and its worked case."""

from datetime import date
from math import inf, nan

from hypothesis import strategies as st

# What people, scripts and broken forms send.
odd = st.one_of(
    st.sampled_from(
        [
            0,
            0.0,
            -1.0,
            1e-12,
            1e9,
            1e308,
            5e-324,
            nan,
            inf,
            -inf,
            "",
            "x",
            None,
            True,
            [],
            {},
            [1.0],
        ]
    ),
    st.floats(),
    st.integers(),
    st.text(max_size=6),
)


def anything_for(one):
    """Mostly near the worked case, so that it gets past the first look; sometimes quite odd."""
    schema = one.schemas()["input"]
    shapes = schema["$defs"]
    first = shapes[schema["$ref"].rpartition("/")[2]]
    fields = {name: fitting(field, shapes) for name, field in first["properties"].items()}
    near = st.fixed_dictionaries({}, optional=fields).map(lambda some: {**one.example, **some})
    strange = st.dictionaries(st.sampled_from([*fields, "stranger"]), odd, max_size=2)
    return st.builds(lambda sent, more: {**sent, **more}, near | record(first, shapes), strange)


def record(shape, shapes):
    """Every needed field, any of the others."""
    fields = {name: fitting(one, shapes) for name, one in shape["properties"].items()}
    needed = {name: fields.pop(name) for name in shape.get("required", [])}
    return st.fixed_dictionaries(needed, optional=fields)


def fitting(field, shapes):
    """Values that the schema of one field allows: its examples, its ends, and between them."""
    known = st.sampled_from(field["examples"]) if field.get("examples") else st.nothing()
    return known | _by_kind(field, shapes)


def _by_kind(field, shapes):
    if "$ref" in field:
        shape = shapes[field["$ref"].rpartition("/")[2]]
        return record(shape, shapes) if "properties" in shape else fitting(shape, shapes)
    if "anyOf" in field:
        return st.one_of([fitting(one, shapes) for one in field["anyOf"]])
    if "enum" in field:
        return st.sampled_from(field["enum"])
    return KINDS[field.get("type", "null")](field, shapes)


def _numbers(field, shapes):
    low, high = field.get("minimum", -10), field.get("maximum", 10**6)
    whole = field["type"] == "integer"
    inside = st.integers(int(low), int(high)) if whole else st.floats(low, high)
    usual = st.sampled_from(
        [n for n in (0.1, 1, 10, 50, 60, 115, 230) if low <= n <= high] or [low]
    )
    return inside | st.sampled_from([low, high]) | (st.nothing() if whole else usual)


def _lists(field, shapes):
    most = min(field.get("maxItems", 4), 4)
    return st.lists(
        fitting(field["items"], shapes), min_size=field.get("minItems", 0), max_size=most
    )


def _texts(field, shapes):
    if field.get("format") == "date":
        return st.dates().map(date.isoformat)
    written = st.sampled_from(
        ["A", "F", "JP", "T1AL250V", "F500mAL125V", "4k7", "160m", "1,234", "9253", "C5", "{year2}"]
    )
    return written | st.text(max_size=8)


KINDS = {
    "number": _numbers,
    "integer": _numbers,
    "array": _lists,
    "string": _texts,
    "boolean": lambda field, shapes: st.booleans(),
    "null": lambda field, shapes: st.none(),
    "object": lambda field, shapes: st.just({}),
}
