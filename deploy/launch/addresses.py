"""Under which address the shop is reached: on this machine, or on the local network."""

from __future__ import annotations

import socket
from pathlib import Path

from deploy.launch.problems import CannotStart

FIRST_NAME = "lampledger.local"


def lan_address() -> str:
    """This machine's IPv4 address on the local network. Nothing is sent to find it.

    Raises CannotStart if the machine has no network.
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # RFC 5737: an address that is nobody's
            address = str(probe.getsockname()[0])
        except OSError:
            address = "127.0.0.1"
    if address.startswith("127."):
        raise CannotStart("this machine has no network address, so phones cannot reach it; "
                          "connect it, or start without --lan.")  # fmt: skip
    return address


def kept_name(data_dir: Path, asked: str | None) -> str:
    """The shop's name on the network, chosen at the first start and then kept.

    A phone keeps its unsent entries per name: under another name they would seem to be gone. So a
    different `--host` is refused until the old name is given up by hand.
    """
    kept = data_dir / "lan" / "host-name"
    if not kept.exists():
        kept.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        kept.write_text(f"{asked or FIRST_NAME}\n")
    name = kept.read_text().strip()
    if asked and asked != name:
        raise CannotStart(
            f"this shop is known to its phones as {name}; entries not yet sent would stay behind "
            f"under that name. Send them all, then move {kept.parent} away to begin as {asked}."
        )
    return name
