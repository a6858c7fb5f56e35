"""An instrument is read through PyVISA and a socket, and every fault is one clear sentence."""

import socket
import threading
from contextlib import closing, contextmanager

import pytest

from shop.benches.instruments.errors import (
    CannotOpen,
    Garbage,
    InstrumentRefused,
    InstrumentTrouble,
    NoAnswer,
    WrongFunction,
)
from shop.benches.instruments.functions import BY_KEY, FUNCTIONS, function_named
from shop.benches.instruments.instrument import Instrument
from shop.benches.instruments.simulated import SimulatedInstrument, simulated
from shop.benches.instruments.visa import open_line, visa_address
from shop.calc.quantities import Quantity

VOLTS = BY_KEY["voltage_dc"]


@contextmanager
def opened(address, patience=0.4):
    instrument = Instrument(lambda: open_line(address, patience=patience, baud=9600))
    with closing(instrument):
        yield instrument


@contextmanager
def saying(*values, key="voltage_dc", noise=0.0):
    """A simulated instrument that says these values in turn, opened."""
    with (
        simulated(SimulatedInstrument({key: values}, noise=noise)) as address,
        opened(address) as instrument,
    ):
        yield instrument


def test_it_says_who_it_is():
    with saying("1") as instrument:
        assert instrument.identify().model == "SIMULATED METER"


@pytest.mark.parametrize("function", FUNCTIONS, ids=lambda one: one.key)
def test_each_function_is_read_as_its_quantity_in_the_base_unit(function):
    with saying("0.0125", key=function.key) as instrument:
        said = instrument.measure(function)

    assert (said.text, said.reading.text) == ("+1.25000000E-02", "0.0125")
    assert said.function.quantity in Quantity


def test_left_as_its_keys_set_it_the_function_is_asked_for():
    with saying("0.16", key="current_ac") as instrument:
        said = instrument.read_as_set()

    assert (said.function.key, said.reading.shown) == ("current_ac", "160 mA")


@pytest.mark.parametrize(
    ("fault", "trouble", "words"),
    [
        ("silent", NoAnswer, "no whole answer to MEAS:VOLT:DC?"),
        ("cut", NoAnswer, "no whole answer"),
        ("garbage", Garbage, "no number"),
        ("bytes", Garbage, "no text"),
        ("error", InstrumentRefused, "-240"),
    ],
)
def test_a_fault_is_told_and_spoils_no_later_reading(fault, trouble, words):
    with saying("4.987", fault, "4.988") as instrument:
        instrument.measure(VOLTS)

        with pytest.raises(trouble, match=words):
            instrument.measure(VOLTS)

        assert instrument.measure(VOLTS).reading.text == "4.988"


def test_a_function_it_does_not_have_is_told_by_its_own_error():
    # -113 is an undefined header: SCPI-1999 volume 2, 21.8.9.
    with saying("4.987") as instrument, pytest.raises(WrongFunction, match="-113"):
        instrument.measure(BY_KEY["capacitance"])


def test_half_a_line_never_becomes_part_of_the_next_reading():
    """`+4.98` and later `7.000` are not `+4.987.000`, and not 4.987 either."""
    with saying("cut", "7") as instrument:
        with pytest.raises(NoAnswer):
            instrument.measure(VOLTS)

        assert instrument.measure(VOLTS).reading.text == "7"


def test_what_was_wrong_before_it_was_opened_is_not_held_against_it():
    simulation = SimulatedInstrument({"voltage_dc": ["1"]})
    simulation.answer("NONSENSE")

    with simulated(simulation) as address, opened(address) as instrument:
        assert instrument.measure(VOLTS).reading.text == "1"


def test_noise_moves_a_reading_by_about_its_size():
    with saying("5", noise=0.001) as instrument:
        values = [instrument.measure(VOLTS).reading.si for _turn in range(50)]

    assert 4.99 < min(values) < 5 < max(values) < 5.01


def test_nobody_there_is_said_at_once():
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        address = f"TCPIP0::127.0.0.1::{taken.getsockname()[1]}::SOCKET"

        with opened(address) as instrument, pytest.raises(InstrumentTrouble):
            instrument.identify()


def test_an_instrument_that_vanishes_in_between_is_found_again():
    simulation = SimulatedInstrument({"voltage_dc": ["1"]})
    with simulated(simulation) as address, opened(address) as instrument:
        instrument.measure(VOLTS)
        port = int(address.split("::")[2])
    with pytest.raises(InstrumentTrouble):
        instrument.measure(VOLTS)

    with simulated(simulation, port), closing(instrument):
        assert instrument.measure(VOLTS).reading.text == "1"


def test_a_queue_of_errors_without_end_does_not_hold_it_up():
    with (
        never_ending() as address,
        opened(address) as instrument,
        pytest.raises(InstrumentRefused, match="-310"),
    ):
        instrument.measure(VOLTS)


@contextmanager
def never_ending():
    """Answers every query with the same error."""
    with socket.create_server(("127.0.0.1", 0)) as server:
        thread = threading.Thread(target=_complain, args=(server,), daemon=True)
        thread.start()
        yield f"TCPIP0::127.0.0.1::{server.getsockname()[1]}::SOCKET"
    thread.join(5)


def _complain(server):
    connection, _address = server.accept()
    with connection, connection.makefile("r") as lines:
        for line in lines:
            if "MEAS" in line:
                connection.sendall(b"+1.0E+00\n")
            elif "?" in line:
                connection.sendall(b'-310,"System error"\n')


@pytest.mark.parametrize(
    ("where", "address"),
    [
        ("socket:192.0.2.7", "TCPIP0::192.0.2.7::5025::SOCKET"),
        ("socket:meter.example:5555", "TCPIP0::meter.example::5555::SOCKET"),
        ("lan:192.0.2.7", "TCPIP0::192.0.2.7::inst0::INSTR"),
        ("serial:/dev/ttyUSB0", "ASRL/dev/ttyUSB0::INSTR"),
        ("serial:COM3", "ASRL3::INSTR"),
        ("TCPIP0::192.0.2.7::hislip0::INSTR", "TCPIP0::192.0.2.7::hislip0::INSTR"),
        ("usb", "USB0::1::2::A::INSTR"),
        ("serial", "ASRL/dev/ttyS0::INSTR"),
    ],
)
def test_a_place_is_a_visa_address(where, address):
    found = ["USB0::1::2::A::INSTR", "ASRL/dev/ttyS0::INSTR"]

    assert visa_address(where, found=found) == address


@pytest.mark.parametrize(
    ("where", "found", "words"),
    [
        ("usb", [], "plugged in"),
        ("usb", ["USB0::1::2::A::INSTR", "USB0::1::2::B::INSTR"], "More than one"),
        ("socket:host:99999", [], "no port"),
        ("socket:", [], "no place"),
        ("upstairs", [], "no place"),
    ],
)
def test_a_place_that_is_none_is_told(where, found, words):
    with pytest.raises(CannotOpen, match=words):
        visa_address(where, found=found)


@pytest.mark.parametrize(
    ("said", "key"),
    [
        ('"VOLT:DC"', "voltage_dc"),
        ('"VOLT"', "voltage_dc"),
        ("'SENS:CURR:AC'", "current_ac"),
        ('"FRESISTANCE"', "resistance_four_wire"),
        ("VOLT:AC 1", "voltage_ac"),
    ],
)
def test_the_function_in_an_answer_is_known_in_short_and_in_long(said, key):
    assert function_named(said).key == key


@pytest.mark.parametrize("said", ["", '"CONT"', "VOLTS", '"VOLT:DC:RAT"'])
def test_a_function_that_makes_no_reading_is_none(said):
    assert function_named(said) is None
