"""What stands on each kind of paper: a module works the values out, a template places them."""

from __future__ import annotations

from shop.documents.papers.drawing import draw_paper

__all__ = ["draw_paper"]
