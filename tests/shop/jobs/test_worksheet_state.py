"""The state of a worksheet, on the table of cases that the phone follows too."""

import json
from pathlib import Path
from uuid import UUID

import pytest

from shop.jobs.models import Entry
from shop.jobs.record.state import stage_of, standing_of, states

CASES = json.loads(
    (Path(__file__).parents[2] / "vectors" / "worksheets.json").read_text(encoding="utf-8")
)


def entry(row):
    """The fields of an entry that a state hangs on; nothing is stored."""
    text = row["value"].get("value_text")
    return Entry(
        id=UUID(row["id"]),
        seq=row["seq"],
        kind=row["kind"],
        step=row["step"],
        value=row["value"],
        value_si=float(text) if text else None,
        verdict=row["verdict"] or "",
        replaces_id=UUID(row["replaces"]) if row["replaces"] else None,
    )


@pytest.mark.parametrize("case", CASES, ids=[case["name"] for case in CASES])
def test_phone_and_server_see_the_same_state(case):
    standing = standing_of([entry(row) for row in case["entries"]])

    found = {
        state.step["id"]: {"settled": state.settled, "locked_by": state.locked_by}
        for state in states({"steps": case["steps"]}, standing)
    }

    assert found == case["states"]
    assert stage_of({"steps": case["steps"]}, standing) == case["stage"]
