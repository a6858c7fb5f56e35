"""JSON-like input as a calculator's own type, or what does not fit, in plain words."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from math import isfinite
from typing import Any, NamedTuple

import msgspec

from shop.calc.schemas import examples_at, unit_of
from shop.calc.words import _
from shop.calc.working import BadInput


def read_input(takes: type, given: Mapping[str, Any]) -> Any:
    """The input as the calculator's type. Raises BadInput with the path of the first bad field."""
    _refuse_non_finite(given, "")
    try:
        return msgspec.convert(dict(given), takes, strict=True)
    except msgspec.ValidationError as error:
        raise _in_words(takes, str(error)) from error


def _refuse_non_finite(value: Any, path: str) -> None:
    """JSON has no infinity, but Python's reader lets it in; no calculator should have to ask."""
    if isinstance(value, float) and not isfinite(value):
        raise BadInput(path.lstrip("."), _("This must be a finite number."), "not_finite")
    if isinstance(value, Mapping):
        for key, inner in value.items():
            _refuse_non_finite(inner, f"{path}.{key}")
    elif isinstance(value, list | tuple):
        for index, inner in enumerate(value):
            _refuse_non_finite(inner, f"{path}[{index}]")


class _Refused(NamedTuple):
    takes: type
    field: str
    found: tuple[str, ...]


def _number(refused: _Refused) -> str:
    """A limit with its unit: `1 V`."""
    return f"{float(refused.found[0]):g} {unit_of(refused.field)}".strip()


def _example(refused: _Refused) -> str:
    if examples := examples_at(msgspec.json.schema(refused.takes), refused.field):
        return _("This is not written as it should be; for example: {example}", example=examples[0])
    return _("This is not written as it should be.")


def _wrong_kind(refused: _Refused) -> str:
    wanted = refused.found[0]
    if "float" in wanted:
        return _("This must be a number.")
    return {
        "int": _("This must be a whole number."),
        "bool": _("This must be yes or no."),
        "array": _("This must be a list."),
        "object": _("This must be a group of fields."),
    }.get(wanted.partition(" ")[0], _("This must be text."))


# The validator's sentence, our code, and our sentence.
SENTENCES: list[tuple[re.Pattern[str], str, Callable[[_Refused], str]]] = [
    (re.compile(pattern), code, sentence)
    for pattern, code, sentence in (
        (r"missing required field `(.*)`", "missing", lambda one: _("This is needed.")),
        (
            r"unknown field `(.*)`",
            "unknown_field",
            lambda one: _("There is no field {name}.", name=one.found[0]),
        ),
        (
            r"`(?:str|array)` of length >= 1$",
            "empty",
            lambda one: _("This must not be left empty."),
        ),
        (
            r"`(?:str|array)` of length >= (\d+)",
            "too_short",
            lambda one: _("This needs at least {least}.", least=one.found[0]),
        ),
        (
            r"`(?:str|array)` of length <= (\d+)",
            "too_long",
            lambda one: _("This may hold {most} at most.", most=one.found[0]),
        ),
        (
            r">= (\S+)$",
            "too_small",
            lambda one: _("This must be at least {least}.", least=_number(one)),
        ),
        (
            r"<= (\S+)$",
            "too_large",
            lambda one: _("This must be at most {most}.", most=_number(one)),
        ),
        (
            r"> (\S+)$",
            "too_small",
            lambda one: _("This must be above {least}.", least=_number(one)),
        ),
        (r"< (\S+)$", "too_large", lambda one: _("This must be below {most}.", most=_number(one))),
        (r"matching regex", "bad_format", _example),
        (
            r"Invalid (?:enum )?value '?(.*?)'?$",
            "not_a_choice",
            lambda one: _("{typed} is not one of the choices.", typed=one.found[0]),
        ),
        (r"date", "bad_date", lambda one: _("This must be a date such as 2026-11-25.")),
        (r"Expected `(.*)`, got", "wrong_kind", _wrong_kind),
    )
]
ABOUT_A_FIELD = {"missing", "unknown_field"}  # these name the field after the path


def _in_words(takes: type, error: str) -> BadInput:
    reason, _at, path = error.partition(" - at `$")
    path = path.rstrip("`").lstrip(".")
    for pattern, code, sentence in SENTENCES:
        if match := pattern.search(reason):
            field = f"{path}.{match[1]}".lstrip(".") if code in ABOUT_A_FIELD else path
            return BadInput(
                field or "input", sentence(_Refused(takes, field, match.groups())), code
            )
    return BadInput(path or "input", reason)
