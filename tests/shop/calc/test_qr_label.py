"""Sizes of QR labels; the PyPI package segno is the oracle of versions and capacities."""

import pytest
import segno
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.codes import QrLabelIn, qr_label
from shop.calc.codes.qr_label import ALPHANUMERIC, CAPACITY, version_for
from shop.calc.working import Outcome

FILL = {0: "7", 1: "A", 2: "a"}


# Computed with the library: 20 x A fits version 1 at M, 21 x A needs 2; 14 x a and 15 x a likewise.
@pytest.mark.parametrize(
    ("text", "version"), [("A" * 20, 1), ("A" * 21, 2), ("a" * 14, 1), ("a" * 15, 2)]
)
def test_the_last_character_that_fits_is_the_published_one(text, version):
    assert version_for(text, "M") == version
    assert segno.make(text, error="m", micro=False, boost_error=False).version == version


# ISO/IEC 18004:2015 through segno 1.6.6: each of the 72 capacities, and one more.
@pytest.mark.parametrize("level", "LMQH")
def test_every_capacity_of_versions_1_to_6_agrees_with_the_library(level):
    for version, row in enumerate(CAPACITY[level], 1):
        for mode, most in enumerate(row):
            for length in (most, most + 1):
                text = FILL[mode] * length
                code = segno.make(text, error=level, micro=False, boost_error=False)
                expected = code.version if code.version <= 6 else None
                assert version_for(text, level) == expected
                assert (code.version == version) == (length == most)


capitals = st.text(st.sampled_from(sorted(ALPHANUMERIC)), min_size=1, max_size=154)
small = st.text("aZ9 /", min_size=1, max_size=110)


@given(capitals | small, st.sampled_from("LMQH"))
def test_the_version_of_any_text_agrees_with_the_library(text, level):
    code = segno.make(text, error=level, micro=False, boost_error=False)

    assert version_for(text, level) == (code.version if code.version <= 6 else None)


# Computed with the library: this address at M is version 2, in small letters version 3.
def test_small_letters_cost_one_size_and_are_warned_of():
    capitals = qr_label(QrLabelIn("HTTPS://SHOP.LAN/T/BENCH0042X", distance_millimetre=100))
    small = qr_label(QrLabelIn("https://shop.lan/t/bench0042x", distance_millimetre=100))

    assert (capitals.value.version, small.value.version) == (2, 3)
    assert capitals.outcome is Outcome.OK
    assert any("capitals" in text for text in small.working.cautions)


# Computed: version 2 with its quiet zone is 33 modules.
@pytest.mark.parametrize(
    ("dpi", "dots", "module", "side"),
    [(203, 4, 0.500, 16.5), (203, 3, 0.375, 12.4), (300, 5, 0.423, 14.0)],
)
def test_sizes_on_label_printers_come_out(dpi, dots, module, side):
    value = qr_label(QrLabelIn("A" * 21, "M", dpi, dots)).value

    assert value.module_millimetre == pytest.approx(module, abs=1e-3)
    assert value.label_millimetre == pytest.approx(side, abs=0.05)


# Negative case, qrtool.ch: 10 times the width of a module would be 5 mm here. The others (such as
# imgkilo.com/guides/qr-minimum-size-for-print) take the width of the code.
def test_the_distance_is_ten_times_the_code_and_not_ten_times_a_module():
    answer = qr_label(QrLabelIn("A" * 21))

    assert answer.value.reach_millimetre == pytest.approx(10 * 25 * 0.5, rel=2e-3)
    assert answer.working.disagreements


# qrtool.ch (second-hand): 0.4 mm for a phone in the hand, 0.25 mm for industrial readers.
def test_modules_too_small_for_a_phone_are_warned_of():
    phone = qr_label(QrLabelIn("A", "M", 203, 3, 10))
    reader = qr_label(QrLabelIn("A", "M", 300, 2, 10))

    assert any("0.4 mm" in text for text in phone.working.cautions)
    assert any("0.25 mm" in text for text in reader.working.cautions)


def test_a_text_too_long_for_a_small_label_gets_no_answer():
    assert qr_label(QrLabelIn("a" * 107, "M")).outcome is Outcome.NO_ANSWER
