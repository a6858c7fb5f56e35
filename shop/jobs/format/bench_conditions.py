"""Conditions on choices made at the bench, and whether they can hold at all.

An unanswered look step makes what asks about it false, also behind a `not`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
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

    `keys` are the choices of each look step, `conditions` the `when` of each.
    """
    cases = _cases([condition], keys, conditions)
    return cases is None or any(holds(condition, choices) for choices in cases)


def can_part(
    shown: dict[str, Any] | None,
    hidden: dict[str, Any] | None,
    keys: Mapping[str, list[str]],
    conditions: Mapping[str, dict[str, Any] | None],
) -> bool:
    """Whether some set of choices shows a step with the first condition and none with the second.

    Where there are too many to try, nothing is claimed: False.
    """
    cases = _cases([shown, hidden], keys, conditions)
    return any(holds(shown, c) and not holds(hidden, c) for c in cases or ())


def _cases(
    wanted: Sequence[dict[str, Any] | None],
    keys: Mapping[str, list[str]],
    conditions: Mapping[str, dict[str, Any] | None],
) -> Iterator[Choices] | None:
    """Every set of choices that can be made on the steps these conditions hang on.

    None where there are too many to try.
    """
    names = sorted({name for one in wanted for name in _closure(one, conditions)})
    domains = [[None, *keys.get(name, [])] for name in names]
    if prod(len(domain) for domain in domains) > MOST_CASES:
        return None
    made = (dict(zip(names, answers, strict=True)) for answers in product(*domains))
    return (choices for choices in made if _possible(choices, conditions))


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
