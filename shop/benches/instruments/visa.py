"""Opening an instrument through PyVISA and its backend in pure Python.

Nothing is searched for on the network: that would call into every room. A LAN instrument is opened
by its address.
"""

from __future__ import annotations

import logging
import re
from typing import TYPE_CHECKING, Any, Protocol

from shop.benches.instruments.errors import CannotOpen, LibraryMissing
from shop.calc.words import _

if TYPE_CHECKING:
    from pyvisa import ResourceManager

SOCKET_PORT = 5025  # registered with IANA for raw SCPI, as `scpi-raw`
OPEN_SECONDS = 5.0


class Line(Protocol):
    """What a connection can do: a whole line out, a whole line in."""

    def write(self, message: str) -> Any: ...

    def read(self) -> str: ...

    def close(self) -> None: ...


def visa_address(where: str, *, found: list[str] | None = None) -> str:
    """The VISA address of a place: `socket:host[:port]`, `lan:host`, `serial:port`, or itself.

    `usb` and `serial` alone stand for the only one plugged in. Raises CannotOpen.
    """
    kind, _colon, rest = where.partition(":")
    if "::" in where:
        return where
    match kind:
        case "socket" if rest:
            host, _colon, port = rest.partition(":")
            return f"TCPIP0::{host}::{_port(port)}::SOCKET"
        case "lan" if rest:
            return f"TCPIP0::{rest}::inst0::INSTR"
        case "serial" if rest:
            return f"ASRL{re.sub(r'^COM', '', rest)}::INSTR"
        case "usb" | "serial":
            return _only(
                "USB" if kind == "usb" else "ASRL", plugged_in() if found is None else found
            )
    raise CannotOpen(
        _(
            "“{where}” is no place of an instrument: write usb, serial:/dev/ttyUSB0, "
            "lan:192.0.2.7, socket:192.0.2.7 or a VISA address.",
            where=where,
        )
    )


def _port(text: str) -> int:
    if not text:
        return SOCKET_PORT
    if text.isdecimal() and 0 < int(text) < 65536:
        return int(text)
    raise CannotOpen(_("“{port}” is no port: it is a number up to 65535.", port=text))


def _only(interface: str, found: list[str]) -> str:
    fitting = [address for address in found if address.startswith(interface)]
    if len(fitting) == 1:
        return fitting[0]
    if not fitting:
        raise CannotOpen(_("No such instrument is plugged in, or this PC may not open it."))
    raise CannotOpen(_("More than one is plugged in: name one of {all}", all=", ".join(fitting)))


def plugged_in() -> list[str]:
    """VISA addresses of what is on USB and on serial ports. Raises LibraryMissing."""
    return [address for kind in sessions().values() for address in kind.list_resources()]


def sessions() -> dict[str, Any]:
    """The kinds of plug that can be looked through here: a PC without libusb has no USB."""
    _manager()
    from pyvisa.constants import InterfaceType
    from pyvisa_py.sessions import Session

    names = {InterfaceType.usb: "usb", InterfaceType.asrl: "serial"}
    there = {
        key[0]: kind for key, kind in Session.iter_valid_session_classes() if key[1] == "INSTR"
    }
    return {name: there[interface] for interface, name in names.items() if interface in there}


def open_line(address: str, *, patience: float, baud: int) -> Line:
    """A connection to an instrument; `patience` in seconds, for one answer. Raises CannotOpen."""
    manager = _manager()
    try:
        opened: Any = manager.open_resource(address, open_timeout=int(OPEN_SECONDS * 1000))
        opened.timeout = patience * 1000
        # One line feed ends a message: IEEE 488.2-1992, 7.5 and 8.5.
        opened.read_termination = opened.write_termination = "\n"
        if address.startswith("ASRL"):
            opened.baud_rate = baud
            _drop_leftovers(opened)
    except Exception as error:  # PyVISA, sockets, pyserial and libusb each have their own
        raise CannotOpen(_why_not(address, error)) from error
    line: Line = opened
    return line


def _drop_leftovers(opened: Any) -> None:
    """What a serial line still holds from before would pass for the next answer."""
    from pyvisa.constants import BufferOperation

    opened.flush(BufferOperation.discard_read_buffer)


def _why_not(address: str, error: Exception) -> str:
    said = str(error).lower()
    if "permission" in said or "access denied" in said:
        return _(
            "This PC may not open {address}: see docs/instruments.md on rights.", address=address
        )
    return _("{address} cannot be opened: is it on, plugged in and free?", address=address)


def _manager() -> ResourceManager:
    try:
        import pyvisa
        import pyvisa_py  # noqa: F401 - PyVISA looks for it by name
    except ImportError as error:
        raise LibraryMissing(
            _("What reads instruments is not installed here: run python3 deploy/bench_pc.py once.")
        ) from error
    # It writes a trace for what we say in a sentence.
    logging.getLogger("pyvisa").setLevel(logging.CRITICAL)
    return pyvisa.ResourceManager("@py")
