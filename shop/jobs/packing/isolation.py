"""Before work with power on where a touch can kill: an isolated feed and somebody within call.

What can kill stands on the model sheet: a hazard, or the volts of a reservoir, rail, plate or
secondary. A unit without a sheet counts as deadly. No template can leave this out; the ids are kept
for it.
"""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _

from shop.calc.safety.second_person import can_kill

Step = dict[str, Any]


def with_isolation(steps: list[Step], facts: dict[str, Any]) -> list[Step]:
    """The steps, with the two of the shop before the first that is worked with power on."""
    first = next((index for index, step in enumerate(steps) if step.get("energised")), None)
    if first is None or not _is_deadly(facts["sheet"]):
        return steps
    return [*steps[:first], *_before(steps[first]["group"]), *steps[first:]]


def _is_deadly(sheet: dict[str, Any]) -> bool:
    """A unit without a sheet counts as deadly; else what the sheet names decides."""
    if not sheet:
        return True
    dc = [*_volts(sheet, "reservoirs"), *_volts(sheet, "rails")]
    plates = _volts(sheet, "valves", "plate_volt")
    return can_kill(sheet["hazards"], [*dc, *plates], _volts(sheet, "secondaries", "rated_volt"))


def _volts(sheet: dict[str, Any], rows: str, name: str = "volt") -> list[float]:
    return [row[name] for row in sheet[rows] if row.get(name) is not None]


def _before(group: str) -> list[Step]:
    common = {
        "group": group, "safety": True, "mains": True, "phase": None, "when": None, "writes": None,
        "required": True, "work": None, "variants": None, "why_not_judged": None,
    }  # fmt: skip
    return [
        {
            **common,
            "id": "isolation",
            "kind": "look",
            "title": _("Fed from an isolation transformer"),
            "text": _(
                "Parts inside are at mains or at high voltage. Feed the unit from an isolation"
                " transformer rated for it, and check that its output is free of earth."
            ),
            "cautions": [
                _(
                    "An isolation transformer protects only against touching one side; between"
                    " two parts, and at a reservoir, it does not. Local codes and the rules for"
                    " work by licensed people come first."
                )
            ],
            "choices": _isolation_choices(),
        },
        {
            **common,
            "id": "second-person",
            "kind": "sign_off",
            "title": _("A second person is within call"),
            "text": _(
                "Somebody who knows where the switch is and what to do after a shock stays within"
                " call while power is on, and signs here."
            ),
            "cautions": [],
            "role": "tech",
            "other_person": True,
        },
    ]


def _isolation_choices() -> list[dict[str, Any]]:
    return [
        {
            "key": "isolated",
            "label": _("From an isolation transformer, its output checked"),
            "verdict": "pass",
        },
        {
            "key": "not_isolated",
            "label": _("It cannot be isolated"),
            "verdict": "fail",
            "text": _("Leave it off. Work that needs power on stops here."),
        },
    ]
