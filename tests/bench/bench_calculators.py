"""How long each calculator takes on its worked case: `python -m tests.bench.bench_calculators`.

Microseconds, the median of 50 calls through the registry, input as JSON-like values; beside it the
ratio to a floor in the same run, which reads the same input into its type and works nothing out.
To reach: 1000 µs for each. Names as arguments time only those.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from statistics import median
from time import perf_counter
from typing import Any

from shop.calc.inputs import read_input
from shop.calc.registry import Calculator, calculators, work_out

CALLS = 50
MOST_MICROSECONDS = 1000


def microseconds(call: Callable[[], Any]) -> float:
    """The median of 50 calls after a warm-up."""
    call()
    return median(_one(call) for _ in range(CALLS))


def _one(call: Callable[[], Any]) -> float:
    begun = perf_counter()
    call()
    return (perf_counter() - begun) * 1e6


def timed(one: Calculator) -> tuple[float, float]:
    """The calculator and the floor for the same input, in microseconds."""
    whole = microseconds(lambda: work_out(one.name, one.example))
    return whole, microseconds(lambda: read_input(one.takes, one.example))


def main(names: list[str]) -> int:
    found = [
        one for name, one in calculators().items() if one.example and name in (names or [name])
    ]
    slow = 0
    for one in found:
        whole, floor = timed(one)
        slow += whole > MOST_MICROSECONDS
        mark = "  above 1 ms" if whole > MOST_MICROSECONDS else ""
        print(f"{one.name:32} {whole:8.0f} µs   {whole / floor:6.1f} x the floor{mark}")
    print(f"{len(found)} calculators, {slow} above 1 ms")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
