"""Parts across the mains whose rating belongs to one supply voltage."""

from shop.calc.voltage_parts import check

__all__ = ["check"]
