"""Amounts of money as a customer reads them."""

from __future__ import annotations

from decimal import Decimal

from django.utils import formats
from iso4217 import Currency


def money_text(minor: int, currency: str) -> str:
    """An amount in the language now active, with the currency's code: `1,234.50 EUR`.

    `minor` counts the currency's minor units (ISO 4217: none for JPY, two for EUR, three for KWD).
    """
    digits = Currency(currency).exponent or 0
    amount = Decimal(minor).scaleb(-digits)
    number = formats.number_format(amount, decimal_pos=digits, force_grouping=True)
    return f"{number}\u00a0{currency}"
