"""How long it takes to list every arrangement of four sections with five taps each.

Run: `python -m tests.bench.bench_winding_arrangements`. The aim is 20 ms.
"""

from statistics import median
from time import perf_counter

from shop.calc.windings.sections import Section, Tap
from shop.calc.windings.ways import ways

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
        times = []
        for _round in range(ROUNDS):
            begun = perf_counter()
            found = ways(sections)
            times.append((perf_counter() - begun) * 1000)
        print(f"{name}: {len(found)} arrangements, median {median(times):.1f} ms")


if __name__ == "__main__":
    main()
