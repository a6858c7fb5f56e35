"""Repairs of the last seven months that have left the invented shop, made by a rule."""

from __future__ import annotations

from typing import Final

from shop.insight.demo import sheets_linear as linear
from shop.insight.demo import sheets_special as special
from shop.insight.demo.fixed import pick
from shop.insight.demo.plan import CELL, CONVERSION, LAMP, Plan

_CLOSED_SHEETS: Final = (
    linear.HALL_92, linear.PREAMP, linear.SYNTHESISER, linear.MIXER, special.TUNER,
    special.TAPE_ECHO, special.SWITCH_MODE, special.VALVE_AMPLIFIER, special.DRUM_MACHINE,
)  # fmt: skip
_COMPLAINTS: Final = (
    "Hums.", "One channel is quiet.", "Forgets its settings.", "Does not switch on.",
    "Crackles when warm.", "Shall be set to the mains here.", "A knob is loose.",
)  # fmt: skip
_USES: Final = (
    (("CELL-CR2032", 1, CELL), ("HOLDER-CR2032", 1, CELL), ("LABEL-CELL", 1, CELL)),
    (
        ("FUSE-T80mAL250V", 1, CONVERSION),
        ("LABEL-PLATE", 1, CONVERSION),
        ("VDR-275", 1, CONVERSION),
    ),
    (("ELCO-2200U-35", 2, LAMP), ("RECT-B1A5", 1, LAMP)),
    (("CELL-2xLR6", 1, CELL), ("HOLDER-2xLR6", 1, CELL), ("GROMMET-6", 1, CELL)),
    (("FUSE-T160mAL250V", 1, CONVERSION), ("CAP-100N-X2", 1, CONVERSION)),
    (("ELCO-100U-63", 3, ""), ("REG-5V", 1, "")),
    (("ELCO-47U-450", 2, LAMP),),
    (("CORD-EARTHED-1M8", 1, ""),),
)
CLOSED: Final = 36


def closed_plans() -> list[Plan]:
    """Repairs of the last seven months that have left, oldest first."""
    return [_closed(place) for place in range(CLOSED)]


def _closed(place: int) -> Plan:
    booked = 208 - place * 5.3
    took = 5 + pick(f"took {place}", 22) + (14 if place % 7 == 3 else 0)
    path = {3: "waited_for_parts", 5: "left_declined"}.get(place % 9, "handed_back")
    return Plan(
        path=path,
        booked=booked,
        since=max(booked - took, 1.0),
        sheet=_CLOSED_SHEETS[pick(f"sheet {place}", len(_CLOSED_SHEETS))],
        complaint=_COMPLAINTS[place % len(_COMPLAINTS)],
        tech=("anna", "ben")[place % 2],
        uses=() if path == "left_declined" else _USES[pick(f"uses {place}", len(_USES))],
        due_in=None,
    )
