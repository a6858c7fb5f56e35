"""The fuse of a re-connected primary, against computed and common figures."""

from math import inf, nan

import pytest

from shop.calc.fuses.scale import rated_volt_suffices
from shop.calc.fuses.series import around, nearest
from shop.calc.registry import work_out
from shop.calc.working import BadInput, Outcome


def scaled(mark, old_volt, new_volt, **more):
    return work_out(
        "fuses.scale", {"old_mark": mark, "old_volt": old_volt, "new_volt": new_volt, **more}
    )


# common practice, no source
def test_a_unit_fused_80_milliampere_on_230_volt_takes_160_on_115():
    answer = scaled("T80mAL250V", 230, 115)

    assert answer.outcome is Outcome.OK
    assert answer.value.mark == "T160mAL250V"
    assert answer.value.current_milliampere == 160


@pytest.mark.parametrize(
    ("mark", "old", "new", "exact", "pick", "steps", "residual", "tolerance"),
    [
        # Computed from power balance, I V constant.
        ("T1AL250V", 230, 115, 2000, 2000, 3, 0.0, 1e-9),
        ("T3.15AL250V", 115, 230, 1575, 1600, -3, 1.6, 0.1),
        ("T500mAL250V", 230, 120, 958.333, 1000, 3, 4.3, 0.5),
        ("T1.6AL250V", 230, 100, 3680, 4000, 4, 8.7, 0.5),
    ],
)
def test_scaled_fuses_meet_the_worked_cases(
    mark, old, new, exact, pick, steps, residual, tolerance
):
    value = scaled(mark, old, new).value

    assert value.exact_milliampere == pytest.approx(exact, abs=0.01)
    assert value.current_milliampere == pick
    assert value.steps == steps
    assert value.residual_percent == pytest.approx(residual, abs=tolerance)


# Computed: steps = round(10 lg(V_old / V_new)); how far a pick from T1A then is off in %.
@pytest.mark.parametrize(
    ("old", "new", "steps", "residual"),
    [
        (230, 115, 3, 0), (240, 120, 3, 0), (220, 110, 3, 0), (230, 120, 3, 4), (220, 117, 3, 6),
        (230, 100, 4, 9), (240, 100, 4, 5), (120, 230, -3, -4), (117, 230, -3, -1),
        (115, 230, -3, 0), (110, 230, -3, 5), (120, 240, -3, 0), (100, 230, -4, -9),
        (100, 240, -4, -5), (120, 100, 1, 5), (100, 120, -1, -5), (127, 220, -2, 9),
    ],
)  # fmt: skip
def test_supplies_move_a_fuse_by_the_places_of_the_table(old, new, steps, residual):
    value = scaled("T1AL250V", old, new).value

    assert value.steps == steps
    # The table is for the exact series; its members are rounded by up to 1 %.
    assert value.residual_percent == pytest.approx(residual, abs=1.6)


def test_a_pick_far_from_the_exact_value_shows_both_neighbours_and_warns():
    answer = scaled("T1.6AL250V", 230, 100)

    assert answer.outcome is Outcome.WARN
    assert (answer.value.lower_milliampere, answer.value.higher_milliampere) == (3150, 5000)
    assert answer.value.show_lower
    assert answer.value.show_higher
    assert any("3.15 A" in caution for caution in answer.working.cautions)


def test_a_pick_above_the_exact_value_shows_the_next_lower_member_beside_it():
    answer = scaled("T500mAL250V", 230, 120)

    assert answer.outcome is Outcome.OK
    assert answer.value.show_lower
    assert not answer.value.show_higher
    assert any("800 mA" in caution for caution in answer.working.cautions)


def test_the_middle_of_two_members_is_their_geometric_mean():
    # 200 and 250 mA: mean 223.6 by ratio, 225 by difference.
    assert nearest(224) == 250


def test_the_makers_marking_wins_over_the_computed_fuse():
    answer = scaled("T1AL250V", 230, 115, maker_marking="T1.6AL250V")

    assert answer.outcome is Outcome.OK
    assert answer.value.from_maker
    assert answer.value.mark == "T1.6AL250V"
    assert answer.value.computed_mark == "T2AL250V"


def test_a_makers_marking_two_steps_away_wins_but_warns():
    answer = scaled("T1AL250V", 230, 115, maker_marking="T1.25AL250V")

    assert answer.outcome is Outcome.WARN
    assert answer.value.mark == "T1.25AL250V"
    assert answer.value.steps_from_maker == -2


def test_a_makers_marking_holds_even_where_the_old_fuse_is_unknown():
    given = {"old_volt": 230.0, "new_volt": 115.0, "maker_marking": "T160mAL250V"}

    answer = work_out("fuses.scale", given)

    assert answer.outcome is Outcome.OK
    assert answer.value.mark == "T160mAL250V"
    assert answer.value.computed_mark is None
    assert answer.value.exact_milliampere is None


def test_without_old_fuse_and_makers_marking_there_is_nothing_to_go_by():
    with pytest.raises(BadInput) as refused:
        work_out("fuses.scale", {"old_volt": 230.0, "new_volt": 115.0})

    assert refused.value.field == "old_mark"


def test_a_makers_marking_in_american_ratings_wins_and_is_compared_at_three_quarters():
    answer = scaled("T1AL250V", 230, 115, maker_marking="3A250V")

    assert answer.value.mark == "3A250V"
    assert answer.value.steps_from_maker == 1


def test_a_fuse_that_stays_says_unchanged_in_its_working():
    line = scaled("T1AL250V", 230, 115, position="winding").working.lines[0]

    assert line.formula == "1 A, unchanged"


def test_winding_fuses_stay_and_only_the_common_line_fuse_is_scaled():
    winding = scaled("T1AL250V", 230, 115, position="winding")
    line = scaled("T1AL250V", 230, 115)

    assert winding.value.current_milliampere == 1000
    assert line.value.current_milliampere == 2000


def test_a_primary_that_was_not_reconnected_keeps_its_fuse():
    answer = scaled("T1AL250V", 230, 220, primary_reconnected=False)

    assert answer.value.current_milliampere == 1000


def test_a_125_volt_fuse_does_not_stay_on_230_volt():
    answer = scaled("T2AL125V", 120, 230, supply_high_volt=253)

    assert answer.outcome is Outcome.WARN
    assert answer.value.old_rated_volt_suffices is False
    assert answer.value.rated_volt == 250
    assert answer.value.mark == "T1AL250V"


def test_a_makers_marking_with_too_few_volts_warns():
    answer = scaled("T2AL250V", 120, 230, supply_high_volt=253, maker_marking="T1AL125V")

    assert answer.outcome is Outcome.WARN
    assert any("125 V" in caution for caution in answer.working.cautions)


@pytest.mark.parametrize(
    ("rated", "nominal", "high", "fits"),
    [(250, 230, 253, True), (125, 120, 126, True), (125, 127, 139.7, False), (125, 230, 253, False),
     (250, 240, 264, True), (125, 120, 132, True), (250, 245, 269.5, False)],
)  # fmt: skip
def test_rated_volts_go_by_nominal_voltage_and_upper_limit(rated, nominal, high, fits):
    assert rated_volt_suffices(rated, nominal, high) is fits


def test_a_quick_fuse_is_only_kept_where_the_units_own_marking_says_so():
    answer = scaled("F500mAL250V", 230, 115)

    assert answer.value.characteristic == "F"
    assert any("own marking" in caution for caution in answer.working.cautions)


def test_a_current_past_the_end_of_the_series_is_no_answer():
    answer = scaled("T32mAL250V", 115, 230)

    assert answer.outcome is Outcome.NO_ANSWER
    assert answer.value is None


def test_an_american_rating_counts_as_three_quarters_and_is_never_rounded_up():
    value = scaled("3A125V", 120, 240, old_standard="ul").value

    assert value.exact_milliampere == pytest.approx(1125)
    assert value.current_milliampere == 1000


# UL 248-14 (second-hand): 10 kA at 125 V, 100 A at 250 V for 1.1 to 3.5 A.
def test_an_american_rating_warns_that_it_breaks_less_at_250_volt():
    cautions = scaled("3A125V", 120, 240, old_standard="ul").working.cautions

    assert any("breaks 100 A at 250 V" in caution for caution in cautions)


@pytest.mark.parametrize("field", ["old_volt", "new_volt", "supply_high_volt"])
@pytest.mark.parametrize("value", [nan, inf, -1.0, 0.0, 1e9])
def test_impossible_volts_are_refused_at_their_field(field, value):
    given = {"old_mark": "T1A", "old_volt": 230.0, "new_volt": 115.0, field: value}

    with pytest.raises(BadInput) as refused:
        work_out("fuses.scale", given)

    assert refused.value.field == field


def test_the_old_marking_in_no_series_is_refused_at_its_own_field():
    with pytest.raises(BadInput) as refused:
        scaled("T170mA", 230, 115)

    assert refused.value.field == "old_mark"


def test_a_makers_marking_in_no_series_is_refused_at_its_own_field():
    with pytest.raises(BadInput) as refused:
        scaled("T160mA", 230, 115, maker_marking="T333mA")

    assert refused.value.field == "maker_marking"


def test_an_unknown_field_is_refused():
    with pytest.raises(BadInput):
        scaled("T160mA", 230, 115, colour="blue")


def test_neighbours_end_at_the_ends_of_the_series():
    assert around(32) == (None, 40)
    assert around(20000) == (16000, None)
