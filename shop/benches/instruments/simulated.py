"""A simulated instrument that speaks SCPI over TCP: for tests, for the demo, to try things out.

It is read through PyVISA like any other. Its values are said in turn; noise and faults on demand.
"""

from __future__ import annotations

import random
import socketserver
import threading
import time
from collections import deque
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from itertools import cycle
from typing import Final

from shop.benches.instruments.functions import BY_KEY, Function, function_named
from shop.calc.words import _

IDENTITY: Final = "LAMPLEDGER,SIMULATED METER,0,1"
OVER_RANGE: Final = "+9.90000000E+37"  # SCPI-1999 volume 1, 7.2.1.4
NOT_A_NUMBER: Final = "+9.91000000E+37"  # the same, 7.2.1.5
WORDS: Final = {"over": OVER_RANGE, "nan": NOT_A_NUMBER}
# Words in place of a value, and what then goes over the line.
FAULTS: Final = ("silent", "cut", "garbage", "bytes", "error")
_UNDEFINED_HEADER: Final = '-113,"Undefined header"'  # SCPI-1999 volume 2, 21.8.9
_HARDWARE_ERROR: Final = '-240,"Hardware error"'  # the same, 21.8.10
MOST_ERRORS: Final = 20


class SimulatedInstrument:
    """What the instrument says. `script`: for each function its values or words, said in turn."""

    def __init__(
        self, script: Mapping[str, Sequence[str]], *, noise: float = 0.0, seed: int = 0
    ) -> None:
        self._values = {key: cycle(values) for key, values in script.items()}
        self._noise, self._chance = noise, random.Random(seed)  # noqa: S311 - noise, no secret
        self._errors: deque[str] = deque(maxlen=MOST_ERRORS)
        self._set_to = BY_KEY[next(iter(script))]
        self._lock = threading.Lock()

    def say(self, key: str, *values: str) -> None:
        """From now on say these values for a function, and be set to it."""
        with self._lock:
            self._values[key] = cycle(values)
            self._set_to = BY_KEY[key]

    def answer(self, message: str) -> bytes | None:
        """What goes over the line after one message; None: nothing at all."""
        with self._lock:
            return self._answer(message.strip().upper().removeprefix(":"))

    def _answer(self, asked: str) -> bytes | None:
        match asked:
            case "*IDN?":
                return _line(IDENTITY)
            case "*CLS":
                self._errors.clear()
            case "SYST:ERR?" | "SYSTEM:ERROR?" | "SYST:ERR:NEXT?":
                return _line(self._errors.popleft() if self._errors else '0,"No error"')
            case "SENS:FUNC?" | "FUNC?":
                return _line(f'"{self._set_to.header}"')
            case "READ?":
                return self._read(self._set_to)
            case "UNIT:TEMP CEL":
                pass
            case _:
                return self._measure(asked)
        return None

    def _measure(self, asked: str) -> bytes | None:
        header = asked.removeprefix("MEAS:").removeprefix("MEASURE:").removesuffix("?")
        function = function_named(header) if asked.endswith("?") and header != asked else None
        if function is None or function.key not in self._values:
            self._errors.append(_UNDEFINED_HEADER)
            return None
        self._set_to = function
        return self._read(function)

    def _read(self, function: Function) -> bytes | None:
        said = next(self._values[function.key])
        match said:
            case "silent":
                return None
            case "cut":
                return b"+4.98"  # and never the line feed
            case "garbage":
                return _line("4.9.8V?")
            case "bytes":
                return b"\xff\xfe\x00\x9d\n"
            case "error":
                self._errors.append(_HARDWARE_ERROR)
                return _line(NOT_A_NUMBER)
        return _line(WORDS.get(said) or self._number(float(said)))

    def _number(self, value: float) -> str:
        """As NR3 with nine digits: IEEE 488.2-1992, 8.7.4."""
        return f"{value + self._chance.gauss(0.0, self._noise):+.8E}"


def _line(text: str) -> bytes:
    return text.encode() + b"\n"


def read_script(words: Sequence[str]) -> dict[str, list[str]]:
    """The script in `voltage_dc=4.987,4.988,over`. Raises ValueError with a sentence."""
    script: dict[str, list[str]] = {}
    for word in words:
        key, _equals, values = word.partition("=")
        if key not in BY_KEY:
            raise ValueError(_("“{key}” is none of {all}.", key=key, all=", ".join(BY_KEY)))
        script[key] = [_checked(value) for value in values.split(",")]
    return script


def _checked(value: str) -> str:
    if value in WORDS or value in FAULTS:
        return value
    try:
        float(value)
    except ValueError as error:
        known = ", ".join([*WORDS, *FAULTS])
        sentence = _("“{value}” is neither a number nor one of {all}.", value=value, all=known)
        raise ValueError(sentence) from error
    return value


class _Talk(socketserver.StreamRequestHandler):
    def handle(self) -> None:
        server = self.server
        assert isinstance(server, SimulatedServer)  # noqa: S101 - what it is made with
        for raw in self.rfile:
            said = server.instrument.answer(raw.decode("ascii", "replace"))
            if said is None:
                continue
            self.wfile.write(said)
            if not said.endswith(b"\n"):
                return  # cut off in the middle of a line


class SimulatedServer(socketserver.ThreadingTCPServer):
    """The simulated instrument on a port of this machine only."""

    allow_reuse_address = True
    daemon_threads = True

    def __init__(self, instrument: SimulatedInstrument, port: int = 0) -> None:
        super().__init__(("127.0.0.1", port), _Talk)
        self.instrument = instrument

    @property
    def address(self) -> str:
        return f"TCPIP0::127.0.0.1::{self.server_address[1]}::SOCKET"


@contextmanager
def simulated(instrument: SimulatedInstrument, port: int = 0) -> Iterator[str]:
    """Runs the instrument; gives its VISA address. Raises OSError if the port is taken."""
    with SimulatedServer(instrument, port) as server:
        thread = threading.Thread(target=server.serve_forever, args=(0.05,), daemon=True)
        thread.start()
        try:
            yield server.address
        finally:
            server.shutdown()
            thread.join(5)


def run_for_ever(instrument: SimulatedInstrument, port: int) -> None:
    """Until Ctrl-C."""
    with simulated(instrument, port) as address:
        says = _(
            "A simulated instrument answers at {address}. End it with Ctrl-C.", address=address
        )
        print(says, flush=True)
        while True:
            time.sleep(3600)
