"""One reading on its way to the shop: named, tried again, dropped when it is too old to help."""

from __future__ import annotations

import time
from datetime import UTC, datetime
from typing import Any, Final

from shop.benches.instruments.instrument import Said
from shop.benches.instruments.shop_client import ShopAway, ShopClient, ShopTrouble
from shop.calc.words import _
from shop.core.ids import new_id

# After half a minute the probes are elsewhere; an old reading on the phone does harm.
GIVE_UP_SECONDS: Final = 30.0
FIRST_WAIT: Final = 0.5
LONGEST_WAIT: Final = 8.0


class Place:
    """Where readings are offered: a bench and a meter, as the shop names them."""

    def __init__(self, client: ShopClient, bench: dict[str, Any], meter: dict[str, Any]) -> None:
        self._client, self.bench, self.meter = client, bench, meter

    def offer(self, said: Said, taken_at: datetime) -> None:
        """Offer a reading, trying again while it is fresh. Raises ShopTrouble."""
        body = {
            "id": str(new_id()),
            "meter": self.meter["code"],
            "quantity": said.function.quantity.value,
            "said": said.text,
            "taken_at": taken_at.isoformat(),
        }
        wait, until = FIRST_WAIT, time.monotonic() + GIVE_UP_SECONDS
        while True:
            try:
                self._client.post(f"benches/{self.bench['id']}/offered-readings/", _now(body))
                return
            except ShopAway:
                if time.monotonic() + wait > until:
                    raise
            time.sleep(wait)
            wait = min(2 * wait, LONGEST_WAIT)


def find_place(client: ShopClient, *, bench: str, meter: str) -> Place:
    """By the name of the bench and the code of the meter. Raises ShopTrouble."""
    benches, meters = (client.get(path)["results"] for path in ("benches/", "meters/"))
    return Place(
        client,
        _one_named(benches, "name", bench, _("bench")),
        _one_named(meters, "code", meter, _("meter")),
    )


def _now(body: dict[str, str]) -> dict[str, str]:
    """The same offer as it is sent at this moment: its id stays, so a repeat is no second one."""
    return {**body, "sent_at": datetime.now(UTC).isoformat()}


def _one_named(rows: list[dict[str, Any]], field: str, wanted: str, what: str) -> dict[str, Any]:
    for row in rows:
        if str(row[field]).casefold() == wanted.casefold():
            return row
    known = "; ".join(
        f"{row[field]} ({row['name']})" if field != "name" else row["name"] for row in rows
    )
    sentence = _(
        "The shop has no {what} “{wanted}”. It has: {known}", what=what, wanted=wanted, known=known
    )
    raise ShopTrouble(sentence)
