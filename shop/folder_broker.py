"""The folder as a broker, for a shop on one machine: kombu's, made safe for several processes.

kombu writes a message under the name by which readers find it, so a reader can take half of it,
and the worker that did ends. Here a message appears whole, by a rename. A table of queues that
is being written just now is read again.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

from kombu.transport import TRANSPORT_ALIASES, filesystem
from kombu.utils.encoding import str_to_bytes
from kombu.utils.json import dumps

from shop.core.ids import new_id

Found = TypeVar("Found")
SCHEME = "shop-folder"
TRIES = 50


def _when_written(read: Callable[[], Found]) -> Found:
    """Read a table that another process may have opened but not yet filled."""
    for _try in range(TRIES):
        try:
            return read()
        except ValueError:
            time.sleep(0.01)
    return read()


class Channel(filesystem.Channel):
    """The folders are made when they are missing, for their owner alone: who writes there works."""

    def __init__(self, *given: Any, **named: Any) -> None:
        super().__init__(*given, **named)
        for folder in (self.data_folder_in, self.data_folder_out, self.control_folder):
            Path(folder).mkdir(mode=0o700, parents=True, exist_ok=True)

    # kombu's own two parents disagree on the name of `payload`.
    def _put(self, queue: Any, payload: Any, **kwargs: Any) -> None:  # type: ignore[override]
        folder = Path(self.data_folder_out)
        id = new_id()  # sorts by time, as readers take the first name first
        unseen = folder / f"{id}.part"
        unseen.write_bytes(str_to_bytes(dumps(payload)))
        unseen.rename(folder / f"{id}.{queue}.msg")

    def get_table(self, exchange: str) -> Any:
        return _when_written(lambda: super(Channel, self).get_table(exchange))

    def _queue_bind(self, *binding: Any) -> None:
        _when_written(lambda: super(Channel, self)._queue_bind(*binding))


class Transport(filesystem.Transport):
    Channel = Channel


TRANSPORT_ALIASES[SCHEME] = f"{__name__}:Transport"
