"""Which repairs the invented shop had: one row each, oldest first."""

from __future__ import annotations

from typing import Final, NamedTuple

from shop.insight.demo import sheets_linear as linear
from shop.insight.demo import sheets_special as special
from shop.insight.demo.fixed import pick
from shop.insight.demo.sheet_parts import Facts

CUSTOMERS: Final = (
    "Adele Amsel", "Bruno Birke", "Cosima Clasen", "Detlef Distel", "Elif Efeu", "Frieda Fichte",
    "Gregor Ginster", "Henni Holunder", "Ivo Iltis", "Jette Jasmin", "Kasimir Kiesel",
    "Lotte Linde", "Momo Malve", "Nuria Nelke", "Oskar Otter", "Paula Pappel", "Quirin Quitte",
    "Rosa Raps", "Sami Salbei", "Tilda Tanne", "Ulli Ulme", "Veit Veilchen", "Wanda Weide",
    "Xenia Xylo", "Yusuf Ysop", "Zora Zeder",
)  # fmt: skip

_TO_BENCH: Final = ("looking_over", "awaiting_go_ahead", "on_the_bench")
PATHS: Final[dict[str, tuple[str, ...]]] = {
    "booked_in": (),
    "looking_over": ("looking_over",),
    "awaiting_go_ahead": ("looking_over", "awaiting_go_ahead"),
    "on_the_bench": _TO_BENCH,
    "awaiting_parts": (*_TO_BENCH, "awaiting_parts"),
    "awaiting_other": (*_TO_BENCH, "awaiting_other"),
    "on_test": (*_TO_BENCH, "on_test"),
    "ready": (*_TO_BENCH, "on_test", "ready"),
    "handed_back": (*_TO_BENCH, "on_test", "ready", "handed_back"),
    "waited_for_parts": (
        *_TO_BENCH, "awaiting_parts", "on_the_bench", "on_test", "ready", "handed_back",
    ),
    "declined": ("looking_over", "awaiting_go_ahead", "declined"),
    "left_declined": ("looking_over", "awaiting_go_ahead", "declined", "handed_back"),
    "beyond_repair": ("looking_over", "beyond_repair"),
    "unclaimed": (*_TO_BENCH, "on_test", "ready", "unclaimed"),
}  # fmt: skip


class Plan(NamedTuple):
    """One repair. `booked` and `since` are days ago: booked in, and in its last stage."""

    path: str
    booked: float
    since: float
    sheet: Facts
    complaint: str
    serial: str = ""
    tech: str = "anna"
    set_for: int = 230
    use_at: tuple[str, int, int] = ("DE", 230, 50)
    sounds: str = "none"
    reason: str = ""  # of the last change of stage
    uses: tuple[tuple[str, int, str], ...] = ()  # order code, pieces, template
    short: str = ""  # order code of a part the wall did not hold
    worksheets: tuple[str, ...] = ()  # job templates begun at the bench
    due_in: int | None = 10  # days from now


CONVERSION, CELL, LAMP = "mains-conversion", "backup-cell-swap", "series-lamp-power-up"
_US: Final = ("US", 120, 60)

# The last weeks: what stands in the shop now.
OPEN: Final = (
    Plan("unclaimed", 120, 60, linear.MIXER, "Channel 4 crackles.", due_in=-80),
    Plan("ready", 44, 25, special.TUNER, "Drifts off the station.", tech="ben", due_in=-20),
    Plan(
        "beyond_repair",
        40,
        33,
        special.LIVE_CHASSIS,
        "Smoke after an hour.",
        set_for=220,
        reason="transformer of the field coil burnt, no winding data",
        due_in=None,
    ),
    Plan(
        "declined",
        36,
        20,
        linear.SPRING,
        "Hums loudly.",
        set_for=220,
        due_in=None,
        reason="too dear for the customer",
    ),
    Plan(
        "awaiting_parts",
        26,
        6,
        linear.SYNTHESISER,
        "Dead keys, green crust near the pack.",
        set_for=220,
        sounds="save_first",
        reason="new NiCd pack",
        short="CELL-NiCd3",
        due_in=-2,
    ),
    Plan(
        "awaiting_other",
        24,
        11,
        special.DRUM_MACHINE,
        "Forgets every pattern.",
        tech="ben",
        sounds="save_first",
        reason="customer looks for the tape with the patterns",
        due_in=4,
    ),
    Plan(
        "awaiting_parts",
        22,
        9,
        special.VALVE_AMPLIFIER,
        "Quiet and hums.",
        tech="ben",
        set_for=220,
        reason="anode capacitors",
        short="ELCO-47U-450",
        due_in=5,
    ),
    Plan(
        "on_the_bench",
        20,
        8,
        linear.PREAMP,
        "One side is dead.",
        tech="ben",
        set_for=230,
        serial="880312",
        due_in=-1,
    ),
    Plan("awaiting_go_ahead", 18, 9, special.TAPE_ECHO, "Runs too slowly.", due_in=8),
    Plan("on_test", 17, 4, special.TUNER, "No reception.", tech="ben", set_for=220, due_in=2),
    Plan(
        "ready",
        15,
        2,
        linear.HALL_92,
        "Display dark.",
        serial="930118",
        due_in=1,
        uses=(("ELCO-1000U-25", 2, ""),),
    ),
    Plan("awaiting_go_ahead", 14, 4, special.SWITCH_MODE, "Clicks, does not start.", tech="ben"),
    Plan("on_test", 13, 1, linear.MIXER, "Phantom supply missing.", set_for=220, due_in=3),
    Plan(
        "awaiting_go_ahead",
        11,
        1,
        linear.ONE_VOLTAGE,
        "Bought abroad, to be used here.",
        set_for=117,
        tech="ben",
    ),
    Plan(
        "on_the_bench",
        9,
        3,
        linear.HALL_92,
        "Came from a 230 V country, shall work at 120 V. Programs are gone.",
        serial="920417",
        use_at=_US,
        sounds="save_first",
        worksheets=(CONVERSION, CELL),
        due_in=3,
    ),
    Plan(
        "on_the_bench",
        8,
        2,
        linear.PREAMP,
        "Brought home from a 115 V country, shall work here. Forgets its settings.",
        serial="920088",
        set_for=115,
        sounds="may_be_lost",
        worksheets=(CONVERSION, CELL),
        due_in=4,
    ),
    Plan(
        "on_the_bench",
        7,
        1,
        special.TAPE_ECHO,
        "Stood in a cellar for twenty years.",
        worksheets=(LAMP,),
        due_in=6,
    ),
    Plan(
        "on_the_bench",
        6,
        1,
        linear.MIXER,
        "Fuse blows now and then.",
        set_for=220,
        worksheets=(LAMP,),
        tech="ben",
        due_in=7,
    ),
    Plan("looking_over", 6, 5, special.VALVE_AMPLIFIER, "No sound, one valve dark.", set_for=220),
    Plan(
        "looking_over",
        4,
        1,
        linear.SYNTHESISER,
        "Out of tune when warm.",
        set_for=220,
        tech="ben",
        sounds="save_first",
    ),
    Plan("booked_in", 5, 5, linear.SPRING, "Spring rattles.", set_for=220),
    Plan("booked_in", 2, 2, special.SWITCH_MODE, "Smells of fish.", due_in=14),
    Plan("booked_in", 1, 1, linear.HALL_92, "Left channel only.", serial="911205", due_in=14),
    Plan("booked_in", 0.1, 0.1, special.DRUM_MACHINE, "Pad 3 sticks.", due_in=15),
)

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


def plans() -> list[Plan]:
    return sorted([*closed_plans(), *OPEN], key=lambda plan: -plan.booked)
