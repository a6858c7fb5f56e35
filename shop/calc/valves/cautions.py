"""What is said wherever somebody measures in a valve unit."""

from __future__ import annotations

from shop.calc.words import _


def high_voltage() -> list[str]:
    """Cautions for readings under high voltage."""
    return [
        _(
            "Hundreds of volts that kill, also after unplugging: clip on dead, read live, "
            "hands off."
        ),
        _("A meter and leads rated for the volts; never a current range from plate to chassis."),
        _("Local codes and licensed practice come first."),
    ]
