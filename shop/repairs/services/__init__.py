"""Writes of repairs. Every change of stage goes through `change_stage`."""

from shop.repairs.services.booking import book_in
from shop.repairs.services.desk_work import (
    acknowledge_closed_up,
    change_plan,
    correct_labour,
    hand_back,
    set_unit_power,
)
from shop.repairs.services.hands import hand_over, take_repair
from shop.repairs.services.links import issue_status_link, revoke_status_links
from shop.repairs.services.photo_parts import (
    forget_stale_parts,
    kept_offset,
    receive_part,
)
from shop.repairs.services.photos import attach_photo, make_thumbnail, store_photo
from shop.repairs.services.stage_changes import change_stage, move_to_ready

__all__ = [
    "acknowledge_closed_up",
    "attach_photo",
    "book_in",
    "change_plan",
    "change_stage",
    "correct_labour",
    "forget_stale_parts",
    "hand_back",
    "hand_over",
    "issue_status_link",
    "kept_offset",
    "make_thumbnail",
    "move_to_ready",
    "receive_part",
    "revoke_status_links",
    "set_unit_power",
    "store_photo",
    "take_repair",
]
