"""Mains transformers: which sections may be joined how, and what follows for a supply."""

from shop.calc.windings import arrangements, flux, for_supply, secondaries

__all__ = ["arrangements", "flux", "for_supply", "secondaries"]
