"""Every legal way is found, also with taps on either side of zero, and carries what it says."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.registry import work_out
from shop.calc.windings.phasing import phasing_tests
from shop.calc.windings.sections import Section, Tap, connect
from shop.calc.windings.ways import ways
from shop.calc.working import BadInput, Outcome
from tests.shop.calc.mains_circuits import currents
from tests.shop.calc.test_windings import section

# Taps of real primaries: none, a low one, two, and one on the far side of zero.
TAPS = st.sampled_from([(), (20.0,), (20.0, 90.0), (-10.0,), (-10.0, 90.0)])
VOLTS = st.sampled_from([10.0, 100.0, 110.0, 115.0, 120.0])


def made(drawn):
    return [
        Section(f"S{n}", f"{n}a", f"{n}z", volt, ampere,
                [Tap(f"{n}t{k}", tap) for k, tap in enumerate(taps) if tap < volt])
        for n, (volt, ampere, taps) in enumerate(drawn)
    ]  # fmt: skip


primaries = st.lists(
    st.tuples(VOLTS, st.sampled_from([0.1, 0.3, 1.0]), TAPS), min_size=1, max_size=3
).map(made)


def volts_of(sections):
    return {way.rated_volt for way in ways(sections)}


def far_side():
    return Section("A", "0", "240", 240.0, None,
                   [Tap("10", -10.0), Tap("200", 200.0), Tap("220", 220.0)])  # fmt: skip


# Computed: a primary marked 10-0-200-220-240 serves 200, 210, 220, 230, 240 and 250 V.
def test_a_tap_on_the_far_side_of_zero_adds_its_volts():
    assert volts_of([far_side()]) == {200.0, 210.0, 220.0, 230.0, 240.0, 250.0}


def test_the_far_side_counts_with_every_tap_also_where_few_turns_are_in_use():
    one = Section("A", "0", "240", 240.0, None, [Tap("10", -10.0), Tap("60", 60.0)])

    assert volts_of([one]) == {60.0, 70.0, 180.0, 240.0, 250.0}


def test_such_a_primary_is_set_for_230_volt_between_10_and_220():
    given = {
        "sections": [
            {"name": "A", "start": "0", "finish": "240", "rated_volt": 240.0,
             "taps": [{"terminal": "10", "volt": -10.0}, {"terminal": "200", "volt": 200.0},
                      {"terminal": "220", "volt": 220.0}]}
        ],
        "target_volt": 230.0, "target_hz": 50.0, "plate_hz": [50.0],
    }  # fmt: skip

    value = work_out("windings.for_supply", given).value

    assert value.line_terminals == ["10", "220"]
    assert value.rated_volt == 230


def test_a_tap_near_the_start_leaves_it_out_where_most_of_the_turns_remain():
    one = Section("A", "0", "120", 120.0, None, [Tap("10", 10.0), Tap("110", 110.0)])

    assert volts_of([one]) == {10.0, 100.0, 110.0, 120.0}


def test_sections_with_a_far_side_are_paralleled_and_tested_from_their_real_ends():
    two = [Section(n, f"{n}0", f"{n}1", 110.0, 1.0, [Tap(f"{n}m", -10.0)]) for n in "AB"]

    found = next(way for way in ways(two) if way.rated_volt == 120 and way.mode == "parallel")
    (test,) = phasing_tests(two, found.links, found.line_terminals)

    assert sorted(found.links) == [["A1", "B1"], ["Am", "Bm"]]
    assert test.kind == "parallel"
    assert test.joined == ["Am", "Bm"]
    assert test.read_terminals == ["A1", "B1"]


# Computed: two 110 V sections in parallel with a 10 V section of twice the wire in series.
def test_a_pair_in_parallel_may_stand_in_series_with_a_third_section():
    three = [*(Section(n, f"{n}0", f"{n}1", 110.0, 0.5) for n in "AB"),
             Section("C", "C0", "C1", 10.0, 1.0)]  # fmt: skip

    found = next(way for way in ways(three) if way.mode == "grouped" and way.rated_volt == 120)

    assert found.line_ampere == pytest.approx(1.0)
    assert found.section_amperes == pytest.approx({"A": 0.5, "B": 0.5, "C": 1.0})
    assert found.volt_ampere == pytest.approx(120)


# Computed by hand: two sections of 0-100-120, each alone, in series, and like to like in parallel.
def test_two_tapped_sections_have_every_way_and_no_other():
    two = [Section(n, f"{n}0", f"{n}1", 120.0, None, [Tap(f"{n}t", 100.0)]) for n in "AB"]

    found = sorted((way.mode, way.rated_volt) for way in ways(two))

    assert found == [
        ("parallel", 100.0), ("parallel", 120.0), ("series", 200.0), ("series", 220.0),
        ("series", 240.0), ("single", 100.0), ("single", 120.0),
    ]  # fmt: skip


@given(primaries)
def test_every_sum_of_chosen_sections_is_found_as_a_series(sections):
    wanted = {
        round(sum(one.rated_volt for one in chosen), 6)
        for size in range(1, len(sections) + 1)
        for chosen in combinations(sections, size)
    }

    found = {round(way.rated_volt, 6) for way in ways(sections) if way.mode in ("series", "single")}

    assert wanted <= found


@given(primaries)
def test_every_way_closes_its_loops_to_its_voltage(sections):
    for way in ways(sections):
        joined = connect(sections, way.links, way.line_terminals)

        assert joined.fault == ""
        assert joined.rated_volt == pytest.approx(way.rated_volt, rel=0.01)


@given(primaries)
def test_by_kirchhoffs_laws_no_section_of_any_way_carries_more_than_its_rating(sections):
    ratings = {one.name: one.rated_ampere for one in sections}

    for way in ways(sections)[:12]:
        core, carried = currents(
            sections, way.links, way.line_terminals, way.rated_volt, way.volt_ampere
        )
        assert core == pytest.approx(1, rel=0.005)
        for name in way.sections_used:
            assert carried[name] <= ratings[name] * 1.01
            assert carried[name] == pytest.approx(way.section_amperes[name], rel=0.01)


def test_by_kirchhoffs_laws_a_reversed_pair_drives_more_than_a_hundred_times_its_rating():
    two = [Section(n, f"{n}0", f"{n}1", 115.0, 1.0) for n in "AB"]

    _core, carried = currents(two, [["A1", "B1"]], ["A0", "B0"], 115.0, 0.0)

    assert min(carried.values()) > 100
    assert connect(two, [["A1", "B1"]], ["A0", "B0"]).fault


def test_three_sections_each_near_the_first_but_not_to_each_other_are_not_paralleled():
    volts = (100.0, 99.2, 100.9)
    three = [Section(f"S{n}", f"{n}a", f"{n}z", volt) for n, volt in enumerate(volts)]

    assert not any(way.branches == 3 for way in ways(three))


def test_alike_pairs_are_matched_in_whatever_order_they_stand():
    four = [Section(f"S{n}", f"{n}a", f"{n}z", volt) for n, volt in enumerate((110, 10, 10, 110))]

    assert any(way.mode == "series_parallel" and way.rated_volt == 120 for way in ways(four))


def test_ways_are_ranked_for_a_supply_with_their_error_and_flux():
    given = {
        "sections": [section("A", 115), section("B", 115)],
        "supply_volt": 120.0, "supply_hz": 50.0, "plate_hz": [50.0, 60.0],
    }  # fmt: skip

    answer = work_out("windings.arrangements", given)

    best = answer.value.arrangements[0]
    assert best.mode == "parallel"
    assert best.fit.secondary_error_percent == pytest.approx(4.348, abs=0.001)
    assert best.fit.flux_ratio == pytest.approx(120 / 115)
    assert (best.fit.lowest_volt, best.fit.highest_volt) == pytest.approx((103.5, 121.9))
    assert answer.outcome is Outcome.OK


@pytest.mark.parametrize(
    ("supply", "outcome", "word"),
    [
        (230.0, Outcome.OK, "+0.0 %"),
        (253.0, Outcome.WARN, "+10.0 %"),
        (115.0, Outcome.REFUSE, "not"),
    ],
)
def test_links_to_check_are_judged_on_the_supply(supply, outcome, word):
    given = {
        "sections": [section("A", 115), section("B", 115)],
        "check_links": [["A1", "B0"]], "check_mains": ["A0", "B1"], "supply_volt": supply,
    }  # fmt: skip

    answer = work_out("windings.arrangements", given)

    assert answer.outcome is outcome
    assert word in answer.text
    assert answer.value.checked.rated_volt == 230


def test_a_way_says_from_which_supplies_it_may_be_fed():
    way = ways([Section("A", "A0", "A1", 230.0)])[0]

    assert (way.lowest_volt, way.highest_volt) == pytest.approx((207.0, 243.8))


def test_no_arrangement_fits_a_supply_far_above_all_of_them():
    given = {"sections": [section("A", 115)], "supply_volt": 230.0}

    assert work_out("windings.arrangements", given).outcome is Outcome.REFUSE


@given(primaries, st.sampled_from([100.0, 115.0, 127.0, 230.0]), st.sampled_from([50.0, 60.0]))
def test_a_worse_way_never_stands_before_a_better_one(sections, volt, hertz):
    plain = [
        {"name": s.name, "start": s.start, "finish": s.finish, "rated_volt": s.rated_volt,
         "taps": [{"terminal": t.terminal, "volt": t.volt} for t in s.taps]}
        for s in sections
    ]  # fmt: skip
    given = {
        "sections": plain, "supply_volt": volt, "supply_hz": hertz, "plate_hz": [50.0],
    }  # fmt: skip

    ranked = work_out("windings.arrangements", given).value.arrangements

    grades = [[Outcome.OK, Outcome.WARN, Outcome.REFUSE].index(w.fit.verdict()) for w in ranked]
    assert grades == sorted(grades)


@pytest.mark.parametrize(("tap", "why"), [(130.0, "beyond"), (120.0, "same volts"), (0.0, "same")])
def test_a_tap_beyond_the_finish_or_on_another_point_is_refused(tap, why):
    with pytest.raises(BadInput) as refused:
        work_out("windings.arrangements", {"sections": [section("A", 120, t=tap)]})

    assert refused.value.field == "sections[0].taps"
    assert why in refused.value.reason
