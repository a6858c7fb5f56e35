"""`python -m shop meter …`: read an instrument, offer its reading to a bench. Needs no database."""

from __future__ import annotations

import getpass
import os
import socket
import sys
from argparse import Namespace
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime
from gettext import translation
from pathlib import Path

from shop.benches.instruments.arguments import caution, parser
from shop.benches.instruments.errors import InstrumentTrouble
from shop.benches.instruments.functions import BY_KEY
from shop.benches.instruments.instrument import Instrument, Said
from shop.benches.instruments.offering import Place, find_place
from shop.benches.instruments.shop_client import SessionFile, ShopClient, ShopTrouble
from shop.benches.instruments.simulated import SimulatedInstrument, read_script, run_for_ever
from shop.benches.instruments.visa import open_line, plugged_in, visa_address
from shop.benches.instruments.watching import LOOK_SECONDS, each_turn, every, settled
from shop.calc.words import _, speak_through

# In the language of the PC, by LANGUAGE or LANG; English where there is no such file.
LOCALE = Path(__file__).parents[2] / "locale"


def main(arguments: list[str]) -> int:
    """One command of a process of its own, in the language of its PC."""
    speak_through(translation("django", LOCALE, fallback=True).gettext)
    return run(arguments)


def run(arguments: list[str]) -> int:
    """Do one command; trouble is one sentence on stderr. Returns 0, 1 for trouble, 2 for usage."""
    asked = parser().parse_args(arguments)
    try:
        return COMMANDS[asked.command](asked)
    except (InstrumentTrouble, ShopTrouble) as trouble:
        tell(str(trouble))
        return 1
    except KeyboardInterrupt:
        return 0


def tell(sentence: str) -> None:
    print(sentence, file=sys.stderr, flush=True)


def list_instruments(asked: Namespace) -> int:
    found = plugged_in()
    for address in found:
        print(address)
    if not found:
        tell(_("Nothing is plugged in by USB or serial. A LAN instrument is named by its address."))
    return 0


def identify(asked: Namespace) -> int:
    with closing(_instrument(asked)) as instrument:
        who = instrument.identify()
    print(f"{who.maker}, {who.model}, {who.serial}, {who.firmware}")
    return 0


def read(asked: Namespace) -> int:
    with closing(_instrument(asked)) as instrument:
        said = _read(instrument, asked)
    print(f"{said.reading.shown}  ({said.function.key}: {said.text})")
    return 0


def offer(asked: Namespace) -> int:
    """Every reading of the chosen turns goes to the bench. Trouble of one turn is told."""
    client = _signed_in(asked)
    place = find_place(client, bench=asked.bench, meter=asked.meter)
    tell(caution())
    failed = 0
    with closing(_instrument(asked)) as instrument:
        for said in _readings(instrument, asked):
            failed = _offered(place, said)
            if asked.once:
                return failed
    return 1 if asked.once else failed


def _offered(place: Place, said: Said) -> int:
    """Offers one reading and says so; 1 when the shop would not have it."""
    shown = f"{datetime.now().astimezone():%H:%M:%S}  {said.reading.shown}"
    try:
        place.offer(said, datetime.now(UTC))
    except ShopTrouble as trouble:
        tell(f"{shown}  {trouble}")
        return 1
    offered = _("offered to {bench}", bench=place.bench["name"])
    print(f"{shown}  {offered}", flush=True)
    return 0


def _readings(instrument: Instrument, asked: Namespace) -> Iterator[Said]:
    """The readings to offer, by the options."""

    def once() -> Said:
        return _read(instrument, asked)

    if asked.once:
        return each_turn([None], once, tell)
    if asked.every:
        return each_turn(every(asked.every), once, tell)
    if asked.settled:
        return settled(each_turn(every(LOOK_SECONDS), once, tell), within=asked.settled)
    tell(_("Press Enter to read and offer; end with Ctrl-C."))
    return each_turn(sys.stdin, once, tell)


def simulate(asked: Namespace) -> int:
    try:
        script = read_script(asked.says)
        run_for_ever(SimulatedInstrument(script, noise=asked.noise), asked.port)
    except ValueError as error:
        tell(str(error))
        return 2
    except OSError as error:
        tell(_("Port {port} cannot be used: {why}", port=asked.port, why=error.strerror or error))
        return 1
    return 0


def sign_out(asked: Namespace) -> int:
    """The file stays: it holds the id under which this PC is enrolled."""
    _client(asked).sign_out()
    return 0


COMMANDS = {
    "list": list_instruments, "identify": identify, "read": read, "offer": offer,
    "simulate": simulate, "sign-out": sign_out,
}  # fmt: skip


def _instrument(asked: Namespace) -> Instrument:
    address = visa_address(asked.at)
    return Instrument(lambda: open_line(address, patience=asked.patience, baud=asked.baud))


def _read(instrument: Instrument, asked: Namespace) -> Said:
    if asked.quantity is None:
        return instrument.read_as_set()
    return instrument.measure(BY_KEY[asked.quantity])


def _client(asked: Namespace) -> ShopClient:
    return ShopClient(asked.shop, SessionFile(asked.session), asked.ca)


def _signed_in(asked: Namespace) -> ShopClient:
    """Goes on with the session that is kept, or asks for the password."""
    client = _client(asked)
    if client.who() is not None:
        return client
    if not asked.username:
        raise ShopTrouble(_("Nobody is signed in on this PC: say who with --as."))
    name = client.sign_in(asked.username, _password(asked.username), _("PC {name}", name=_host()))
    tell(_("Signed in as {name}.", name=name))
    return client


def _password(username: str) -> str:
    kept = os.environ.get("METER_PASSWORD")
    return kept if kept is not None else getpass.getpass(_("Password of {name}: ", name=username))


def _host() -> str:
    return socket.gethostname()[:40]
