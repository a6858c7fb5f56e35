"""The words of `python -m shop meter`."""

from __future__ import annotations

import argparse
import os
from pathlib import Path
from typing import TYPE_CHECKING, Final

from shop.benches.instruments.functions import FUNCTIONS
from shop.benches.instruments.shop_client import default_session_file
from shop.benches.instruments.simulated import FAULTS, WORDS
from shop.benches.instruments.visa import SOCKET_PORT
from shop.calc.words import _

PLACES: Final = (
    "usb | serial:/dev/ttyUSB0 | lan:192.0.2.7 | socket:192.0.2.7[:5025] | a VISA address"
)
MOST_SECONDS: Final = 3600.0
if TYPE_CHECKING:
    Commands = argparse._SubParsersAction[argparse.ArgumentParser]


def caution() -> str:
    """What is said wherever a reading is taken."""
    return _(
        "Discharge the unit and clip the probes on while it is dead, power it, read, power it "
        "down, then take the probes off. Nothing here makes live probing safe: mains and stored "
        "charge kill, and local codes and licensed practice come first."
    )


def parser() -> argparse.ArgumentParser:
    """All commands with their options."""
    top = argparse.ArgumentParser(
        prog="python -m shop meter",
        description=_("Read an instrument that speaks SCPI and offer its reading to a bench."),
        epilog=caution(),
    )
    commands = top.add_subparsers(dest="command", required=True)
    commands.add_parser("list", help=_("what is on USB and on serial ports of this PC"))
    identify = _command(commands, "identify", _("ask an instrument who it is"))
    read = _command(commands, "read", _("read an instrument and print it"))
    offer = _command(commands, "offer", _("read it and offer the reading to a bench"))
    for command in (identify, read, offer):
        _add_place(command)
    for command in (read, offer):
        _add_quantity(command)
    _add_shop(offer)
    _add_turns(offer)
    _add_simulate(_command(commands, "simulate", _("stand in for an instrument, on this PC only")))
    leave = _command(commands, "sign-out", _("end the session that is kept on this PC"))
    _add_server(leave)
    return top


def _command(commands: Commands, name: str, what: str) -> argparse.ArgumentParser:
    return commands.add_parser(name, help=what, description=what, epilog=caution())


def _add_place(command: argparse.ArgumentParser) -> None:
    command.add_argument("--at", required=True, metavar="PLACE", help=PLACES)
    command.add_argument(
        "--patience", type=seconds, default=5.0, metavar="SECONDS", help=_("for one answer (5)")
    )
    command.add_argument("--baud", type=int, default=9600, help=_("of a serial line (9600)"))


def _add_quantity(command: argparse.ArgumentParser) -> None:
    keys = [function.key for function in FUNCTIONS]
    command.add_argument(
        "--quantity", choices=keys, metavar="QUANTITY",
        help=_("one of {all}; left out: as the instrument is set by its keys", all=", ".join(keys)),
    )  # fmt: skip


def _add_server(command: argparse.ArgumentParser) -> None:
    shop = os.environ.get("METER_SHOP")
    command.add_argument(
        "--shop", default=shop, required=shop is None, help=_("its address, https://… (METER_SHOP)")
    )
    command.add_argument(
        "--ca", type=Path, metavar="FILE", help=_("the certificate authority of the shop")
    )
    command.add_argument(
        "--session", type=Path, default=default_session_file(), metavar="FILE",
        help=_("where the session is kept"),
    )  # fmt: skip


def _add_shop(command: argparse.ArgumentParser) -> None:
    _add_server(command)
    command.add_argument(
        "--as", dest="username", help=_("who signs in; the password is asked for (METER_PASSWORD)")
    )
    command.add_argument("--bench", required=True, help=_("its name"))
    command.add_argument("--meter", required=True, metavar="CODE", help=_("the meter's code"))


def _add_turns(command: argparse.ArgumentParser) -> None:
    turns = command.add_mutually_exclusive_group()
    turns.add_argument("--once", action="store_true", help=_("one reading, then end"))
    turns.add_argument(
        "--every", type=seconds, metavar="SECONDS", help=_("one every so many seconds")
    )
    turns.add_argument(
        "--settled", type=share, nargs="?", const=0.005, metavar="PERCENT",
        help=_("each value once, when four in a row agree within so many per cent (0.5)"),
    )  # fmt: skip


def _add_simulate(command: argparse.ArgumentParser) -> None:
    command.add_argument("--port", type=int, default=SOCKET_PORT, help=f"({SOCKET_PORT})")
    command.add_argument(
        "--noise", type=float, default=0.0, help=_("standard deviation, in the base unit")
    )
    command.add_argument(
        "says", nargs="*", default=["voltage_dc=4.987"], metavar="QUANTITY=VALUE,…",
        help=_("what it says in turn: numbers or {all}", all=", ".join([*WORDS, *FAULTS])),
    )  # fmt: skip


def seconds(text: str) -> float:
    """A time above nothing. Raises what argparse tells as a wrong argument."""
    value = float(text)
    if not 0 < value <= MOST_SECONDS:
        raise argparse.ArgumentTypeError(
            _("{text} is not between 0 and {most:g} s", text=text, most=MOST_SECONDS)
        )
    return value


def share(text: str) -> float:
    """A share from per cent."""
    value = float(text) / 100
    if not 0 < value < 1:
        raise argparse.ArgumentTypeError(_("{text} is not between 0 and 100 per cent", text=text))
    return value
