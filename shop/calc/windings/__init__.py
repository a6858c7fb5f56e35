"""Mains transformers: which sections may be joined how, and what follows for a supply."""

from shop.calc.windings import (
    arrangements,
    autotransformer,
    flux,
    for_supply,
    reading_bands,
    secondaries,
    window,
)

__all__ = [
    "arrangements",
    "autotransformer",
    "flux",
    "for_supply",
    "reading_bands",
    "secondaries",
    "window",
]
