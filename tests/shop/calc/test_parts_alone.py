"""Single parts across the mains, each against a published or derived case."""

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.registry import work_out
from shop.calc.voltage_parts.switch import TV_AMPERE
from shop.calc.voltage_parts.thermal_link import CLASS_CELSIUS
from shop.calc.voltage_parts.varistor import SERIES
from shop.calc.working import BadInput, Outcome


def varistor(nominal, **more):
    return work_out("voltage_parts.varistor", {"nominal_volt": nominal, **more})


def capacitor(farad, position, nominal=230.0, hz=50.0, **more):
    given = {"capacitance_farad": farad, "position": position, "nominal_volt": nominal, "hz": hz}
    return work_out("voltage_parts.capacitor", {**given, **more})


def neon(**given):
    return work_out("voltage_parts.neon", given)


# second hand: pe2bz.philpem.me.uk MOV, 220 V + 10 % = 242 V, next 250 V
def test_220_volt_plus_10_percent_wants_the_250_volt_varistor():
    value = varistor(220.0).value

    assert value.upper_limit_volt == pytest.approx(242)
    assert value.wanted.ac_volt == 250


# first two rows second hand (same page), the rest from memory of makers' tables
@pytest.mark.parametrize(
    "row",
    [(95, 125, 150), (115, 150, 171), (130, 170, 200), (150, 200, 240), (175, 225, 270),
     (230, 300, 360), (250, 320, 390), (275, 350, 430), (300, 385, 470), (320, 420, 510)],
)  # fmt: skip
def test_the_series_is_that_of_the_makers(row):
    assert row in [(one.ac_volt, one.dc_volt, one.one_milliampere_volt) for one in SERIES]


# second hand: ewskills.com/circuit-protection/mov, 20 to 30 % above nominal: 276 to 299 V
def test_the_other_margin_stands_beside_it():
    answer = varistor(230.0, high_volt=253.0)

    assert answer.value.wanted.ac_volt == 275
    assert (answer.value.other_low_volt, answer.value.other_high_volt) == pytest.approx((276, 299))
    assert "276 to 299 V" in answer.working.disagreements[0]


# second hand: a varistor maker's FAQ 29A8Z3Y: at least 430 V at 1 mA, on 100 V systems too
def test_line_to_earth_wants_430_volt_at_1_milliampere_even_on_100_volt():
    value = varistor(100.0, high_volt=107.0, is_line_to_earth=True).value

    assert value.wanted.one_milliampere_volt >= 430


# from memory: 130 or 150 V types on 120 V, 275 or 300 V types on 230 and 240 V
@pytest.mark.parametrize(
    ("nominal", "high", "usual"),
    [(120, 126, (130, 150)), (230, 253, (275, 300)), (240, 264, (275, 300))],
)
def test_the_rule_arrives_at_what_is_usual(nominal, high, usual):
    wanted = varistor(float(nominal), high_volt=float(high)).value.wanted

    assert wanted.ac_volt in usual


@pytest.mark.parametrize(
    ("fitted", "verdict", "outcome"),
    [(130.0, "replace", Outcome.WARN), (275.0, "keep", Outcome.OK), (420.0, "check", Outcome.WARN)],
)
def test_a_fitted_varistor_is_judged(fitted, verdict, outcome):
    answer = varistor(230.0, high_volt=253.0, fitted_volt=fitted)

    assert (answer.value.verdict, answer.outcome) == (verdict, outcome)


def test_past_the_series_there_is_no_varistor():
    assert varistor(400.0).outcome is Outcome.NO_ANSWER


@given(st.floats(1, 290))
def test_the_varistor_stands_the_upper_limit_and_the_next_smaller_would_not(nominal):
    value = varistor(nominal).value

    smaller = [one.ac_volt for one in SERIES if one.ac_volt < value.wanted.ac_volt]
    assert value.wanted.ac_volt >= value.upper_limit_volt - 1e-6
    assert all(volt < value.upper_limit_volt for volt in smaller)


# second hand: techoverflow.net/2019/08/07 (IEC 60384-14). X3 from fuhua-cn.com
@pytest.mark.parametrize(
    ("rating", "farad", "volt"),
    [("X1", 4.7e-6, 1845), ("X1", 1e-6, 4000), ("X2", 1e-7, 2500), ("X2", 4e-6, 1250),
     ("X3", 1e-7, 1200), ("Y1", 4.7e-6, 8000), ("Y2", 4e-6, 2500), ("Y2", 4.7e-9, 5000),
     ("Y4", 4.7e-6, 2500)],
)  # fmt: skip
def test_the_impulse_voltage_falls_above_one_microfarad_where_the_class_does(rating, farad, volt):
    value = capacitor(farad, "line_to_line", rating_class=rating).value

    assert value.impulse_volt == pytest.approx(volt, abs=1)


# derived: I = 2 pi f C V
@pytest.mark.parametrize(
    ("nanofarad", "volt", "hz", "milliampere"),
    [(2.2, 230, 50, 0.159), (2.2, 120, 60, 0.100), (4.7, 230, 50, 0.340), (4.7, 120, 60, 0.213),
     (10, 230, 50, 0.723), (10, 120, 60, 0.452)],
)  # fmt: skip
def test_current_to_earth_of_usual_sizes(nanofarad, volt, hz, milliampere):
    value = capacitor(nanofarad * 1e-9, "line_to_earth", float(volt), float(hz)).value

    assert value.leakage_milliampere == pytest.approx(milliampere, abs=0.0006)


@pytest.mark.parametrize(
    ("given", "verdict"),
    [
        ({"rating_class": "X2", "rated_volt": 275.0, "position": "line_to_line"}, "keep"),
        ({"rating_class": "X2", "rated_volt": 125.0, "position": "line_to_line"}, "replace"),
        ({"rating_class": "X3", "rated_volt": 275.0, "position": "line_to_line"}, "check"),
        ({"rated_volt": 630.0, "position": "line_to_line"}, "check"),
        ({"rating_class": "Y2", "rated_volt": 300.0, "position": "line_to_earth"}, "keep"),
        ({"rating_class": "X2", "rated_volt": 300.0, "position": "line_to_earth"}, "replace"),
        ({"rating_class": "Y4", "rated_volt": 150.0, "position": "line_to_earth"}, "replace"),
        ({"rating_class": "Y2", "rated_volt": 300.0, "position": "line_to_earth",
          "protection_class": "II"}, "check"),
        ({"rating_class": "Y1", "rated_volt": 400.0, "position": "line_to_earth",
          "protection_class": "II"}, "keep"),
    ],
)  # fmt: skip
def test_a_capacitor_is_judged_by_its_place_and_its_class(given, verdict):
    given = dict(given)

    answer = capacitor(1e-9, given.pop("position"), high_volt=253.0, **given)

    assert answer.value.verdict == verdict
    assert (answer.outcome is Outcome.OK) is (verdict == "keep")


@pytest.mark.parametrize(
    ("scheme", "limit"), [("en_50678", 0.5), ("iet_4", 0.25), ("iet_5", 5.0), ("asnzs_3760", 1.0)]
)
def test_the_current_is_judged_by_the_scheme_named(scheme, limit):
    value = capacitor(4.7e-9, "line_to_earth", scheme=scheme, protection_class="0").value

    assert (value.scheme, value.limit_milliampere) == (scheme, limit)
    assert value.within_limit is (limit >= 0.374)


def test_the_checklist_uses_the_scheme_named_and_says_when_none_was():
    part = {"kind": "line_to_chassis_capacitor", "capacitance_farad": 1e-8}
    given = {"nominal_volt": 230.0, "hz": 50.0, "parts": [part], "protection_class": "0"}

    named = work_out("voltage_parts.check", {**given, "scheme": "asnzs_3760"})
    unnamed = work_out("voltage_parts.check", given)

    assert (named.value.scheme, named.value.touch_limit_milliampere) == ("asnzs_3760", 1.0)
    assert named.value.leakage_within_limit
    assert (unnamed.value.scheme, unnamed.value.touch_limit_milliampere) == ("en_50678", 0.5)
    assert any("No scheme was named" in said for said in unnamed.working.cautions)
    assert not any("No scheme was named" in said for said in named.working.cautions)


# second hand: studylib.net/doc/25395895: 240 V, 60 V, 2 mA gives 90 kohm, 0.36 W
def test_the_published_neon_resistor_comes_out():
    value = neon(supply_volt=240.0, maintain_volt=60.0, lamp_ampere=0.002).value

    assert value.exact_ohm == pytest.approx(90_000)
    assert value.exact_watt == pytest.approx(0.36)
    assert value.ohm == 91_000


# from memory: 47 to 100 kohm on 120 V, 150 to 270 kohm on 240 V; second hand: strikes near 90 V
def test_usual_resistors_lie_where_the_formula_puts_them():
    low = neon(supply_volt=120.0, lamp_ampere=0.0007).value
    high = neon(supply_volt=240.0, lamp_ampere=0.0007).value

    assert 47_000 <= low.ohm <= 100_000
    assert 150_000 <= high.ohm <= 270_000
    assert low.strikes


def test_a_neon_that_cannot_strike_is_warned_of():
    answer = neon(supply_volt=80.0, strike_volt=110.0)

    assert answer.outcome is Outcome.WARN
    assert not answer.value.strikes


def test_a_resistor_left_from_120_volt_must_go_on_240():
    value = neon(supply_volt=240.0, fitted_ohm=68_000.0).value

    assert value.fitted_may_stay is False


@given(st.floats(100, 400), st.floats(40, 80), st.floats(0.0003, 0.003))
def test_the_resistor_sold_never_passes_more_than_the_lamp_may_have(supply, maintain, ampere):
    value = neon(supply_volt=supply, maintain_volt=maintain, lamp_ampere=ampere).value

    assert value.lamp_ampere <= ampere * (1 + 1e-9)
    assert value.crest_volt == pytest.approx(sqrt(2) * supply * 1.1)


def test_the_rating_plate_says_what_was_worked_out():
    given = {"nominal_volt": 115.0, "hz": [50.0, 60.0], "old_volt": 230.0, "rated_va": 150.0,
             "line_ampere": 1.304, "fuse_mark": "T1.6AL250V", "on": "2026-03-02"}  # fmt: skip

    answer = work_out("voltage_parts.rating_plate", given)

    assert answer.outcome is Outcome.OK
    assert answer.value.lines == [
        "115 V ~ 50/60 Hz", "150 VA", "1.3 A", "Fuse T1.6AL250V", "Converted from 230 V",
        "2026-03-02",
    ]  # fmt: skip
    assert answer.value.beside_fuse == "T1.6AL250V"


@pytest.mark.parametrize(
    ("change", "fault"),
    [({"line_ampere": 2.0}, "not 150 VA"), ({"fuse_mark": "T500mAL250V"}, "below the line"),
     ({"fuse_mark": "T800mAL125V"}, "125 V only")],
)  # fmt: skip
def test_values_that_do_not_agree_are_told_before_they_are_printed(change, fault):
    given = {"nominal_volt": 230.0, "hz": [50.0], "rated_va": 150.0, "line_ampere": 0.652,
             "fuse_mark": "T800mAL250V", **change}  # fmt: skip

    answer = work_out("voltage_parts.rating_plate", given)

    assert answer.outcome is Outcome.WARN
    assert any(fault in said for said in answer.value.faults)


# derived: contacts keep their current, I = W / V
@pytest.mark.parametrize(
    ("old", "new", "verdict", "most"),
    [(117, 120, "keep", 300), (120, 117, "keep", 292.5), (120, 230, "replace", 300),
     (230, 115, "replace", 150)],
)  # fmt: skip
def test_rear_outlets_follow_the_supply(old, new, verdict, most):
    given = {"old_volt": float(old), "new_volt": float(new), "marked_watt": 300.0}

    value = work_out("voltage_parts.rear_outlet", given).value

    assert (value.verdict, value.most_watt) == (verdict, pytest.approx(most))


# from memory: IEC 60085
def test_insulation_classes_have_their_temperatures():
    assert CLASS_CELSIUS == {"A": 105, "E": 120, "B": 130, "F": 155, "H": 180}


@pytest.mark.parametrize(
    ("connection", "linked", "left"),
    [("series", ["A"], []), ("parallel", ["A"], ["B"]), ("parallel", ["A", "B"], []),
     ("series", [], ["A", "B"])],
)  # fmt: skip
def test_in_parallel_each_section_needs_its_own_thermal_link(connection, linked, left):
    given = {"sections": ["A", "B"], "linked": linked, "connection": connection}

    assert work_out("voltage_parts.thermal_link", given).value.unprotected == left


def test_a_linked_section_that_is_not_in_use_is_refused():
    with pytest.raises(BadInput) as refused:
        work_out(
            "voltage_parts.thermal_link",
            {"sections": ["A"], "linked": ["C"], "connection": "series"},
        )

    assert refused.value.field == "linked"


# from memory, low confidence: UL TV-5 5 A and 78 A peak, TV-8 8 A and 117 A
@pytest.mark.parametrize(
    ("given", "verdict"),
    [({"rated_volt": 250.0, "rated_ampere": 4.0, "line_ampere": 1.0}, "keep"),
     ({"rated_volt": 125.0, "rated_ampere": 4.0, "line_ampere": 1.0}, "replace"),
     ({"rated_volt": 250.0, "rated_ampere": 0.5, "line_ampere": 1.0}, "replace"),
     ({"rated_volt": 250.0}, "check"),
     ({"rated_volt": 250.0, "tv_rating": "TV-5", "line_ampere": 5.0,
       "inrush_peak_ampere": 78.0}, "keep"),
     ({"rated_volt": 250.0, "tv_rating": "TV-8", "line_ampere": 5.0,
       "inrush_peak_ampere": 118.0}, "replace")],
)  # fmt: skip
def test_a_switch_is_judged_by_its_marks(given, verdict):
    value = work_out("voltage_parts.switch", {"nominal_volt": 230.0, "high_volt": 253.0, **given})

    assert value.value.verdict == verdict
    assert TV_AMPERE == {"TV-5": (5, 78), "TV-8": (8, 117)}
