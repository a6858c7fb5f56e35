"""Names of countries, from ISO 3166-1 as packaged, so that no list of ours grows old."""

from __future__ import annotations

from functools import cache

import pycountry

from shop.calc.working import Source, Status

NAME_SOURCE = Source("ISO 3166-1 country codes and names", Status.SECOND_HAND, "PyPI pycountry")


@cache
def name_of(code: str) -> str | None:
    """The everyday English name of an alpha-2 code, None if it is no code: `BO` is Bolivia.

    Source: ISO 3166-1 as packaged by pycountry.
    """
    country = pycountry.countries.get(alpha_2=code)
    if country is None:
        return None
    return str(getattr(country, "common_name", country.name))
