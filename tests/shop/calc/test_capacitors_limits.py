"""What a capacitor must read, held to the verdict that is given once it was measured."""

import pytest

from shop.calc.capacitors.limits import LimitsIn, limits
from shop.calc.capacitors.verdict import Decision, VerdictIn, verdict
from shop.calc.working import Outcome

PART = {"farad": 100e-6, "rated_volt": 63.0}


def of(**given):
    return limits(LimitsIn(**{**PART, **given})).value


# 80 % by a repair guide; 0.3 and 0.93 ohm are the printed guides of 100 µF 63 V (ESR chart,
# meter guide page 9); 66 µA is 0.01 C U + 3 µA of data sheets, 1.3 mA the rule of JAN-C-62.
def test_the_figures_of_a_part_by_hand():
    value = of()

    assert (value.pass_low_farad, value.pass_high_farad) == (80e-6, pytest.approx(120e-6))
    assert value.pass_below_ohm == pytest.approx(2 * 0.3)
    assert value.replace_above_ohm == pytest.approx(3 * 0.93)
    assert value.modern_ampere == pytest.approx(66e-6)
    assert value.old_ampere == pytest.approx(1.3e-3)


@pytest.mark.parametrize(
    ("reading", "decision"),
    [
        ({"measured_farad": 80e-6, "measured_ohm": 0.59}, Decision.PASS),
        ({"measured_farad": 79e-6, "measured_ohm": 0.59}, Decision.JUDGE),
        ({"measured_farad": 80e-6, "measured_ohm": 0.61}, Decision.JUDGE),
        ({"measured_farad": 80e-6, "measured_ohm": 2.8}, Decision.REPLACE),
        ({"measured_farad": 69e-6, "measured_ohm": 0.59}, Decision.REPLACE),
    ],
)  # endurance and guides as in `capacitors.verdict`
def test_the_borders_are_those_of_the_verdict(reading, decision):
    assert verdict(VerdictIn(**PART, **reading)).value.decision is decision


# JAN-C-62 ends at 450 V, the meter guide (page 9) at 250 V.
def test_where_no_table_reaches_nothing_is_made_up():
    answer = limits(LimitsIn(farad=47e-6, rated_volt=500.0))

    assert answer.outcome is Outcome.WARN
    assert answer.value.pass_below_ohm is None
    assert answer.value.old_ampere is None
    assert answer.value.old_else_modern_ampere == answer.value.modern_ampere


# The maker's own figure wins over both guides (common practice, no source).
def test_the_makers_own_esr_is_taken_where_it_is_known():
    value = of(good_ohm=0.05)

    assert (value.pass_below_ohm, value.replace_above_ohm) == (0.1, pytest.approx(0.15))
