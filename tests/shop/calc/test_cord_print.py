"""The print on cords, against pages that explain HD 361 and the North American cord types."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.cords.designations import CONDUCTORS, FOR_CORDS, MATERIALS, VOLTS, read_print
from shop.calc.registry import work_out
from shop.calc.working import BadInput, Outcome


def marking(text, **more):
    return work_out("cords.marking", {"marking": text, **more})


# second hand: mardalcables.crunch.help (H07V-U, H07RN-F 3 G 2.5, H03VV-F 2 x 0.75), getclaro.ai
# (3G1.5), cable-world.co.uk/a-guide-to-harmonised-cable-codes (volts and letters)
@pytest.mark.parametrize(
    ("text", "volt", "insulation", "sheath", "cords", "cores", "earth", "mm2"),
    [
        ("H03VV-F 2X0.75", (300, 300), "PVC", "PVC", True, 2, False, 0.75),
        ("H05VV-F 3G1.5", (300, 500), "PVC", "PVC", True, 3, True, 1.5),
        ("H07RN-F 3 G 2,5", (450, 750), "rubber, 60 °C", "neoprene", True, 3, True, 2.5),
        ("H05RR-F 3G0.75mm²", (300, 500), "rubber, 60 °C", "rubber, 60 °C", True, 3, True, 0.75),
        ("h03vvh2-f 2x0.5", (300, 300), "PVC", "PVC", True, 2, False, 0.5),
        ("H07V-U 1,5", (450, 750), "PVC", "", False, None, None, 1.5),
        ("H05V-K", (300, 500), "PVC", "", False, None, None, None),
    ],
)
def test_a_harmonised_print_is_read(text, volt, insulation, sheath, cords, cores, earth, mm2):
    found = read_print(text)

    assert (found.volt, found.insulation, found.sheath) == (volt, insulation, sheath)
    assert (found.is_for_cords, found.cores, found.has_earth) == (cords, cores, earth)
    assert found.area_mm2 == mm2


# second hand: wiki.vintagemachinery.org Electrical-Power-Cord-Type-Designations: SVT, SJT, SPT
# 300 V, ST 600 V; letters of portablecord.info
@pytest.mark.parametrize(
    ("text", "volt", "awg", "cores"),
    [("SVT 18/3", 300, 18, 3), ("SJT 16AWG/3C", 300, 16, 3), ("SJTOW 14/3", 300, 14, 3),
     ("ST 12/3", 600, 12, 3), ("SPT-2 18/2", 300, 18, 2), ("SVT 3x18AWG", 300, 18, 3),
     ("SO", 600, None, None), ("SJ", 300, None, None)],
)  # fmt: skip
def test_a_north_american_print_is_read(text, volt, awg, cores):
    found = read_print(text)

    assert (found.volt[0], found.awg, found.cores) == (volt, awg, cores)


@pytest.mark.parametrize("text", ["NYM-J 3x1.5", "H06VV-F 3G1", "H05XX-F", "18/3", "cord", "--"])
def test_what_is_no_known_print_is_refused(text):
    with pytest.raises(BadInput) as refused:
        marking(text)

    assert (refused.value.field, refused.value.code) == ("marking", "unknown_designation")


# verified: IEC 60335-1 table 11 and NEC table 400.5(A) column B; up to 2 m second hand
@pytest.mark.parametrize(
    ("text", "metres", "ampere"),
    [("H05VV-F 3G0.75", 1.8, 10), ("H05VV-F 3G0.75", 3.0, 6), ("H05VV-F 3G1.0", 3.0, 10),
     ("H05VV-F 3G1.5", 5.0, 16), ("SVT 18/3", 3.0, 10), ("SJT 16/3", 3.0, 13)],
)  # fmt: skip
def test_the_current_allowed_is_that_of_its_table(text, metres, ampere):
    assert marking(text, length_m=metres).value.allowed_ampere == ampere


@pytest.mark.parametrize(
    ("text", "more", "fault"),
    [("H03VVH2-F 2X0.75", {}, "no earth core"), ("H05V-K 1.5", {}, "fixed wiring"),
     ("H05VV-F 3G0.75", {"load_ampere": 8.0}, "6 A allowed"),
     ("H03VV-F 3G0.75", {"supply_volt": 400.0}, "300 V to earth")],
)  # fmt: skip
def test_a_cord_that_does_not_suit_is_told_why(text, more, fault):
    answer = marking(text, **more)

    assert answer.outcome is Outcome.WARN
    assert any(fault in said for said in answer.value.faults)


def test_a_cord_without_earth_suits_a_class_two_unit():
    assert marking("H03VVH2-F 2X0.75", protection_class="II").outcome is Outcome.OK


@given(
    st.sampled_from(sorted(VOLTS)), st.lists(st.sampled_from(sorted(MATERIALS)), min_size=1,
    max_size=2), st.sampled_from(sorted(CONDUCTORS)), st.integers(1, 9), st.booleans(),
    st.sampled_from([0.5, 0.75, 1.0, 1.5, 2.5, 4.0]),
)  # fmt: skip
def test_every_print_that_can_be_put_together_is_read_as_it_was_meant(
    volts, layers, conductor, cores, earth, area
):
    text = f"H{volts}{''.join(layers)}-{conductor} {cores}{'G' if earth else 'X'}{area:g}"

    found = read_print(text)

    assert found.volt == VOLTS[volts]
    assert found.insulation == MATERIALS[layers[0]]
    assert found.is_for_cords is (conductor in FOR_CORDS)
    assert (found.cores, found.has_earth, found.area_mm2) == (cores, earth, area)
