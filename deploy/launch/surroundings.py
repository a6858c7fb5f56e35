"""What the shop's processes find in their environment: its address, its folder, its cookies."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass

from deploy.launch.options import Options


@dataclass(frozen=True)
class Reach:
    """Where the shop answers: its own address and every name a browser may use for it."""

    url: str
    names: tuple[str, ...]
    secure: bool


def reach_of(options: Options, *, host: str | None = None, address: str | None = None) -> Reach:
    """`host` is the name on the network with HTTPS, `address` the machine's own on the network."""
    here = ("localhost", "127.0.0.1", "[::1]")
    if options.lan and host and address:
        return Reach(f"https://{host}:{options.port}", (host, address, *here), secure=True)
    if options.lan_plain and address:
        return Reach(f"http://{address}:{options.port}", (address, *here), secure=False)
    return Reach(f"http://localhost:{options.port}", here, secure=False)


def shop_environment(
    options: Options, reach: Reach, *, is_demo: bool, outer: Mapping[str, str] | None = None
) -> dict[str, str]:
    """The environment of web, worker and beat. What was set outside wins, but for folder and TLS.

    Only the demo takes its own address as PUBLIC_URL: a status link that works inside the shop
    alone is a broken promise to a customer.
    """
    env = dict(os.environ if outer is None else outer)
    env["DATA_DIR"] = str(options.data_dir)
    env["SECURE"] = "true" if reach.secure else "false"
    env.setdefault("ALLOWED_HOSTS", ",".join(reach.names))
    if is_demo:
        env.setdefault("PUBLIC_URL", reach.url)
    return env
