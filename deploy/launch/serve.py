"""The second half of a start, run by the project's own Python: make ready, serve, watch."""

from __future__ import annotations

import fcntl
import os
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import IO

from deploy.launch import books
from deploy.launch.addresses import kept_name, lan_address
from deploy.launch.children import children_of
from deploy.launch.lan_watch import LanWatch
from deploy.launch.options import Options, read_options
from deploy.launch.places import ROOT
from deploy.launch.probe import answers
from deploy.launch.problems import CannotStart, tell
from deploy.launch.supervisor import Supervisor
from deploy.launch.surroundings import Reach, reach_of, shop_environment
from deploy.launch.tls import Tls, ensure_tls
from deploy.launch.welcome import welcome

FIRST_ANSWER_SECONDS = 60.0
WEB_TRIES = 3


def main(words: list[str]) -> int:
    options = read_options(words)
    try:
        with_lock = hold_data_folder(options.data_dir)
        serve(options)
    except CannotStart as problem:
        return tell(problem)
    except KeyboardInterrupt:
        return tell(CannotStart("stopped by hand."))
    with_lock.close()
    return 0


def hold_data_folder(data_dir: Path) -> IO[str]:
    """Two shops on one folder would run two beats; the lock ends with this process.

    Raises CannotStart if another start holds it.
    """
    lock = (data_dir / "running").open("a+")
    try:
        fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        lock.close()
        raise CannotStart(
            f"the data folder {data_dir} is in use by a shop that runs already; "
            "end that one, or use another folder with --data."
        ) from error
    os.set_inheritable(lock.fileno(), False)
    return lock


def serve(options: Options) -> None:
    """Run until a signal comes. Raises CannotStart if the shop does not come up."""
    os.umask(0o077)  # customers' names and photos are for this user only
    kind = books.decide_kind(options.data_dir, demo_wanted=options.demo)
    reach, tls = find_reach(options)
    env = shop_environment(options, reach, is_demo=kind == "demo")
    print("Getting the books ready:", flush=True)
    books.make_ready(options.data_dir, env, is_demo=kind == "demo")
    supervisor = Supervisor(children_of(options, tls), cwd=ROOT, env=env)
    supervisor.listen_for_signals()
    coming_up = ComingUp(options, reach, tls, supervisor)
    supervisor.run(turn(coming_up, LanWatch(options, tls, supervisor) if tls else None))
    if coming_up.failure:
        raise CannotStart(coming_up.failure)
    print("Stopped.", flush=True)


def turn(coming_up: ComingUp, lan_watch: LanWatch | None) -> Callable[[], None]:
    def look() -> None:
        coming_up.look()
        if lan_watch:
            lan_watch.look(datetime.now(UTC))

    return look


def find_reach(options: Options) -> tuple[Reach, Tls | None]:
    if options.lan:
        host, address = kept_name(options.data_dir, options.host), lan_address()
        return reach_of(options, host=host, address=address), ensure_tls(
            options.data_dir / "lan", host, address
        )
    if options.lan_plain:
        return reach_of(options, address=lan_address()), None
    return reach_of(options), None


@dataclass
class ComingUp:
    """Watches for the first answer, then says where the shop is; gives up when web keeps dying."""

    options: Options
    reach: Reach
    tls: Tls | None
    supervisor: Supervisor
    welcomed: bool = False
    failure: str = ""
    begun: float = 0.0

    def look(self) -> None:
        if self.welcomed:
            return
        self.begun = self.begun or time.monotonic()
        web = self.supervisor.children[0]
        late = time.monotonic() - self.begun > FIRST_ANSWER_SECONDS
        if web.process is not None and answers(self.options, self.tls):
            print(welcome(self.options, self.reach, self.tls), flush=True)
            self.welcomed = True
        elif web.failures >= WEB_TRIES or late:
            self.failure = f"the web server does not answer; the reason is at the end of {web.log}."
            self.supervisor.stopping.set()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
