"""Repairs on which rails, valves, controls, channels and warmth were checked, oldest first."""

from __future__ import annotations

from typing import Final

from shop.insight.demo import done_checks as done
from shop.insight.demo import sheets_linear as linear
from shop.insight.demo import sheets_special as special
from shop.insight.demo.plan import Plan

CHECKED: Final = (
    Plan(
        "on_test",
        16,
        3,
        special.VALVE_AMPLIFIER,
        "One valve glows brighter than the other.",
        set_for=240,
        done=(done.VALVES,),
        due_in=2,
    ),
    Plan(
        "on_test",
        13,
        2,
        linear.HALL_92,
        "Stops after an hour, comes back when cold.",
        serial="930642",
        tech="ben",
        done=(done.SOAK,),
        due_in=4,
    ),
    Plan(
        "on_the_bench",
        12,
        2,
        linear.SYNTHESISER,
        "The data wheel jumps two or three values, cutoff crackles.",
        set_for=220,
        sounds="save_first",
        done=(done.CONTROLS,),
        due_in=6,
    ),
    Plan(
        "on_test",
        10,
        2,
        linear.MIXER,
        "Hums on every channel since it was moved.",
        set_for=240,
        tech="ben",
        done=(done.RAILS, done.CHANNELS),
        due_in=5,
    ),
)
