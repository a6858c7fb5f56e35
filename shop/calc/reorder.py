"""When to order a part, and how many."""

from __future__ import annotations


def inventory_position(on_hand: int, on_order: int, reserved: int) -> int:
    """On hand + on order - reserved, pieces. Judging by on hand alone orders twice.

    Source: University of Hamburg open course on inventory, lecture 4 (definition).
    """
    return on_hand + on_order - reserved


def is_order_due(position: int, reorder_level: int) -> bool:
    """At the level or below."""
    return position <= reorder_level


def quantity_to_order(position: int, order_up_to: int, pack_size: int = 1, least: int = 1) -> int:
    """Pieces that bring the position up to `order_up_to`: whole packs, at least `least`.

    Nothing if the position is there already. `pack_size` above 0.
    """
    wanted = order_up_to - position
    if wanted <= 0:
        return 0
    wanted = max(wanted, least)
    return -(-wanted // pack_size) * pack_size
