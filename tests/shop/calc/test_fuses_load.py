"""A fuse from the load, and UL ratings beside IEC ones."""

from math import nan

import pytest

from shop.calc.registry import work_out
from shop.calc.working import BadInput, Outcome


# Maker's sheet of a thin-film fuse: 1.5 / (0.70 x 0.95), printed as 2.255
# (datasheetandpdf.com CP04V3TR50).
def test_a_derated_load_needs_the_published_minimum():
    given = {"load_ampere": 1.5, "continuous_factor": 0.70, "temperature_factor": 0.95}

    value = work_out("fuses.for_load", given).value

    assert value.minimum_ampere == pytest.approx(2.2556, abs=0.001)
    assert value.pick_ampere >= value.minimum_ampere


# Full load and 20 A at 0.01 s: studylib.net/doc/18075878; ceilings: NEC 450.3(B) (second-hand).
def test_a_300_va_control_transformer_on_600_volt_meets_the_published_figures():
    given = {"load_va": 300.0, "mains_volt": 600.0, "inrush_times": 40.0}

    answer = work_out("fuses.for_load", given)

    assert answer.value.load_ampere == 0.5
    assert answer.value.inrush_peak_ampere == 20
    assert answer.value.ceiling_ampere == 1.5
    assert answer.value.motor_control_ceiling_ampere == 2.5
    assert answer.value.pick_ampere <= answer.value.ceiling_ampere


def test_a_quick_fuse_is_refused_in_a_transformer_primary():
    with pytest.raises(BadInput) as refused:
        work_out("fuses.for_load", {"load_ampere": 1.0, "characteristic": "F"})

    assert refused.value.field == "characteristic"


def test_a_quick_fuse_is_allowed_where_the_units_own_marking_says_f():
    given = {"load_ampere": 1.0, "characteristic": "F", "own_marking_says_f": True}

    assert work_out("fuses.for_load", given).value.characteristic == "F"


# Computed: k sqrt(0.01 / 2) = 1.06, 1.77, 2.83.
@pytest.mark.parametrize(("times", "least"), [(15, 1.06), (25, 1.77), (40, 2.83)])
def test_the_inrush_floor_follows_the_surge(times, least):
    value = work_out("fuses.for_load", {"load_ampere": 1.0, "inrush_times": float(times)}).value

    assert value.inrush_minimum_ampere == pytest.approx(least, abs=0.005)


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({}, "load_ampere"),
        ({"load_va": 100.0}, "mains_volt"),
        ({"load_va": 100.0, "load_ampere": 1.0, "mains_volt": 230.0}, "load_va"),
        ({"load_ampere": nan}, "load_ampere"),
        ({"load_ampere": 1.0, "temperature_factor": nan}, "temperature_factor"),
        ({"load_ampere": 1.0, "continuous_factor": 0.0}, "continuous_factor"),
    ],
)
def test_a_load_that_cannot_be_is_refused_at_its_field(given, field):
    with pytest.raises(BadInput) as refused:
        work_out("fuses.for_load", given)

    assert refused.value.field == field


# Computed from 1.35 / 2.1 and 0.75.
@pytest.mark.parametrize(
    ("ul", "low", "high", "pick"),
    [
        (0.25, 0.161, 0.188, 0.16), (0.5, 0.321, 0.375, 0.315), (1, 0.643, 0.75, 0.63),
        (2, 1.286, 1.5, 1.25), (3, 1.929, 2.25, 2.0), (4, 2.571, 3.0, 2.5), (5, 3.214, 3.75, 3.15),
    ],
)  # fmt: skip
def test_an_american_rating_has_an_interval_and_a_pick(ul, low, high, pick):
    value = work_out("fuses.ul_iec", {"rated_ampere": float(ul)}).value

    assert value.interval_low_ampere == pytest.approx(low, abs=0.0006)
    assert value.interval_high_ampere == pytest.approx(high, abs=0.0006)
    assert value.pick_ampere == pick


def test_a_swap_by_number_warns_how_far_the_opening_current_rises():
    answer = work_out("fuses.ul_iec", {"rated_ampere": 3.0})

    assert answer.outcome is Outcome.WARN
    assert answer.value.given_opens_ampere == pytest.approx(4.05)
    assert answer.value.same_number_opens_ampere == pytest.approx(6.615)
    assert any("6.6" in caution for caution in answer.working.cautions)
