"""The mains supply of a country: nominal, limits, frequency, plugs and cautions."""

from __future__ import annotations

from math import log
from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import CountryCode, Hertz, MainsVolt, fit
from shop.calc.registry import calculator
from shop.calc.supplies.bands import US_B, Band, band_for
from shop.calc.supplies.differences import DIFFERENCES
from shop.calc.supplies.names import NAME_SOURCE, name_of
from shop.calc.supplies.places import PLACES, Agreement, Place
from shop.calc.supplies.plugs import PLUGS, RATING_SOURCE, SHAPE_SOURCE, Plug
from shop.calc.supplies.remarks import OTHER_NOMINAL, general, remarks
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

CALLED_WITHIN = 0.10  # how far a supply's everyday name may lie from its nominal value
TABLE_SOURCES = {
    "both": Source(
        "Two public data sets of mains supplies agree (2016, 2017)",
        Status.SECOND_HAND,
        "PyPI fluids 1.3.1 residential_power; IEC World Plugs as of 2016",
    ),
    "differ": Source(
        "Two public data sets of mains supplies differ (2016, 2017)",
        Status.SECOND_HAND,
        "PyPI fluids 1.3.1 residential_power; IEC World Plugs as of 2016",
    ),
    "one": Source(
        "One public data set of mains supplies (2016)", Status.SECOND_HAND, "IEC World Plugs"
    ),
}


class CountryIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A country and, where it has several, which of its voltages and frequencies is meant."""

    country: Annotated[
        CountryCode,
        Meta(title="Country", description="two letters of ISO 3166-1, large or small"),
    ]
    nominal_volt: Annotated[
        MainsVolt | None,
        Meta(
            title="Voltage meant",
            description="volt; everyday names such as 110 or 117 count as the nominal value near "
            "them. If left out, all voltages of the country are listed",
        ),
    ] = None
    hz: Annotated[
        Hertz | None,
        Meta(title="Frequency meant", description="hertz; if left out, all are listed"),
    ] = None


class SupplyBand(msgspec.Struct, frozen=True):
    """One nominal voltage with its limits, and where they come from."""

    nominal_volt: float
    low_volt: float
    high_volt: float
    source: Source


class CountryOut(msgspec.Struct, frozen=True):
    """The supply. `nominal_volt` or `hz` is None where the country has several and none was named.

    `low_volt` and `high_volt` then span all of them.
    """

    country: str
    name: str
    nominal_volt: float | None
    low_volt: float
    high_volt: float
    hz: float | None
    supplies: list[SupplyBand]
    frequencies: list[float]
    plug_letters: list[str]
    plugs: list[Plug]
    agreement: Agreement


EXAMPLE = {"country": "JP", "hz": 60}


@calculator(
    "supplies.country",
    "Mains supply of a country",
    question="Which voltage, frequency and plug does a country have?",
    example=EXAMPLE,
)
def country(given: CountryIn) -> Answer[CountryOut]:
    """The mains supply of a country with its tolerance band.

    Units: V, Hz. Raises BadInput for a country that is not in the table or a voltage or frequency
    that the country does not have. Without a national figure the band is ± 10 % (proposed).
    Source: IEC 60038, national rules and two public data sets; see `source` of each band.
    """
    given = fit(given)
    code = given.country.upper()
    place, name = _place(code)
    volts = _chosen(given.nominal_volt, place.volts, "nominal_volt", "V", name)
    hertz = _chosen(given.hz, place.hertz, "hz", "Hz", name)
    bands = [band_for(code, volt) for volt in volts]
    _require_within(given, bands, name)
    value = _value(code, name, place, bands, hertz)
    called = _called(given, volts)
    said = [*called, *remarks(code, place.volts, place.hertz)]
    several = len(volts) > 1 or len(hertz) > 1
    odd = bool(called) or bool(general(place.volts, place.hertz))
    unsure = several or odd or place.agreement == "differ" or code in OTHER_NOMINAL
    working = Working(
        [_line(band) for band in bands], _sources(place, bands), said, _disagreements(code)
    )
    return Answer(
        Outcome.WARN if unsure else Outcome.OK, _text(name, volts, hertz, place), value, working
    )


def _text(name: str, volts: tuple[float, ...], hertz: tuple[float, ...], place: Place) -> str:
    return _(
        "{name}: {volts} V, {hertz} Hz, plugs {plugs}.",
        name=name,
        volts="/".join(f"{volt:g}" for volt in volts),
        hertz="/".join(f"{one:g}" for one in hertz),
        plugs=place.plugs,
    )


def _place(code: str) -> tuple[Place, str]:
    name = name_of(code)
    if name is None:
        reason = _("{code} is no country code of ISO 3166", code=code)
        raise BadInput("country", reason, "unknown_country")
    if code not in PLACES:
        reason = _("{name} is not in the table of supplies", name=name)
        raise BadInput("country", reason, "not_in_table")
    return PLACES[code], name


def _chosen(
    wanted: float | None, listed: tuple[float, ...], field: str, unit: str, name: str
) -> tuple[float, ...]:
    """All listed values, or the one that is meant: people call 120 V 110, 115 or 117 V."""
    if wanted is None:
        return listed
    near = min(listed, key=lambda one: abs(log(one / wanted)))
    slack = CALLED_WITHIN if unit == "V" else 0.0
    if abs(near / wanted - 1) <= slack:
        return (near,)
    names = ", ".join(f"{one:g}" for one in listed)
    raise BadInput(
        field,
        _("{place} has {names} {unit}", place=name, names=names, unit=unit),
    )


def _require_within(given: CountryIn, bands: list[Band], name: str) -> None:
    """An everyday name above the band's upper limit is another supply, not another name."""
    high = max(band.high_volt for band in bands)
    if given.nominal_volt is not None and given.nominal_volt > high:
        raise BadInput(
            "nominal_volt",
            _("{place} supplies at most {high:g} V", place=name, high=high),
        )


def _called(given: CountryIn, volts: tuple[float, ...]) -> list[str]:
    if given.nominal_volt is None or given.nominal_volt in volts:
        return []
    return [
        _(
            "Called {called:g} V; the nominal value is {nominal:g} V.",
            called=given.nominal_volt,
            nominal=volts[0],
        )
    ]


def _value(
    code: str, name: str, place: Place, bands: list[Band], hertz: tuple[float, ...]
) -> CountryOut:
    return CountryOut(
        country=code,
        name=name,
        nominal_volt=bands[0].nominal_volt if len(bands) == 1 else None,
        low_volt=min(band.low_volt for band in bands),
        high_volt=max(band.high_volt for band in bands),
        hz=hertz[0] if len(hertz) == 1 else None,
        supplies=[SupplyBand(b.nominal_volt, b.low_volt, b.high_volt, b.source) for b in bands],
        frequencies=list(place.hertz),
        plug_letters=list(place.plugs),
        plugs=[PLUGS[letter] for letter in place.plugs],
        agreement=place.agreement,
    )


def _line(band: Band) -> Line:
    return Line(
        f"{band.nominal_volt:g} V", band.source.text, f"{band.low_volt:g} … {band.high_volt:g} V"
    )


def _sources(place: Place, bands: list[Band]) -> list[Source]:
    named = [band.source for band in bands]
    return [*dict.fromkeys(named), TABLE_SOURCES[place.agreement], SHAPE_SOURCE, RATING_SOURCE,
            NAME_SOURCE]  # fmt: skip


def _disagreements(code: str) -> list[str]:
    said = [
        _("{field}: one data set says {one}, the other {other}.", field=field, one=one, other=other)
        for place, field, one, other in DIFFERENCES
        if place == code
    ]
    if code == "JP":
        said.append(_("Voltage: the law says 101 ± 6 V, a 1989 booklet 100 V ± 10 %."))
    if code in ("US", "PR"):
        said.append(
            _(
                "Range B of the same standard: {low:g} to {high:g} V (from memory); one state "
                "113 to 127 V.",
                low=US_B.low_volt,
                high=US_B.high_volt,
            )
        )
    if code in ("AU", "NZ"):
        said.append(_("Upper limit of 230 V: Australia 253 V, New Zealand 243.8 V."))
    return said
