"""Reads that look across the whole shop. Nothing here writes."""

from shop.insight.selectors.board import Board, board
from shop.insight.selectors.my_bench import MyBench, my_bench
from shop.insight.selectors.stuck_work import DeadWork, dead_work

__all__ = ["Board", "DeadWork", "MyBench", "board", "dead_work", "my_bench"]
