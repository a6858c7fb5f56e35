"""A second person is asked for where volts inside are beyond extra-low voltage."""

import pytest

from shop.calc.safety.second_person import can_kill


@pytest.mark.parametrize(
    ("dc", "ac", "deadly"),
    [
        ([120], [], False),  # IEC 61140: extra-low voltage ends at 120 V d.c.
        ([120.1], [], True),
        ([-150], [], True),
        ([], [84.8], False),  # by hand: 84.8 x 1.41421 = 119.9 V at the crest
        ([], [84.9], True),  # by hand: 84.9 x 1.41421 = 120.1 V at the crest
        ([], [], False),
    ],
)
def test_the_end_of_extra_low_voltage_decides(dc, ac, deadly):
    assert can_kill([], dc, ac) is deadly


@pytest.mark.parametrize("hazard", ["live_chassis", "high_voltage", "tube_high_voltage"])
def test_a_deadly_hazard_decides_without_any_volts(hazard):
    assert can_kill([hazard], [], [])


@pytest.mark.parametrize("hazard", ["selenium", "asbestos", "pcb_oil", "leaking_cell"])
def test_a_hazard_of_another_kind_does_not(hazard):
    assert not can_kill([hazard], [12], [9])
