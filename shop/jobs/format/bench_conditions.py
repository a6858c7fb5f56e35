"""Conditions on choices made at the bench, and whether they can hold at all.

An unanswered look step makes what asks about it false, also behind a `not`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from itertools import product
from math import prod
from typing import Any

Choices = Mapping[str, str | None]
MOST_CASES = 20_000


def holds(condition: dict[str, Any] | None, choices: Choices) -> bool:
    """Whether a condition holds for the choices made. None always holds."""
    if condition is None:
        return True
    ((word, inner),) = condition.items()
    if word == "not":
        return _is_answered(inner, choices) and not holds(inner, choices)
    if word == "and":
        return all(holds(part, choices) for part in inner)
    chosen = choices.get(inner[0])
    if chosen is None:
        return False
    return chosen == inner[1] if word == "eq" else chosen in inner[1]


def _is_answered(condition: dict[str, Any], choices: Choices) -> bool:
    return all(choices.get(step) is not None for step, _keys in steps_in(condition))


def steps_in(condition: dict[str, Any] | None) -> Iterator[tuple[str, list[str]]]:
    """Every (step, keys) a condition names."""
    if not condition:
        return
    ((word, inner),) = condition.items()
    if word == "not":
        yield from steps_in(inner)
    elif word == "and":
        for part in inner:
            yield from steps_in(part)
    else:
        yield inner[0], [inner[1]] if word == "eq" else list(inner[1])


def renamed(condition: dict[str, Any], names: Callable[[str], list[str]]) -> dict[str, Any]:
    """The condition with each step replaced by the steps it became; several must all hold."""
    ((word, inner),) = condition.items()
    if word == "not":
        return {"not": renamed(inner, names)}
    if word == "and":
        return {"and": [renamed(part, names) for part in inner]}
    became = [{word: [name, inner[1]]} for name in names(inner[0])]
    return became[0] if len(became) == 1 else {"and": became}


def can_hold(
    condition: dict[str, Any],
    keys: Mapping[str, list[str]],
    conditions: Mapping[str, dict[str, Any] | None],
) -> bool:
    """Whether some set of choices shows a step with this condition.

    `keys` are the choices of each look step, `conditions` the `when` of each. Where there are too
    many sets to try, nothing is claimed: True.
    """
    cases = _cases(condition, None, keys, conditions)
    return cases is None or any(holds(condition, choices) for choices in cases)


def can_part(
    shown: dict[str, Any] | None,
    hidden: dict[str, Any] | None,
    keys: Mapping[str, list[str]],
    conditions: Mapping[str, dict[str, Any] | None],
) -> bool:
    """Whether some set of choices shows a step with the first condition and none with the second.

    Safety hangs on the answer: where there are too many sets to try, they are taken to part.
    """
    given = _parts(shown)
    return any(
        _can_fail(part, shown, keys, conditions) for part in _parts(hidden) if part not in given
    )


def _can_fail(
    part: dict[str, Any],
    shown: dict[str, Any] | None,
    keys: Mapping[str, list[str]],
    conditions: Mapping[str, dict[str, Any] | None],
) -> bool:
    cases = _cases(shown, part, keys, conditions)
    return cases is None or any(holds(shown, c) and not holds(part, c) for c in cases)


def _parts(condition: dict[str, Any] | None) -> list[dict[str, Any]]:
    """What must all hold for a condition to hold."""
    if condition is None:
        return []
    inner = condition.get("and")
    return [part for one in inner for part in _parts(one)] if inner else [condition]


def _cases(
    holding: dict[str, Any] | None,
    other: dict[str, Any] | None,
    keys: Mapping[str, list[str]],
    conditions: Mapping[str, dict[str, Any] | None],
) -> Iterator[Choices] | None:
    """Every set of choices on the steps that two conditions hang on with which the first can hold.

    None where there are too many to try.
    """
    names = sorted({name for one in (holding, other) for name in _closure(one, conditions)})
    wanted = _wanted(holding, conditions)
    domains = [_answers(name, keys, wanted) for name in names]
    if prod(len(domain) for domain in domains) > MOST_CASES:
        return None
    made = (dict(zip(names, answers, strict=True)) for answers in product(*domains))
    return (choices for choices in made if _possible(choices, conditions))


def _answers(
    name: str, keys: Mapping[str, list[str]], wanted: Mapping[str, set[str]]
) -> list[str | None]:
    """What can be chosen on a look step; nothing yet is None."""
    offered = keys.get(name, [])
    return [key for key in offered if key in wanted[name]] if name in wanted else [None, *offered]


def _wanted(
    condition: dict[str, Any] | None, conditions: Mapping[str, dict[str, Any] | None]
) -> dict[str, set[str]]:
    """The choices without which a condition cannot hold, also of steps that must be shown first."""
    found: dict[str, set[str]] = {}
    waiting = [condition]
    while waiting:
        for part in _parts(waiting.pop()):
            for name, choices in [] if "not" in part else steps_in(part):
                if name not in found:
                    waiting.append(conditions.get(name))
                found[name] = found.get(name, set(choices)) & set(choices)
    return found


def _closure(condition: dict[str, Any] | None, conditions: Mapping[str, Any]) -> set[str]:
    names: set[str] = set()
    waiting = [condition]
    while waiting:
        for name, _keys in steps_in(waiting.pop()):
            if name not in names:
                names.add(name)
                waiting.append(conditions.get(name))
    return names


def _possible(choices: Choices, conditions: Mapping[str, dict[str, Any] | None]) -> bool:
    """Only steps that are shown have been answered."""
    return all(holds(conditions.get(name), choices) for name, chosen in choices.items() if chosen)
