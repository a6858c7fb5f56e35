"""What hangs on the parts wall: name, order code, supplier, cost, price, level, up to, pieces."""

from __future__ import annotations

from typing import Final, NamedTuple

SUPPLIERS: Final = (
    # name, mail, customer number, lead days
    ("Bauteilhof Oberleitung", "orders@oberleitung.example", "NL-0417", 3),
    ("Zellenlager Süd", "shop@zellenlager.example", "88-120", 5),
    ("Kabel & Klemme", "desk@kabelklemme.example", "K-77", 6),
)


class Item(NamedTuple):
    name: str
    order_code: str
    supplier: int
    cost_minor: int
    price_minor: int
    reorder_level: int
    order_up_to: int
    on_hand: int


def _fuse(mark: str, on_hand: int, level: int = 5, up_to: int = 20) -> Item:
    return Item(f"Fuse 5 x 20 mm {mark}", f"FUSE-{mark}", 0, 18, 90, level, up_to, on_hand)


FUSES: Final = (
    _fuse("T63mAL250V", 14), _fuse("T80mAL250V", 6), _fuse("T100mAL250V", 17),
    _fuse("T125mAL250V", 12), _fuse("T160mAL250V", 9), _fuse("T200mAL250V", 18),
    _fuse("T250mAL250V", 15), _fuse("T315mAL250V", 7), _fuse("T400mAL250V", 16),
    _fuse("T500mAL250V", 19), _fuse("T630mAL250V", 13), _fuse("T800mAL250V", 11),
    _fuse("T1AL250V", 20), _fuse("T1.6AL250V", 12), _fuse("T2AL250V", 15),
    _fuse("F250mAL250V", 10), _fuse("F500mAL250V", 8), _fuse("F1AL250V", 9),
)  # fmt: skip

CELLS: Final = (
    Item("Cell CR2032", "CELL-CR2032", 1, 55, 250, 6, 30, 8),
    Item("Cell CR2450", "CELL-CR2450", 1, 110, 390, 2, 10, 5),
    Item("Cell ER14250 with wires", "CELL-ER14250", 1, 420, 1100, 2, 6, 3),
    Item("Two AA cells, alkaline", "CELL-2xLR6", 1, 70, 280, 6, 24, 14),
    Item("Two AA cells, lithium", "CELL-2xFR6", 1, 260, 640, 3, 12, 6),
    Item("Battery of three NiCd cells", "CELL-NiCd3", 1, 380, 980, 2, 6, 2),
    Item("Holder for CR2032", "HOLDER-CR2032", 2, 65, 240, 4, 16, 9),
    Item("Holder for two AA cells", "HOLDER-2xLR6", 2, 90, 320, 3, 12, 7),
    Item("Silicon diode, small signal", "DIODE-SILICON-SMALL", 0, 3, 20, 20, 100, 84),
    Item("Resistor 1 kΩ 0.25 W", "RES-1K-0W25", 0, 2, 15, 25, 100, 91),
    Item("Grommet 6 mm", "GROMMET-6", 2, 6, 40, 10, 50, 33),
    Item("Strain relief tie", "TIE-STRAIN", 2, 4, 25, 20, 100, 62),
    Item("Cell label", "LABEL-CELL", 2, 5, 0, 20, 100, 71),
    Item("Rating plate sticker", "LABEL-PLATE", 2, 9, 0, 10, 50, 34),
)

OTHERS: Final = (
    Item("Electrolytic 2200 µF 35 V", "ELCO-2200U-35", 0, 85, 290, 4, 16, 10),
    Item("Electrolytic 1000 µF 25 V", "ELCO-1000U-25", 0, 45, 180, 6, 24, 17),
    Item("Electrolytic 100 µF 63 V", "ELCO-100U-63", 0, 18, 90, 10, 40, 28),
    Item("Electrolytic 47 µF 450 V", "ELCO-47U-450", 0, 310, 890, 3, 10, 5),
    Item("Capacitor 100 nF X2 305 V", "CAP-100N-X2", 0, 32, 140, 5, 20, 12),
    Item("Capacitor 4.7 nF Y2 300 V", "CAP-4N7-Y2", 0, 28, 130, 5, 20, 11),
    Item("Varistor 275 V", "VDR-275", 0, 30, 150, 4, 16, 9),
    Item("Varistor 150 V", "VDR-150", 0, 30, 150, 2, 8, 5),
    Item("Bridge rectifier 1.5 A", "RECT-B1A5", 0, 40, 190, 4, 16, 8),
    Item("Mains cord 1.8 m, earthed", "CORD-EARTHED-1M8", 2, 290, 900, 3, 10, 6),
    Item("Mains cord 1.8 m, two-core", "CORD-TWO-1M8", 2, 210, 720, 2, 8, 4),
    Item("Regulator 5 V 1 A", "REG-5V", 0, 48, 210, 3, 12, 7),
)

ITEMS: Final = (*FUSES, *CELLS, *OTHERS)
# Taken so often that they are at or below their level now; the last has run out.
RUNNING_OUT: Final = {
    "FUSE-T160mAL250V": 4, "CELL-CR2032": 5, "CELL-NiCd3": 1, "ELCO-47U-450": 0,
}  # fmt: skip
