"""Rails along the ramp: proportional, regulated, behind a lamp, negative."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shop.calc.registry import work_out
from shop.calc.working import BadInput, Outcome

LAMP = {"watt": 60, "volt": 230}


def expected(**fields):
    return work_out("rails.expected", {"rail_volt": 320, "rated_volt": 230, **fields})


def rails(answer):
    return [(step.rail_volt.low, step.rail_volt.high) for step in answer.value.steps]


def test_a_raw_rail_follows_the_mains_less_the_diodes():
    # derived: (30 + 1.4) x 0.5 - 1.4 = 14.3 V
    answer = expected(rail_volt=30, settings_volt=[115], spread_percent=0)

    assert rails(answer) == [(pytest.approx(14.3), pytest.approx(14.3))]


def test_at_its_rated_supply_a_rail_has_its_rated_volts():
    low, high = rails(expected(spread_percent=10))[-1]

    assert (low, high) == (pytest.approx(288), pytest.approx(352))


def test_below_the_diodes_drop_there_is_no_rail():
    assert rails(expected(rail_volt=10, settings_volt=[20])) == [(0.0, 0.0)]


def test_a_regulated_rail_stands_once_its_regulator_has_headroom():
    # derived: 15 + 2 + 1.4 V of 22 + 1.4 V: from 78.6 % of 230 V, 180.9 V
    answer = expected(
        rail_volt=15, stage="regulated", raw_volt=22, spread_percent=0,
        settings_volt=[115, 180, 181, 230],
    )  # fmt: skip

    assert answer.value.regulates_from_volt == pytest.approx(180.85, abs=0.01)
    volts = [low for low, _high in rails(answer)]
    assert volts[0] == pytest.approx(23.4 * 0.5 - 1.4 - 2)
    assert volts[1] < 15
    assert volts[2:] == [15, 15]


def test_a_regulator_that_never_holds_is_told():
    answer = expected(rail_volt=15, stage="regulated", raw_volt=16)

    assert answer.outcome is Outcome.WARN
    assert "never holds" in answer.text


def test_a_negative_rail_has_its_limits_the_other_way_round():
    # derived: the mirror of the positive one
    up = rails(expected(rail_volt=15))
    down = rails(expected(rail_volt=-15))

    assert down == [(-high, -low) for low, high in up]
    assert "-0" not in str(rails(expected(rail_volt=-1, settings_volt=[1])))


def test_behind_a_lamp_the_rail_is_no_higher_than_without():
    bare = rails(expected())
    behind = rails(expected(lamp=LAMP, idle_watt=30))

    assert all(b[1] <= a[1] + 1e-9 and b[0] <= a[0] + 1e-9
               for a, b in zip(bare, behind, strict=True))  # fmt: skip
    assert behind[-1][0] < bare[-1][0]


def test_behind_a_lamp_the_units_volts_are_those_of_the_ramp():
    settings_volt = [57.5, 115, 230]
    ours = expected(lamp=LAMP, idle_watt=30, settings_volt=settings_volt).value.steps
    ramp = work_out("series_lamp.ramp", {
        "idle_watt": 30, "unit_volt": 230, "lamp": LAMP, "settings_volt": settings_volt,
        "kind": "linear",
    }).value.steps  # fmt: skip

    assert [step.unit_volt for step in ours] == [step.unit_volt for step in ramp]


def test_a_cold_valve_rectifier_may_give_nothing():
    # proposed: no rail is asked for below three quarters of full line, as in the ramp's limits
    answer = expected(kind="valve_rectifier", settings_volt=[115, 207])

    assert rails(answer)[0][0] == 0
    assert rails(answer)[1][0] > 0
    assert answer.outcome is Outcome.WARN


def test_a_switch_mode_supply_is_refused():
    answer = expected(kind="switch_mode")

    assert answer.outcome is Outcome.REFUSE
    assert answer.value is None


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({"stage": "regulated"}, "raw_volt"),
        ({"stage": "regulated", "raw_volt": 300}, "raw_volt"),
        ({"lamp": LAMP}, "idle_watt"),
        ({"settings_volt": [115, 115]}, "settings_volt[1]"),
    ],
)
def test_what_is_missing_or_crossed_is_named(fields, field):
    with pytest.raises(BadInput) as refused:
        expected(**fields)

    assert refused.value.field == field


@settings(max_examples=50, deadline=None)
@given(st.floats(3, 400), st.floats(1, 60), st.lists(st.floats(1, 260), min_size=2, max_size=6,
       unique=True), st.sampled_from(["raw", "regulated"]))  # fmt: skip
def test_more_at_the_unit_never_lowers_the_rail(rail, headroom, settings_volt, stage):
    answer = expected(
        rail_volt=rail, stage=stage, raw_volt=rail + headroom, settings_volt=sorted(settings_volt)
    )

    lows = [low for low, _high in rails(answer)]
    assert lows == sorted(lows)
