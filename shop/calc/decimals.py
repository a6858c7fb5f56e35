"""Exact decimals as text: shifting the point, rounding, and the one canonical spelling.

Canonical: no exponent, no plus, no needless zeros, no minus before zero: `0.16`, `-12`, `0`.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Context, Decimal

# Wide enough for every product here to be exact; the parser bounds the digits that come in.
_EXACT = Context(prec=120, rounding=ROUND_HALF_UP)


def canonical(text: str) -> str:
    """The one spelling of a decimal number."""
    plain = format(Decimal(text), "f")
    if "." in plain:
        plain = plain.rstrip("0").rstrip(".")
    sign, body = ("-", plain[1:]) if plain.startswith("-") else ("", plain)
    body = body.lstrip("0") or "0"
    body = f"0{body}" if body.startswith(".") else body
    return body if body == "0" else sign + body


def shifted(text: str, power: int) -> str:
    """The number times ten to a power, exactly."""
    return format(_EXACT.scaleb(Decimal(text), power), "f")


def times(text: str, factor: int) -> str:
    """The number times a whole factor, exactly."""
    return format(_EXACT.multiply(Decimal(text), Decimal(factor)), "f")


def decimals_of(text: str) -> int:
    """How many digits stand after the point of a canonical text."""
    return len(text.partition(".")[2])


def significant(text: str, digits: int) -> str:
    """Rounded to significant digits, halves away from zero, canonical."""
    return canonical(format(Context(prec=digits, rounding=ROUND_HALF_UP).plus(Decimal(text)), "f"))


def power_of(text: str) -> int:
    """The power of ten of the first digit that is not zero."""
    return Decimal(text).adjusted()
