"""Makes `judge-random.json`: 10,000 readings with the verdicts that exact arithmetic gives.

The judge works in doubles, on the server and on the phone; this works in fractions, straight from
the words of the decision rules, so neither checks itself. A case is kept only where rounding cannot
decide it: on an edge, or well away from every edge.

    python -m tests.vectors.make_judge_random
"""

from __future__ import annotations

import json
import random
from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import Any

FILE = Path(__file__).with_name("judge-random.json")
SEED, CASES, ALONG = 60_062, 10_000, 2_500
RULES = {"s": "simple", "g": "guarded", "n": "non_binary"}
VERDICTS = {
    "p": "pass", "f": "fail", "b": "borderline", "m": "meter_not_good_enough", "n": "not_judged",
}  # fmt: skip
CLEAR = Fraction(1, 10**9)  # of the largest number there is: far more than doubles round

Limit = float | None
Point = tuple[float, Limit, Limit]


def verdict(value: Fraction, low: Fraction | None, high: Fraction | None,
            uncertainty: Fraction, rule: str) -> str:  # fmt: skip
    """The decision rules in words: see the head of `shop/calc/judging/judged.py`."""
    if low is None and high is None:
        return "n"
    guard = Fraction(0) if rule == "s" else uncertainty
    below = low is not None and value < low
    above = high is not None and value > high
    far_below = low is not None and value < low - guard
    far_above = high is not None and value > high + guard
    if low is not None and high is not None and high - low < 2 * guard:
        return "f" if far_below or far_above else "m"
    is_sure = (low is None or value - low >= guard) and (high is None or high - value >= guard)
    if is_sure:
        return "p"
    failed = (far_below or far_above) if rule == "n" else (below or above)
    return "f" if failed else "b"


def at(points: list[Point], x: Fraction) -> tuple[Fraction | None, Fraction | None] | None:
    """The limits at x: on a point its own, between two on the straight line, else none."""
    for here, low, high in points:
        if Fraction(here) == x:
            return exact(low), exact(high)
    for (x0, low0, high0), (x1, low1, high1) in pairwise(points):
        if x0 < x < x1:
            share = (x - Fraction(x0)) / (Fraction(x1) - Fraction(x0))
            return _between(low0, low1, share), _between(high0, high1, share)
    return None


def _between(start: Limit, end: Limit, share: Fraction) -> Fraction | None:
    if start is None or end is None:
        return None
    return (1 - share) * Fraction(start) + share * Fraction(end)


def exact(number: Limit) -> Fraction | None:
    return None if number is None else Fraction(number)


def is_decided(value: Fraction, low: Fraction | None, high: Fraction | None,
               guard: Fraction, *, on_edge: bool) -> bool:  # fmt: skip
    """Whether doubles cannot get it wrong: each edge is met exactly or is clearly missed."""
    edges = [
        limit + sign * guard for limit in (low, high) if limit is not None for sign in (-1, 0, 1)
    ]
    size = max([abs(value), guard, *(abs(edge) for edge in edges)])
    gaps = [abs(value - edge) for edge in edges]
    if low is not None and high is not None:
        gaps.append(abs(high - low - 2 * guard))
    if on_edge:  # sums of these numbers are doubles themselves
        return all(Fraction(float(edge)) == edge for edge in edges)
    return all(gap > size * CLEAR for gap in gaps)


class _Dice:
    """Numbers for cases: round ones, that doubles add exactly, and rough ones."""

    def __init__(self) -> None:
        self.random = random.Random(SEED)

    def band(self, number: Any) -> tuple[Limit, Limit]:
        low, high = sorted((number(), number()))
        return self.random.choice([(low, high)] * 5 + [(low, None), (None, high), (low, low)] * 2
                                  + [(None, None)])  # fmt: skip

    def rough(self, scale: float) -> float:
        """Four digits at a scale."""
        return float(f"{self.random.uniform(-1, 1) * scale:.4g}")

    def round(self, scale: int) -> float:
        """A small whole number times a power of two: sums and differences are exact."""
        return self.random.randint(-64, 64) * 2.0**scale

    def edge_case(self) -> list[Any]:
        """A reading on a limit, a guard band's end, or somewhere near, at any magnitude."""
        scale = self.random.randint(-60, 60)
        low, high = self.band(lambda: self.round(scale))
        guard = abs(self.random.choice([0, 1, 2, self.random.randint(0, 40)])) * 2.0**scale
        near = [limit for limit in (low, high) if limit is not None] or [self.round(scale)]
        step = self.random.choice([-1, 0, 1]) * guard
        value = self.random.choice([*near, self.round(scale)]) + step
        return [value, low, high, guard, self.random.choice("sgn")]

    def rough_case(self) -> list[Any]:
        scale = 10.0 ** self.random.randint(-14, 14)
        low, high = self.band(lambda: self.rough(scale))
        guard = abs(self.rough(scale * 10.0 ** self.random.randint(-4, 0)))
        guard = self.random.choice([guard, guard, guard, 0.0])
        return [self.rough(scale * 1.5), low, high, guard, self.random.choice("sgn")]

    def among(self, points: list[Point]) -> float:
        """Mostly between the first and the last point, sometimes beyond."""
        first, last = points[0][0], points[-1][0]
        wide = (last - first) * 0.1
        return float(f"{self.random.uniform(first - wide, last + wide):.4g}")

    def points(self, scale: float) -> list[Point]:
        xs = sorted({self.rough(100) for _point in range(self.random.randint(2, 5))})
        return [(x, *self.band(lambda: self.rough(scale))) for x in xs]


def plain_cases(dice: _Dice, count: int) -> Iterator[list[Any]]:
    made = 0
    while made < count:
        on_edge = made % 2 == 0
        case = dice.edge_case() if on_edge else dice.rough_case()
        value, low, high, uncertainty, rule = case
        numbers = Fraction(value), exact(low), exact(high), Fraction(uncertainty)
        if is_decided(*numbers, on_edge=on_edge):
            made += 1
            yield [*case, verdict(*numbers, rule)]


def along_cases(dice: _Dice, count: int) -> Iterator[list[Any]]:
    """A reading whose limits run along another reading x."""
    made = 0
    while made < count:
        points = dice.points(10.0 ** dice.random.randint(-9, 9))
        on_point = made % 4 == 0
        x = dice.random.choice(points)[0] if on_point else dice.among(points)
        limits = at(points, Fraction(x)) or (None, None)
        near = next((float(limit) for limit in limits if limit is not None), 1.0)
        value = float(f"{near * (1 + dice.random.uniform(-1, 1) ** 3 / 2):.4g}")
        guard = abs(float(f"{near * dice.random.choice([0, 0.001, 0.01, 0.1]):.4g}"))
        numbers = Fraction(value), *limits, Fraction(guard)
        if is_decided(*numbers, on_edge=False):
            made += 1
            rule = dice.random.choice("sgn")
            yield [x, points, value, guard, rule, verdict(*numbers, rule)]


def make() -> dict[str, Any]:
    """All cases. `plain`: value, low, high, U, rule, verdict. `along`: x, points, value, U, ..."""
    dice = _Dice()
    return {
        "rules": RULES,
        "verdicts": VERDICTS,
        "plain": list(plain_cases(dice, CASES - ALONG)),
        "along": list(along_cases(dice, ALONG)),
    }


def written(made: dict[str, Any]) -> str:
    """One case a line."""
    parts = []
    for name, rows in made.items():
        lines = ",\n".join(json.dumps(row, separators=(",", ":")) for row in rows)
        text = json.dumps(rows) if isinstance(rows, dict) else f"[\n{lines}\n]"
        parts.append(f'"{name}": {text}')
    return "{\n" + ",\n".join(parts) + "\n}\n"


if __name__ == "__main__":
    FILE.write_text(written(make()), encoding="utf-8")
