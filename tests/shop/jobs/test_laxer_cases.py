"""No choice makes a safety reading laxer than the template's own words."""

import pytest

from shop.jobs.format import check_template
from tests.factories.jobs import caution, look, reading, template


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"blocks": False}, "blocks"),
        ({"band": {"low": None}}, "band"),
        ({"band": {"nominal": 5}}, "band"),
        ({"required": False}, "required"),
    ],
)
def test_no_choice_makes_a_safety_reading_laxer(changes, field):
    cases = {"keys": ["cord"], "cases": {"sound": changes}}
    body = template(caution(), look(safety=True), reading(safety=True, variants=cases))

    (problem,) = check_template(body)

    assert problem.path == ("steps", 2, "variants", "cases", "sound", field)


def test_a_reading_that_must_pass_needs_a_limit_and_not_only_a_band():
    (problem,) = check_template(template(caution(), reading(band={"low": None, "high": None})))

    assert problem.path == ("steps", 1, "blocks")
