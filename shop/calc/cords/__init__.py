"""Mains cords: cross-section, wire gauge, appliance couplers and core colours."""

from shop.calc.cords import colours, coupler, gauge, marking, required

__all__ = ["colours", "coupler", "gauge", "marking", "required"]
