"""When a reading is offered: once, at each press of Enter, every few seconds, or when it settles.

These are generators of readings: trouble with the instrument is told and the next turn tried,
since a probe that slipped is no reason to stop.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Iterator
from typing import Final

from shop.benches.instruments.errors import InstrumentTrouble
from shop.benches.instruments.instrument import Said

Read = Callable[[], Said]
Tell = Callable[[str], None]
SETTLED_READINGS: Final = 4  # as many in a row agree
LOOK_SECONDS: Final = 0.3


def each_turn(turns: Iterable[object], read: Read, tell: Tell) -> Iterator[Said]:
    """One reading for each turn; trouble is told and that turn passed over."""
    for _turn in turns:
        try:
            said = read()
        except InstrumentTrouble as trouble:
            tell(str(trouble))
            continue
        yield said


def every(seconds: float) -> Iterator[None]:
    """A turn at once, then one every so often, for ever; a slow one delays the next."""
    while True:
        began = time.monotonic()
        yield
        time.sleep(max(0.0, seconds - (time.monotonic() - began)))


def settled(readings: Iterable[Said], *, within: float) -> Iterator[Said]:
    """Each value once, when it has settled: the last four agree within a share of the last.

    Another is offered after it moved away by more than that. Over range settles as well, so that
    an open circuit is told once; what was not measured never does.
    """
    last: list[Said] = []
    offered: Said | None = None
    for said in readings:
        last = [*last, said][-SETTLED_READINGS:]
        is_settled = len(last) == SETTLED_READINGS and all(
            _agree(one, said, within) for one in last
        )
        if not is_settled or (offered is not None and _agree(offered, said, within)):
            continue
        offered = said
        yield said


def _agree(one: Said, other: Said, within: float) -> bool:
    first, second = one.reading, other.reading
    if first.state is not second.state or one.function is not other.function:
        return False
    if first.si is None or second.si is None:
        return first.state == "over_range"
    return abs(first.si - second.si) <= within * max(abs(first.si), abs(second.si))
