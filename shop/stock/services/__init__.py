"""Writes of the stock. Every change of what is on hand is a move; nothing else changes a level."""

from shop.stock.services.counting import count_bin
from shop.stock.services.moving import move_part
from shop.stock.services.ordering import approve_order, drop_order, mark_order_sent
from shop.stock.services.putting import ReceivedLine, put_in, receive_order, return_part, scrap_part
from shop.stock.services.reordering import check_reorder
from shop.stock.services.reserving import release_part, reserve_part
from shop.stock.services.taking import take_part

__all__ = [
    "ReceivedLine",
    "approve_order",
    "check_reorder",
    "count_bin",
    "drop_order",
    "mark_order_sent",
    "move_part",
    "put_in",
    "receive_order",
    "release_part",
    "reserve_part",
    "return_part",
    "scrap_part",
    "take_part",
]
