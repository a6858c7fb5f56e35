"""The drawing of an arrangement says what the arrangement is, and keeps its lines apart."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.registry import work_out
from shop.calc.windings.draw import draw, shortened
from shop.calc.windings.sections import Section, Tap
from tests.shop.calc.test_windings import dual

NAMES = "ABCD"


def tapped(taps=(100.0, 105.0, 110.0, 117.0)):
    return [
        Section(n, f"{n}0", f"{n}1", 120.0, None, [Tap(f"{n}t{v:g}", v) for v in taps])
        for n in NAMES
    ]


def terminals(drawing):
    """Height of every terminal by the name beside it."""
    names = [label for label in drawing.labels if label.kind == "terminal"]
    heights = [dot.y for dot in drawing.dots if dot.kind == "terminal"]
    assert [label.y + 4 for label in names] == heights
    return {label.text: height for label, height in zip(names, heights, strict=True)}


def joined(drawing, one, other):
    """Whether link lines lead from one terminal to the other; lines meet at joints only."""
    heights = terminals(drawing)
    tracks = [line for line in drawing.lines if line.kind == "link" and line.x1 == line.x2]
    joints = {(dot.x, dot.y) for dot in drawing.dots if dot.kind == "joint"}
    return any(
        {(track.x1, heights[one]), (track.x1, heights[other])} <= joints
        and track.y1 <= min(heights[one], heights[other])
        and max(heights[one], heights[other]) <= track.y2
        for track in tracks
    )


links_drawn = st.lists(
    st.lists(
        st.sampled_from([f"{n}{end}" for n in NAMES for end in ("0", "1", "t100", "t117")]),
        min_size=2, max_size=2, unique=True,
    ),
    max_size=8,
)  # fmt: skip


@given(links_drawn)
def test_terminals_are_joined_on_the_drawing_exactly_where_links_join_them(links):
    drawing = draw(tapped(), links, ["A0", "D1"])

    groups = {name: {name} for name in terminals(drawing)}
    for one, other in links:
        both = groups[one] | groups[other]
        groups.update(dict.fromkeys(both, both))
    for one in ("A0", "A1", "B0", "Bt100", "C1", "D1"):
        for other in ("At117", "B1", "C0", "Ct100", "D0"):
            assert joined(drawing, one, other) == (other in groups[one])


@given(links_drawn)
def test_no_two_nets_run_over_each_other_and_nothing_leaves_the_drawing(links):
    drawing = draw(tapped(), links, ["A0", "D1"])

    upright = [line for line in drawing.lines if line.kind == "link" and line.x1 == line.x2]
    for place, one in enumerate(upright):
        for other in upright[place + 1 :]:
            assert one.x1 != other.x1 or one.y2 < other.y1 or other.y2 < one.y1
    assert all(0 <= x <= drawing.width for line in drawing.lines for x in (line.x1, line.x2))
    assert all(0 <= y <= drawing.height for line in drawing.lines for y in (line.y1, line.y2))
    assert drawing.width >= 320


def test_four_sections_with_five_taps_are_320_units_wide():
    parallel = [[f"{a}{end}", f"{b}{end}"] for a, b in ("AB", "BC", "CD") for end in ("0", "1")]

    drawing = draw(tapped(), parallel, ["A0", "A1"])

    assert drawing.width == 320
    assert len(terminals(drawing)) == 24


def test_the_mains_lead_to_their_terminals_as_l_and_n():
    drawing = draw(tapped(), [], ["B0", "Bt110"])

    heights = terminals(drawing)
    letters = {label.text: label.y - 4 for label in drawing.labels if label.kind == "mains"}
    mains = sorted(line.y1 for line in drawing.lines if line.kind == "mains")
    assert letters == {"L": heights["B0"], "N": heights["Bt110"]}
    assert mains == sorted(letters.values())


def test_turns_beyond_the_tap_in_use_are_drawn_as_unused_and_the_head_says_so():
    drawing = draw(tapped(), [], ["A0", "At110"])

    heads = [label.text for label in drawing.labels if label.kind == "section"]
    assert heads[0] == "A 110 V of 120 V"
    assert heads[1] == "B 120 V, not used"
    assert [coil.kind for coil in drawing.coils[:5]] == ["winding"] * 3 + ["unused"] * 2


def test_a_tap_on_the_far_side_of_zero_stands_above_the_start():
    one = Section("A", "0", "240", 240.0, None, [Tap("10", -10.0), Tap("220", 220.0)])

    drawing = draw([one], [], ["10", "220"])

    heights = terminals(drawing)
    assert heights["10"] < heights["0"] < heights["220"] < heights["240"]
    assert "-10 V" in {label.text for label in drawing.labels if label.kind == "volt"}
    polarity = [dot for dot in drawing.dots if dot.kind == "polarity"]
    assert len(polarity) == 1
    assert heights["10"] < polarity[0].y < heights["0"]


def test_every_coil_runs_from_one_point_to_the_next():
    drawing = draw(tapped(), [], [])

    heights = sorted(terminals(drawing).values())
    for coil in drawing.coils:
        (begin,) = re.findall(r"M[\d.]+ ([\d.]+)", coil.path)
        turns = [float(step) for step in re.findall(r"0 0 1 0 ([\d.]+)", coil.path)]
        end = float(begin) + sum(turns)
        assert float(begin) in heights
        assert min(abs(end - height) for height in heights) < 0.1


def test_long_names_of_terminals_are_cut_in_their_middle():
    assert shortened("transformer terminal 12 left", 15) == "transfo…12 left"
    assert shortened("P1", 15) == "P1"

    one = Section("A", "transformer terminal 12 left", "transformer terminal 12 right", 230.0)
    width = draw([one], [], [one.start, one.finish]).width
    assert width == 320


def test_a_setting_for_a_supply_is_drawn_beside_the_links_as_found():
    given = {
        "sections": dual(), "target_volt": 120.0, "target_hz": 60.0, "plate_hz": [50.0, 60.0],
        "links_now": [["A1", "B0"]],
    }  # fmt: skip

    value = work_out("windings.for_supply", given).value

    assert joined(value.drawing, "A0", "B0")
    assert joined(value.drawing, "A1", "B1")
    assert not joined(value.drawing, "A1", "B0")
    assert joined(value.drawing_now, "A1", "B0")
    assert value.drawing.title == "Joined: A0–B0, A1–B1; line to A0, neutral to A1."
    assert value.drawing_now.title == "Joined: A1–B0."


def test_only_the_first_arrangements_of_many_are_drawn_and_all_are_counted():
    sections = [
        {"name": s.name, "start": s.start, "finish": s.finish, "rated_volt": 120.0,
         "rated_ampere": 1.0 + n,
         "taps": [{"terminal": t.terminal, "volt": t.volt} for t in s.taps]}
        for n, s in enumerate(tapped())
    ]  # fmt: skip

    value = work_out("windings.arrangements", {"sections": sections}).value

    assert value.total > len(value.arrangements) == 128
    assert [way.drawing is not None for way in value.arrangements].count(True) == 16


@pytest.mark.parametrize("mains", [["A0", "B1"], None])
def test_links_to_check_are_drawn_where_the_mains_are_named(mains):
    given = {"sections": dual()}
    if mains:
        given |= {"check_links": [["A1", "B0"]], "check_mains": mains}

    drawing = work_out("windings.arrangements", given).value.checked_drawing

    assert (drawing is not None) is bool(mains)
