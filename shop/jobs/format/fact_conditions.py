"""Whether a condition on facts can hold at all.

Each fact it compares takes every value it can have, or the values named and some other; each
comparison that is not of a fact with a value is either true or false.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping
from itertools import product
from math import inf, prod
from typing import Any

from shop.jobs.format.bench_conditions import MOST_CASES

Condition = dict[str, Any]
Case = Mapping[str, Any]
OTHER = "\0"  # a value that the condition does not name
FREE = ("has", "same")  # of these nothing is worked out


def can_hold(condition: Condition, choices_of: Callable[[str], tuple[Any, ...]]) -> bool:
    """Whether some facts make the condition true. `choices_of` a path; empty if anything can be."""
    domains = _domains(condition, choices_of)
    if prod(len(values) for values in domains.values()) > MOST_CASES:
        return True  # too many to try; nothing is claimed
    cases = (dict(zip(domains, values, strict=True)) for values in product(*domains.values()))
    return any(_holds(condition, case) for case in cases)


def _domains(
    condition: Condition, choices_of: Callable[[str], tuple[Any, ...]]
) -> dict[str, list[Any]]:
    found: dict[str, list[Any]] = {}
    for word, inner in _parts(condition):
        if word in FREE:
            found[_name(word, inner)] = [True, False]
            continue
        path = inner if word == "known" else inner[0]
        values = found.setdefault(path, [None, *(choices_of(path) or (OTHER,))])
        if word != "known" and not choices_of(path):
            values += _named(word, inner[1])
    return found


def _named(word: str, wanted: Any) -> list[Any]:
    if word == "at_least":
        return [-inf, wanted, inf]
    return list(wanted) if word == "in" else [wanted]


def _parts(condition: Condition) -> Iterator[tuple[str, Any]]:
    """Every comparison in a condition."""
    ((word, inner),) = condition.items()
    if word in ("and", "or"):
        for part in inner:
            yield from _parts(part)
    elif word == "not":
        yield from _parts(inner)
    else:
        yield word, inner


def paths_in(condition: Condition) -> Iterator[str]:
    """Every path that a condition names."""
    for word, inner in _parts(condition):
        yield from [inner] if word == "known" else inner if word == "same" else inner[:1]


def _name(word: str, inner: Any) -> str:
    return json.dumps([word, inner])


def _holds(condition: Condition, case: Case) -> bool:
    ((word, inner),) = condition.items()
    if word in ("and", "or"):
        answers = (_holds(part, case) for part in inner)
        return all(answers) if word == "and" else any(answers)
    if word == "not":
        return not _holds(inner, case)
    if word in FREE:
        return bool(case[_name(word, inner)])
    return _compared(word, inner, case)


def _compared(word: str, inner: Any, case: Case) -> bool:
    found = case[inner if word == "known" else inner[0]]
    if word == "known" or found is None:
        return found is not None
    if word == "at_least":
        return not isinstance(found, str) and bool(found >= inner[1])
    return found in inner[1] if word == "in" else bool(found == inner[1])
