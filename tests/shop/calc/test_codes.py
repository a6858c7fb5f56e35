"""Codes on tags, against python-stdnum's ISO/IEC 7064 hybrid systems."""

import json
from pathlib import Path

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_11_10, mod_37_36

from shop.calc.codes import ALPHABET, Code, Kind, check_character, make_code, read_code
from shop.calc.working import BadInput

VECTORS = json.loads((Path(__file__).parents[2] / "vectors/codes.json").read_text())
bodies = st.text(st.sampled_from(ALPHABET), min_size=6, max_size=6)


@pytest.mark.parametrize("row", VECTORS["check"], ids=lambda row: row["body"])
def test_every_check_character_of_the_shared_table_is_made(row):
    assert check_character(row["body"]) == row["check"]


@pytest.mark.parametrize("row", VECTORS["read"], ids=lambda row: repr(row["typed"]))
def test_every_row_of_the_shared_table_is_read_as_written(row):
    if row["error_code"]:
        with pytest.raises(BadInput) as refused:
            read_code(row["typed"])
        assert refused.value.code == row["error_code"]
        return

    assert read_code(row["typed"]) == Code(Kind(row["code"][0]), row["code"])


@given(st.text(st.sampled_from(ALPHABET), min_size=1, max_size=12))
def test_the_check_agrees_with_the_library_over_our_alphabet(body):
    assert check_character(body) == mod_37_36.calc_check_digit(body, alphabet=ALPHABET)


@given(st.text(st.sampled_from("0123456789"), min_size=1, max_size=12))
def test_the_check_agrees_with_mod_11_10(body):
    assert check_character(body, "0123456789") == mod_11_10.calc_check_digit(body)


# Examples printed in python-stdnum 2.2, modules iso7064.mod_37_36 and iso7064.mod_11_10.
@pytest.mark.parametrize(
    ("body", "size", "check"),
    [("A12425GABC1234002", 36, "M"), ("79462", 10, "3"), ("00200667308", 10, "5")],
)
def test_the_printed_examples_come_out(body, size, check):
    assert check_character(body, "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"[:size]) == check


@given(st.sampled_from(Kind), bodies)
def test_every_code_that_is_made_can_be_read(kind, body):
    code = make_code(kind, body)

    assert read_code(code.lower()) == Code(kind, code)


@given(st.sampled_from(Kind), bodies, st.integers(1, 7), st.sampled_from(ALPHABET))
def test_one_wrong_character_is_always_caught(kind, body, place, wrong):
    code = make_code(kind, body)
    assume(code[place] != wrong)

    with pytest.raises(BadInput):
        read_code(code[:place] + wrong + code[place + 1 :])


@pytest.mark.parametrize("body", ["12345", "1234567", "12345U", "12345i"])
def test_a_body_that_does_not_fit_makes_no_code(body):
    with pytest.raises(BadInput):
        make_code(Kind.UNIT, body)
