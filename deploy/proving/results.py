"""What came out of the stages, and the summary at the end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from xml.etree import ElementTree


@dataclass(frozen=True)
class Counts:
    """Test cases of one stage; `reasons` are why some were skipped."""

    passed: int = 0
    failed: int = 0
    skipped: int = 0
    reasons: tuple[str, ...] = ()

    def words(self) -> str:
        return f"{self.passed} passed, {self.failed} failed, {self.skipped} skipped"


@dataclass(frozen=True)
class Result:
    """`outcome` is passed, failed or skipped; `note` says how many or why."""

    name: str
    outcome: str
    seconds: float = 0.0
    note: str = ""
    counts: Counts | None = None


def counts_of(report: Path) -> Counts:
    """Read a JUnit file, as pytest and vitest write it."""
    passed = failed = 0
    reasons = []
    for case in ElementTree.parse(report).iter("testcase"):  # noqa: S314 - written by us
        skip = case.find("skipped")
        if skip is not None:
            where = f"{case.get('classname', '')}: {case.get('name', '')}"
            reasons.append(f"{where}: {skip.get('message') or 'no reason given'}")
        elif case.find("failure") is not None or case.find("error") is not None:
            failed += 1
        else:
            passed += 1
    return Counts(passed, failed, len(reasons), tuple(reasons))


def judged(result: Result, *, skips_allowed: bool) -> Result:
    """Without leave to skip, a skipped stage or a skipped test counts as a failure."""
    skipped_tests = result.counts.skipped if result.counts else 0
    if skips_allowed or result.outcome == "failed":
        return result
    if result.outcome == "skipped" or skipped_tests:
        note = f"{result.note} (skipping is forbidden)"
        return Result(result.name, "failed", result.seconds, note, result.counts)
    return result


def summary(results: Sequence[Result]) -> str:
    width = max(len(result.name) for result in results)
    rows = [
        f"{result.name:<{width}}  {result.outcome:<8}{result.seconds:>7.1f} s  {result.note}"
        for result in results
    ]
    return "\n".join(["", *rows, *_skipped_tests(results), "", _total(results)])


def _skipped_tests(results: Sequence[Result]) -> list[str]:
    lines = [
        f"  {result.name}: {reason}"
        for result in results
        for reason in (result.counts.reasons if result.counts else ())
    ]
    return ["", "Skipped tests and why:", *lines] if lines else []


def _total(results: Sequence[Result]) -> str:
    counts = [result.counts for result in results if result.counts]
    tests = Counts(
        sum(one.passed for one in counts),
        sum(one.failed for one in counts),
        sum(one.skipped for one in counts),
    )
    stages = [result.outcome for result in results]
    return (
        f"Stages: {stages.count('passed')} passed, {stages.count('failed')} failed, "
        f"{stages.count('skipped')} skipped. Tests: {tests.words()}."
    )
