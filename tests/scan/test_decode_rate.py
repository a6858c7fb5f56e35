"""The scanner reads what a person could read, on pictures made here from printed tags."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.scan.kinds import KINDS
from tests.scan.legible import unreadable_because
from tests.scan.rate import Result, rate, table
from tests.scan.shots import Blot, Glare, Shot

LEAST_PICTURES, LEAST_RATE = 200, 0.95


def test_nineteen_in_twenty_of_the_tags_a_person_could_read_are_read(results: list[Result]) -> None:
    print(table(results))

    assert len(results) >= LEAST_PICTURES
    assert rate(results) >= LEAST_RATE, table(results)


def test_no_tag_is_taken_for_another(results: list[Result]) -> None:
    assert [one.case.name for one in results if one.misread] == []


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_begins_with_what_a_person_could_read_and_is_read(
    results: list[Result], kind: str
) -> None:
    weakest = [one for one in results if one.case.kind == kind and one.case.strength == 0]

    assert [one.because for one in weakest] == [None] * len(weakest)
    assert all(one.read for one in weakest)


def test_the_set_goes_on_to_where_nobody_could_read(results: list[Result]) -> None:
    reasons = {one.because for one in results}

    assert {"blur and contrast", "dirt"} <= reasons


WELL = Shot()


@pytest.mark.parametrize(
    ("shot", "because"),
    [
        (WELL, None),
        (replace(WELL, px_per_mm=1.7), "size"),  # capitals of 4.4 mm are 7.4 pixels
        (replace(WELL, tilt=80), "size"),
        (replace(WELL, focus=9), "blur and contrast"),
        (replace(WELL, moved=30), "blur and contrast"),
        (replace(WELL, white=9), "blur and contrast"),
        (replace(WELL, white=30, noise=150), "noise"),
        (replace(WELL, blots=(Blot(26, 4, 6),)), "dirt"),
        (replace(WELL, glares=(Glare(12, 13, 30, 400),)), "dirt"),
    ],
)
def test_what_a_person_could_not_read_has_its_reason(
    results: list[Result], shot: Shot, because: str | None
) -> None:
    assert unreadable_because(shot, results[0].case.label) == because
