"""How many pictures of tags the scanner reads.

`python -m tests.scan.rate [FOLDER]` prints it by kind. With a folder it keeps there
the pictures and a sheet of them, to be looked at.
"""

from __future__ import annotations

import os
import statistics
import sys
import tempfile
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

from tests.scan.decoding import Decoded, decode, write_picture
from tests.scan.kinds import KINDS, Case, all_cases
from tests.scan.labels import Label
from tests.scan.legible import unreadable_because
from tests.scan.shots import take


@dataclass(frozen=True)
class Result:
    """One picture: whether a person could read it (None) or why not, and what the scanner read."""

    case: Case
    because: str | None
    decoded: Decoded

    @property
    def legible(self) -> bool:
        return self.because is None

    @property
    def read(self) -> bool:
        return self.case.label.code in self.decoded.texts

    @property
    def misread(self) -> bool:
        return any(text != self.case.label.code for text in self.decoded.texts)


def measure(labels: list[Label], folder: Path) -> list[Result]:
    """Takes every picture into a folder and lets the app's scanner read them."""
    cases = list(all_cases(labels))
    for case in cases:
        write_picture(folder, case.name, take(case.shot, case.label, case.seed))
    found = decode(folder)
    return [
        Result(case, unreadable_because(case.shot, case.label), found[case.name]) for case in cases
    ]


def rate(results: Iterable[Result]) -> float:
    """The share read of those a person could read."""
    legible = [one.read for one in results if one.legible]
    return sum(legible) / len(legible)


def table(results: list[Result]) -> str:
    rows = ["kind                    read / legible    read / all"]
    rows += [_row(kind, [one for one in results if one.case.kind == kind]) for kind in KINDS]
    took = sorted(one.decoded.ms for one in results)
    return "\n".join([
        *rows, _row("all", results), f"{rate(results):.1%} of what a person could read; "
        f"{sum(one.misread for one in results)} misread; {statistics.median(took):.0f} ms "
        f"a picture (95 %: {took[len(took) * 95 // 100]:.0f} ms)",
    ])  # fmt: skip


def _row(name: str, results: list[Result]) -> str:
    def count(which: Callable[[Result], bool]) -> int:
        return sum(map(which, results))

    of_legible = f"{count(lambda one: one.legible and one.read)} / {count(lambda one: one.legible)}"
    return f"{name:24}{of_legible:>14}{count(lambda one: one.read):>9} / {len(results)}"


def main(keep: str | None) -> None:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")
    import django

    django.setup()
    from tests.scan.printed import printed_labels
    from tests.scan.sheet import contact_sheet

    with tempfile.TemporaryDirectory(prefix="lampledger-scan-") as scratch:
        folder = Path(keep or scratch)
        folder.mkdir(parents=True, exist_ok=True)
        results = measure(printed_labels(Path(scratch)), folder)
        print(table(results))
        if keep:
            contact_sheet(results, folder).save(folder / "sheet.png")


if __name__ == "__main__":
    main(*sys.argv[1:2] or [None])
