"""Re-forming: our schedule, and each published procedure as its source has it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.capacitors.reform import ReformIn, reform
from shop.calc.capacitors.reform_procedures import Part, procedures
from shop.calc.working import BadInput, Outcome, Status


def way(name, volt, years=6.0):
    return next(one for one in procedures(Part(volt, years)) if one.name == name)


def minutes(one):
    return [(stage.volt, stage.seconds / 60, (stage.most_seconds or 0) / 60)
            for stage in one.stages]  # fmt: skip


# EIA-815 (1999), second-hand: 100 ohm to 100 V, 1000 ohm above, 1 h at rated volts.
@pytest.mark.parametrize(("volt", "ohm"), [(63, 100), (100, 100), (101, 1000), (450, 1000)])
def test_the_eia_way(volt, ohm):
    one = way("EIA-815 (1999)", volt)

    assert one.resistor_ohm == ohm
    assert minutes(one) == [(volt, 60, 0)]
    assert "1 ohm per volt" in one.remark


# A maker's advice of 1993 on a radio amateurs' page, second-hand: 10 kohm to 75 V, else 100 kohm.
@pytest.mark.parametrize(("volt", "ohm"), [(75, 10e3), (76, 100e3)])
def test_the_makers_way_of_1993(volt, ohm):
    one = way("a maker, 1993", volt)

    assert one.resistor_ohm == ohm
    assert minutes(one) == [(volt, 240, 0)]
    assert "1 mA" in one.remark


# The same page: 1 year fine, 3 test, 4 usually, 10 the end.
@pytest.mark.parametrize(
    ("years", "said"), [(1, "no need"), (3, "test it"), (4, "usually"), (11, "past its end")]
)
def test_how_long_a_part_may_lie_by_that_maker(years, said):
    assert said in way("a maker, 1993", 100, years).remark


# Encyclopaedia: 1 kohm, 1 h. A page (allpcb.com): 1 kohm, 30 min. Both second-hand.
def test_two_ways_through_a_kilohm():
    assert minutes(way("encyclopaedia", 350)) == [(350, 60, 0)]
    assert minutes(way("half an hour", 350)) == [(350, 30, 0)]
    assert way("encyclopaedia", 350).resistor_ohm == way("half an hour", 350).resistor_ohm == 1000


# A collected page: 5 min + 1 min per month. Ten years: 5 + 120.
def test_the_rule_by_months():
    one = way("rule by months", 100, 10)

    assert minutes(one) == [(100, 125, 0)]
    assert one.resistor_ohm is None


# A radio amateurs' list: 450 V, 90 kohm, 5 mA into a short.
def test_the_can_reformer_gives_five_milliampere_and_needs_450_volt():
    one = way("can re-former", 450)

    assert one.short_ampere == pytest.approx(0.005)
    assert one.short_watt == pytest.approx(2.25)
    assert "Not for this part" in way("can re-former", 350).remark
    assert way("can re-former", 350).resistor_ohm is None


# A forum that quotes a bulletin: < 2 yr none, 2-3 yr 30 min, > 3 yr 50, 75, 100 %, 30 min each.
@pytest.mark.parametrize(
    ("years", "stages"),
    [
        (1.9, []),
        (2, [(400, 30, 0)]),
        (3, [(400, 30, 0)]),
        (3.1, [(200, 30, 0), (300, 30, 0), (400, 30, 0)]),
    ],
)
def test_the_drives_of_one_maker(years, stages):
    assert minutes(way("motor drives, A", 400, years)) == stages


# industrialmonitordirect.com: < 12 months none; 30-50 % 1-2 h, 70 % 1-2 h, 100 % 2-4 h.
def test_the_drives_of_a_page_that_disagrees():
    assert way("motor drives, B", 400, 0.9).stages == []
    one = way("motor drives, B", 400, 2.5)
    assert minutes(one) == [(120, 60, 120), (280, 60, 120), (400, 120, 240)]
    assert "must be done" in one.remark
    assert "must" not in way("motor drives, B", 400, 1.5).remark


# A collected page: 100 V steps of 5 to 10 min, then 15 min.
def test_the_drives_in_steps_of_100_volt():
    assert minutes(way("motor drives, C", 350)) == [
        (100, 5, 10), (200, 5, 10), (300, 5, 10), (350, 15, 0),
    ]  # fmt: skip
    assert minutes(way("motor drives, C", 300))[-2:] == [(200, 5, 10), (300, 15, 0)]


# Derived, P = V^2 / R: 450 V on 1 kohm 203 W, on 100 kohm 2.0 W; 63 V on 100 ohm 40 W.
@pytest.mark.parametrize(
    ("name", "volt", "watt"),
    [("encyclopaedia", 450, 203), ("a maker, 1993", 450, 2.0), ("EIA-815 (1999)", 63, 40)],
)
def test_the_watts_in_a_short(name, volt, watt):
    assert way(name, volt).short_watt == pytest.approx(watt, rel=0.02)


# Proposed: 25, 50, 75, 90, 100 %, 30 min each and 60 at the end; idle > 5 yr 10 % and double.
def test_our_schedule():
    short = reform(ReformIn(47e-6, 100, 4)).value
    long = reform(ReformIn(47e-6, 100, 6)).value

    assert [(s.volt, s.seconds / 60) for s in short.schedule] == [
        (25, 30), (50, 30), (75, 30), (90, 30), (100, 60),
    ]  # fmt: skip
    assert [s.volt for s in long.schedule] == [10, 25, 50, 75, 90, 100]
    assert long.total_seconds == (5 * 60 + 120) * 60


# The maker of 1993 and two pages on motor drives: nothing under a year.
def test_a_part_idle_for_months_is_measured_first():
    assert "measure leakage first" in reform(ReformIn(47e-6, 100, 0.5)).text
    assert "measure leakage first" not in reform(ReformIn(47e-6, 100, 1)).text


# Derived, I = V_R / R: 18 V on 100 kohm are 180 uA.
def test_the_current_is_read_on_the_resistor():
    answer = reform(ReformIn(47e-6, 450, 4, supply_volt=225, resistor_volt=18))

    assert answer.value.now.leakage_ampere == pytest.approx(180e-6)
    assert answer.value.now.part_volt == 207
    assert answer.value.now.is_within_modern
    assert "180 µA" in answer.text


def test_a_reading_above_every_limit_says_go_on_only_if_it_falls():
    answer = reform(ReformIn(8e-6, 450, 4, 10e3, supply_volt=225, resistor_volt=180))

    assert answer.value.now.is_within_old is False
    assert "only if it falls" in answer.text


@pytest.mark.parametrize(
    ("sent", "field"),
    [
        ({"resistor_volt": 5.0}, "supply_volt"),
        ({"resistor_volt": 60.0, "supply_volt": 50.0}, "resistor_volt"),
        ({"resistor_volt": 6.0, "supply_volt": 120.0}, "supply_volt"),
    ],
)
def test_a_reading_that_cannot_be_is_refused_at_its_field(sent, field):
    with pytest.raises(BadInput) as refused:
        reform(ReformIn(47e-6, 100, 4, **sent))

    assert refused.value.field == field


@pytest.mark.parametrize(
    ("sent", "outcome"),
    [
        ({"rated_volt": 50.0, "idle_years": 4.0}, Outcome.OK),
        ({"rated_volt": 50.0, "idle_years": 11.0}, Outcome.WARN),
        ({"rated_volt": 350.0, "idle_years": 4.0}, Outcome.WARN),
        ({"rated_volt": 50.0, "idle_years": 4.0, "resistor_ohm": 100.0}, Outcome.WARN),
    ],
)
def test_what_can_hurt_is_warned_of(sent, outcome):
    assert reform(ReformIn(47e-6, **sent)).outcome is outcome


# MIL-HDBK-1131 was not seen: named in the disagreements, no procedure of ours.
def test_a_handbook_that_was_not_seen_is_no_procedure():
    answer = reform(ReformIn(47e-6, 100, 4))

    assert not any("1131" in one.name for one in answer.value.procedures)
    assert any("was not seen" in text for text in answer.working.disagreements)
    assert {one.status for one in answer.value.procedures} == {Status.SECOND_HAND}


@given(st.floats(1, 2000), st.floats(0, 100))
def test_no_step_goes_above_the_rated_voltage_and_steps_only_rise(volt, years):
    value = reform(ReformIn(1e-6, volt, years)).value

    for stages in (value.schedule, *(one.stages for one in value.procedures)):
        steps = [stage.volt for stage in stages]
        assert steps == sorted(steps)
        assert all(step <= volt * (1 + 1e-9) for step in steps)
