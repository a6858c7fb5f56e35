"""A shop that runs for months: its certificate is renewed and its address followed meanwhile."""

from __future__ import annotations

from datetime import datetime, timedelta

from deploy.launch.addresses import lan_address
from deploy.launch.children import children_of
from deploy.launch.options import Options
from deploy.launch.problems import CannotStart
from deploy.launch.supervisor import Supervisor
from deploy.launch.tls import Tls, ensure_tls, leaf_is_due

BETWEEN_LOOKS = timedelta(minutes=10)


class LanWatch:
    """Looks every ten minutes; restarts only what has to know."""

    def __init__(self, options: Options, tls: Tls, supervisor: Supervisor) -> None:
        self.tls = tls
        self._options, self._supervisor = options, supervisor
        self._last_look: datetime | None = None

    def look(self, now: datetime) -> None:
        if self._last_look and now - self._last_look < BETWEEN_LOOKS:
            return
        self._last_look = now
        try:
            self.follow(lan_address(), now)
        except CannotStart as problem:  # no network just now, or the authority ran out: serve on
            print(*problem.lines, sep="\n", flush=True)

    def follow(self, address: str, now: datetime) -> None:
        """Web reads its certificate at its start; the name is answered with the address."""
        wanted = Tls(self.tls.folder, self.tls.host, address)
        renewed = leaf_is_due(wanted, now)
        if not renewed and wanted == self.tls:
            return
        self.tls = ensure_tls(wanted.folder, wanted.host, wanted.address, now)
        commands = {child.name: child.command for child in children_of(self._options, self.tls)}
        for child in self._supervisor.children:
            if child.command != commands[child.name] or (renewed and child.name == "web"):
                self._supervisor.replace(child, commands[child.name])
