"""The words after `deploy/run.py`."""

from __future__ import annotations

import argparse
import re
from dataclasses import dataclass
from pathlib import Path

from deploy.launch.places import ROOT

HOST_NAME = re.compile(
    r"(?=.{1,253}$)[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?(\.[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?)+"
)


@dataclass(frozen=True)
class Options:
    """What was asked for. `host` is None when no name was given."""

    port: int
    data_dir: Path
    demo: bool
    lan: bool
    lan_plain: bool
    host: str | None

    @property
    def trust_port(self) -> int:
        """The port of the page that explains the certificate, next to the app's own."""
        return self.port + 1 if self.port < 65535 else self.port - 1

    @property
    def listen_on(self) -> str:
        return "0.0.0.0" if self.lan or self.lan_plain else "127.0.0.1"  # noqa: S104 - asked for


def read_options(words: list[str]) -> Options:
    """Raises SystemExit with argparse's own line for words it does not know."""
    found = _parser().parse_args(words)
    if found.host and not found.lan:
        _parser().error("--host names the shop on the local network; use it together with --lan")
    return Options(
        port=found.port,
        data_dir=found.data.expanduser().resolve(),
        demo=not found.no_demo,
        lan=found.lan,
        lan_plain=found.lan_plain,
        host=found.host,
    )


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python3 deploy/run.py",
        description="Set up lampledger, start it and print where to open it.",
        allow_abbrev=False,
    )
    parser.add_argument("--port", type=_port, default=8420, help="where to serve (8420)")
    parser.add_argument("--no-demo", action="store_true", help="an empty shop, without the demo")
    parser.add_argument(
        "--data",
        type=Path,
        default=ROOT / "data",
        metavar="DIR",
        help="what the shop keeps (./data)",
    )
    reach = parser.add_mutually_exclusive_group()
    reach.add_argument(
        "--lan", action="store_true", help="HTTPS for the phones on the local network"
    )
    reach.add_argument(
        "--lan-plain",
        action="store_true",
        help="plain HTTP on the local network: online only, no camera, no queue",
    )
    parser.add_argument(
        "--host", type=_host, metavar="NAME", help="the shop's name on the network, kept once set"
    )
    return parser


def _port(word: str) -> int:
    if not word.isdigit() or not 1024 <= int(word) <= 65535:
        raise argparse.ArgumentTypeError(f"{word!r} is no port from 1024 to 65535")
    return int(word)


def _host(word: str) -> str:
    name = word.lower().rstrip(".")
    if not HOST_NAME.fullmatch(name) or name.replace(".", "").isdigit():
        raise argparse.ArgumentTypeError(f"{word!r} is no host name such as lampledger.local")
    return name
