"""What stands between a cell and its board, what a memory draws, and how a warm shelf ages."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc.cells.diodes import Diode, drop_volt, leakage_ua_at
from shop.calc.cells.drain import DrainIn, drain
from shop.calc.cells.isolation import IsolationIn, charge_budget_ua, isolation
from shop.calc.cells.memory import MemoryIn, MemoryKind, memory
from shop.calc.cells.replacement import (
    ChargePath,
    ReplacementIn,
    least_resistor,
    replacement,
    reverse_current_ma,
)
from shop.calc.cells.storage import Spell, StorageIn, storage
from shop.calc.working import BadInput, Outcome


def a_replacement(**change):
    good = {
        "cell": "CR2032",
        "is_old_rechargeable": True,
        "charge_path": ChargePath.DIODE_AND_RESISTOR,
        "diode": Diode.SILICON,
        "resistor_ohm": 330.0,
        "measured_reverse_ua": 0.0,
    }
    return replacement(ReplacementIn(**(good | change)))


def test_a_primary_cell_on_an_untouched_charge_path_is_blocked():
    answer = a_replacement(charge_path=ChargePath.UNTOUCHED)

    assert answer.outcome is Outcome.REFUSE
    assert answer.value.is_blocked


@pytest.mark.parametrize(
    ("change", "outcome"),
    [
        ({}, Outcome.OK),
        ({"charge_path": ChargePath.OPENED}, Outcome.OK),
        ({"resistor_ohm": 100.0}, Outcome.REFUSE),
        ({"resistor_ohm": None}, Outcome.REFUSE),
        ({"diode": Diode.SCHOTTKY}, Outcome.WARN),
        ({"measured_reverse_ua": None}, Outcome.WARN),
        ({"measured_reverse_ua": 1.0}, Outcome.WARN),
        ({"measured_reverse_ua": 50.0}, Outcome.REFUSE),
        ({"cell": "ER14250"}, Outcome.REFUSE),
        ({"cell": "ER14250", "most_reverse_ma": 10.0}, Outcome.OK),
        ({"cell": "CR2032", "most_reverse_ma": 5.0}, Outcome.REFUSE),
        ({"cell": "NiCd3", "charge_path": ChargePath.UNTOUCHED}, Outcome.OK),
        ({"cell": "NiCd3", "charge_path": ChargePath.OPENED}, Outcome.REFUSE),
    ],
)
def test_what_was_done_about_charging_decides(change, outcome):
    assert a_replacement(**change).outcome is outcome


def test_a_rechargeable_cell_without_a_charge_path_is_a_contradiction():
    with pytest.raises(BadInput, match="charge_path"):
        a_replacement(charge_path=ChargePath.NONE_THERE)


# Computed: 5.25 V rail, 2.0 V empty cell, 130 ohm for 25 mA, 325 ohm for 10 mA.
@pytest.mark.parametrize(("most", "ohm"), [(25, 130), (10, 325)])
def test_the_least_resistor_takes_the_diode_as_shorted(most, ohm):
    assert least_resistor(5.25, 2.0, most) == pytest.approx(ohm)


# A vendor's forum, thread 733036: 4.2 V rail, 0.6 V diode, 3.0 V cell, 15 + 10 ohm: 24 mA.
def test_the_published_reverse_current_comes_out():
    assert reverse_current_ma(4.2, 0.6, 3.0, 25) == pytest.approx(24)


# daycounter.com: 240 mV at 0.1 mA, 320 at 1 mA, 400 at 10 mA (second-hand); 160 mV at 10 uA and
# 83 mV at 1 uA computed with n = 1.35.
@pytest.mark.parametrize(
    ("ampere", "volt"), [(1e-4, 0.240), (1e-3, 0.320), (1e-2, 0.400), (1e-5, 0.160), (1e-6, 0.083)]
)
def test_a_schottky_diode_drops_what_was_published(ampere, volt):
    assert drop_volt(Diode.SCHOTTKY, ampere) == pytest.approx(volt, abs=2e-3)


# Textbook circuit model, Is 2.52 nA, n 1.75 (from memory): about 0.27 V at 1 uA, 0.37 V at 10 uA.
@pytest.mark.parametrize(("ampere", "volt"), [(1e-6, 0.27), (1e-5, 0.37)])
def test_a_silicon_diode_drops_more(ampere, volt):
    assert drop_volt(Diode.SILICON, ampere) == pytest.approx(volt, abs=6e-3)


# discovercircuits.com: about 10 uA at 3 V and 25 degrees, 50 uA at 40. Second-hand.
@pytest.mark.parametrize(("celsius", "leak"), [(25, 10), (40, 50)])
def test_a_schottky_diode_leaks_what_was_published(celsius, leak):
    assert leakage_ua_at(Diode.SCHOTTKY, celsius) == pytest.approx(leak)


# Computed: 1 % of 225 mAh over 5 powered years is 51 nA (the 1 % from memory).
def test_the_leakage_budget_of_a_coin_cell_is_tiny():
    assert charge_budget_ua(225, 0.01, 5) == pytest.approx(0.051, abs=5e-4)


# The trap: a Schottky saves 0.2 V and charges the cell.
def test_a_schottky_saves_volts_and_charges_the_cell():
    silicon = isolation(IsolationIn("CR2032", Diode.SILICON, 10)).value
    schottky = isolation(IsolationIn("CR2032", Diode.SCHOTTKY, 10))

    assert silicon.diode_volt - schottky.value.diode_volt == pytest.approx(0.2, abs=0.02)
    assert silicon.leakage_ua < silicon.budget_ua < schottky.value.leakage_ua
    assert schottky.outcome is Outcome.WARN


# Computed: 325 ohm x 10 uA = 3.3 mV (3.25), so the resistor costs nothing.
def test_the_resistor_of_the_diode_costs_no_volts():
    value = isolation(IsolationIn("CR2032", Diode.SILICON, 10, most_reverse_ma=10)).value

    assert value.least_resistor_ohm == pytest.approx(325)
    assert value.resistor_volt == pytest.approx(3.25e-3)


def test_a_resistor_below_the_least_is_said_and_a_rechargeable_pack_refused():
    answer = isolation(IsolationIn("CR2032", Diode.SILICON, 10, resistor_ohm=100))

    assert answer.outcome is Outcome.WARN
    assert "130 ohm" in answer.text
    with pytest.raises(BadInput, match="cell"):
        isolation(IsolationIn("NiCd3", Diode.SILICON, 10))


# Computed: with 10 kohm uA = mV / 10; a 10 megohm meter across it errs 0.1 %.
def test_ten_kilohm_turn_millivolts_into_microamperes():
    value = drain(DrainIn(0.025)).value

    assert value.low_ua == pytest.approx(2.5, rel=1.1e-3)
    assert value.meter_error_percent == pytest.approx(0.1)
    assert value.high_ua == pytest.approx(2 * value.low_ua)


def test_a_reading_that_starves_the_memory_is_said():
    assert drain(DrainIn(0.4)).outcome is Outcome.WARN


# Data sheets, second-hand: see the source of each row; two chips draw twice as much.
@pytest.mark.parametrize(
    ("kind", "low", "high"),
    [
        (MemoryKind.CMOS_1K_BY_4, 0.01, 10),
        (MemoryKind.CMOS_8K_BY_8, 1, 10),
        (MemoryKind.CMOS_8K_BY_8_LOW_POWER, 0.05, 1),
        (MemoryKind.CMOS_512K_BY_8, 4, 50),
        (MemoryKind.FAST, 250, 250),
    ],
)
def test_memories_draw_what_their_sheets_say(kind, low, high):
    one, two = memory(MemoryIn(kind)).value, memory(MemoryIn(kind, 2)).value

    assert (one.low_ua, one.high_ua, one.memory_volt) == (low, high, 2.0)
    assert (two.low_ua, two.high_ua) == (2 * low, 2 * high)
    assert memory(MemoryIn(kind, 1, 35)).value.high_ua == pytest.approx(2 * high)


# AN1012 Rev 4, 3.2: 1/SL = sum of share / SL. Second-hand formula, numbers computed.
def test_a_warm_quarter_of_the_year_costs_nearly_half_the_shelf_life():
    value = storage(StorageIn(10, [Spell(75, 20), Spell(25, 40)])).value

    assert value.spell_years == pytest.approx([10, 2.5])
    assert value.years == pytest.approx(1 / (0.75 / 10 + 0.25 / 2.5))


@given(st.floats(1, 99), st.floats(0, 60))
def test_the_shelf_life_lies_between_those_of_its_spells(share, celsius):
    value = storage(StorageIn(10, [Spell(share, 20), Spell(100 - share, celsius)])).value

    assert min(value.spell_years) - 1e-9 <= value.years <= max(value.spell_years) + 1e-9


def test_shares_that_do_not_make_a_whole_are_refused():
    with pytest.raises(BadInput, match="spells"):
        storage(StorageIn(10, [Spell(75, 20), Spell(20, 40)]))


# synth-diy.org 2021-June/127112: a 100 mAh pack on 5 V through 1 kohm, about 1 mA, near C/100
# (second-hand); 1.1 mA at 3.9 V computed. A primary cell in its place would be charged with it.
def test_the_trickle_of_a_nickel_pack_is_far_above_what_a_primary_cell_stands():
    trickle = reverse_current_ma(5.0, 0.0, 3.9, 1000)

    assert trickle == pytest.approx(1.1)
    assert trickle * 1000 > charge_budget_ua(225, 0.01, 5) * 10_000
    assert a_replacement(measured_reverse_ua=trickle * 1000).outcome is Outcome.REFUSE


def test_a_leaking_pack_is_warned_of_where_one_was_fitted():
    old, other = a_replacement(), a_replacement(is_old_rechargeable=False)

    assert any("eats copper" in said for said in old.working.cautions)
    assert not any("eats copper" in said for said in other.working.cautions)
