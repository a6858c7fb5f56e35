"""Amounts as a customer reads them; the number of minor units is that of ISO 4217."""

import pytest
from django.utils import translation

from shop.billing.amounts import money_text


# ISO 4217 (table of 2026-01-01): JPY has no minor unit, KWD three digits of it.
@pytest.mark.parametrize(
    ("minor", "currency", "shown"),
    [
        (123450, "EUR", "1,234.50\u00a0EUR"),
        (-5, "EUR", "-0.05\u00a0EUR"),
        (1234, "JPY", "1,234\u00a0JPY"),
        (1234, "KWD", "1.234\u00a0KWD"),
        (0, "USD", "0.00\u00a0USD"),
    ],
)
def test_an_amount_shows_its_minor_units(minor, currency, shown):
    assert money_text(minor, currency) == shown


def test_an_amount_is_written_as_in_the_language():
    with translation.override("de"):
        assert money_text(123450, "EUR") == "1.234,50\u00a0EUR"
