"""When a reading is offered: what settles is offered once, trouble is told and passed over."""

from shop.benches.instruments.errors import NoAnswer
from shop.benches.instruments.functions import BY_KEY
from shop.benches.instruments.instrument import Said
from shop.benches.instruments.watching import each_turn, settled
from shop.calc.readings import reading_said


def said(text, key="voltage_dc"):
    function = BY_KEY[key]
    return Said(function, text, reading_said(text, function.quantity))


def offered(*texts, within=0.005):
    return [one.text for one in settled(map(said, texts), within=within)]


def test_a_value_is_offered_once_when_four_in_a_row_agree():
    assert offered("1", "3", "4.98", "4.99", "4.99", "4.98", "4.99", "4.98") == ["4.98"]


def test_another_is_offered_after_it_moved_away():
    assert offered(*["5"] * 5, "0", *["12"] * 5) == ["5", "12"]


def test_what_never_rests_is_never_offered():
    assert offered("1", "2", "3", "4", "5", "6", "7") == []


def test_open_probes_are_offered_once_as_over_range_and_no_number_never():
    assert offered(*["9.9E37"] * 8) == ["9.9E37"]
    assert offered(*["9.91E37"] * 8) == []


def test_zero_settles_as_well():
    assert offered(*["0"] * 4) == ["0"]


def test_a_turn_with_trouble_is_told_and_passed_over():
    told, turns = [], iter([said("1"), NoAnswer("silence"), said("2")])

    def read():
        one = next(turns)
        if isinstance(one, NoAnswer):
            raise one
        return one

    readings = [one.text for one in each_turn(range(3), read, told.append)]

    assert (readings, told) == (["1", "2"], ["silence"])
