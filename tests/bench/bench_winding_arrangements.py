"""How long it takes to list, rank and draw arrangements of four sections with five taps each.

Run: `python -m tests.bench.bench_winding_arrangements`. The aim is 20 ms.
"""

from collections.abc import Callable
from statistics import median
from time import perf_counter

import msgspec

from shop.calc.registry import work_out
from shop.calc.windings.sections import Section, Tap
from shop.calc.working import Answer

ROUNDS = 21


def four_sections(alike: bool = True) -> list[Section]:
    """Four sections of 120 V, each with taps at 100, 105, 110 and 117 V and its end."""
    return [
        Section(
            f"S{n}", f"{n}a", f"{n}z", 120.0, 1.0 if alike else 1.0 + n,
            [Tap(f"{n}t{k}", volt) for k, volt in enumerate((100.0, 105.0, 110.0, 117.0))],
        )
        for n in range(4)
    ]  # fmt: skip


def main() -> None:
    """Print the median of some rounds for alike and for unlike sections."""
    for name, sections in (("alike", four_sections()), ("unlike", four_sections(alike=False))):
        plain = msgspec.to_builtins(sections)
        supply = {"supply_volt": 230.0, "supply_hz": 50.0, "plate_hz": [50.0, 60.0]}
        target = {"target_volt": 230.0, "target_hz": 50.0, "plate_hz": [50.0, 60.0]}
        listed = work_out("windings.arrangements", {"sections": plain}).value
        print(f"{name}: {listed.total} arrangements")
        for calculator, more in (
            ("windings.arrangements", {}),
            ("windings.arrangements", supply),
            ("windings.for_supply", target),
        ):
            given = {"sections": plain, **more}
            taken = _milliseconds(lambda: work_out(calculator, given))  # noqa: B023
            print(f"  {calculator} {'for a supply' if more else ''}: median {taken:.1f} ms")


def _milliseconds(run: Callable[[], Answer[object]]) -> float:
    times = []
    for _round in range(ROUNDS):
        begun = perf_counter()
        run()
        times.append((perf_counter() - begun) * 1000)
    return median(times)


if __name__ == "__main__":
    main()
