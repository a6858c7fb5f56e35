"""Writes of units and of what the shop knows about their models."""

from shop.units.services.sheets import (
    add_model_sheet,
    give_sheet,
    note_idle_power,
    save_model_sheet,
)
from shop.units.services.units import (
    add_piece,
    add_unit,
    find_unit,
    note_set_for,
    place_unit,
    receive_unit,
    return_pieces,
    rule_on_power,
    set_power,
)

__all__ = [
    "add_model_sheet",
    "add_piece",
    "add_unit",
    "find_unit",
    "give_sheet",
    "note_idle_power",
    "note_set_for",
    "place_unit",
    "receive_unit",
    "return_pieces",
    "rule_on_power",
    "save_model_sheet",
    "set_power",
]
