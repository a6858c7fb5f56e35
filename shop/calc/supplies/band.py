"""Between what limits a nominal mains voltage may lie, and whether a measured one does."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import MainsVolt, fit
from shop.calc.registry import calculator
from shop.calc.supplies.bands import TEN_PERCENT
from shop.calc.supplies.standards import (
    FREQUENCY_SOURCE,
    SYSTEMS_SOURCE,
    TITLES,
    BandRule,
    MeasuredAt,
    Standard,
    nominals_of,
    rules_for,
)
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Working


class BandIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A nominal voltage, the rule to go by, and what the meter says at the outlet."""

    nominal_volt: Annotated[
        MainsVolt, Meta(title="Nominal voltage", description="volt, as the rule names it")
    ]
    standard: Annotated[
        Standard | None,
        Meta(
            title="Standard or law",
            description="if left out, all that know this voltage stand side by side",
            extra_json_schema={"x-labels": TITLES},
        ),
    ] = None
    measured_volt: Annotated[
        MainsVolt | None, Meta(title="Measured", description="volt r.m.s. at the outlet")
    ] = None


class BandRow(msgspec.Struct, frozen=True):
    """One band. `contains_measured` is None where nothing was measured."""

    standard: str
    title: str
    measured_at: MeasuredAt
    share_of_time: str
    low_volt: float
    high_volt: float
    low_percent: float
    high_percent: float
    contains_measured: bool | None
    source: Source


class BandOut(msgspec.Struct, frozen=True):
    """The bands, and the widest span of them: what a unit must live with."""

    nominal_volt: float
    low_volt: float
    high_volt: float
    crest_volt: float
    rows: list[BandRow]


EXAMPLE = {"nominal_volt": 230, "standard": "uk", "measured_volt": 244.5}


@calculator(
    "supplies.band",
    "Limits of a mains voltage",
    question="How far may this mains voltage lie from its nominal value?",
    example=EXAMPLE,
)
def band(given: BandIn) -> Answer[BandOut]:
    """The limits of a nominal voltage by one standard, or by all that know it.

    Units: V r.m.s.; crest = sqrt(2) x the highest limit. The measured value is compared with each
    band; a value at a limit lies inside. Without a known band ± 10 % is proposed. Raises BadInput
    for a voltage that the standard named does not know.
    Source: IEC 60038, EN 50160, ESQCR 2002, ANSI C84.1 and national rules; see each row.
    """
    given = fit(given)
    rules = _rules(given)
    rows = [_row(rule, given.measured_volt) for rule in rules] or [_proposed(given)]
    value = _value(given.nominal_volt, rows)
    outside = [row for row in rows if row.contains_measured is False]
    working = Working(_lines(given, value), _sources(rows), _cautions(given), _differ(rows))
    warn = bool(outside) or not rules
    return Answer(Outcome.WARN if warn else Outcome.OK, _text(given, value), value, working)


def _rules(given: BandIn) -> list[BandRule]:
    rules = rules_for(given.nominal_volt, given.standard)
    if not rules and given.standard is not None:
        known = " / ".join(f"{volt:g}" for volt in nominals_of(given.standard))
        reason = _("{title} knows {known} V", title=_(TITLES[given.standard]), known=known)
        raise BadInput("nominal_volt", reason, "not_in_standard")
    return rules


def _row(rule: BandRule, measured: float | None) -> BandRow:
    found = rule.band
    return BandRow(
        standard=rule.standard,
        title=_(TITLES[rule.standard]),
        measured_at=rule.measured_at,
        share_of_time=rule.share,
        low_volt=found.low_volt,
        high_volt=found.high_volt,
        low_percent=_percent(found.low_volt, found.nominal_volt),
        high_percent=_percent(found.high_volt, found.nominal_volt),
        contains_measured=None
        if measured is None
        else found.low_volt - 1e-9 <= measured <= found.high_volt + 1e-9,
        source=found.source,
    )


def _proposed(given: BandIn) -> BandRow:
    low, high = round(given.nominal_volt * 0.9, 6), round(given.nominal_volt * 1.1, 6)
    measured = given.measured_volt
    inside = None if measured is None else low - 1e-9 <= measured <= high + 1e-9
    title = _("No rule known for this voltage")
    return BandRow("", title, "supply", "", low, high, -10.0, 10.0, inside, TEN_PERCENT)


def _percent(volt: float, nominal: float) -> float:
    return round((volt / nominal - 1) * 100, 3)


def _value(nominal: float, rows: list[BandRow]) -> BandOut:
    low = min(row.low_volt for row in rows)
    high = max(row.high_volt for row in rows)
    return BandOut(nominal, low, high, high * 2**0.5, rows)


def _text(given: BandIn, value: BandOut) -> str:
    text = _(
        "{nominal:g} V may lie between {low:g} and {high:g} V.",
        nominal=value.nominal_volt,
        low=value.low_volt,
        high=value.high_volt,
    )
    if given.measured_volt is None:
        return text
    if all(row.contains_measured for row in value.rows):
        said = _("{measured:g} V lies within.", measured=given.measured_volt)
    elif any(row.contains_measured for row in value.rows):
        said = _("{measured:g} V lies within some of the bands only.", measured=given.measured_volt)
    else:
        said = _("{measured:g} V lies outside.", measured=given.measured_volt)
    return f"{text} {said}"


def _lines(given: BandIn, value: BandOut) -> list[Line]:
    where = {"supply": _("at the supply terminals"), "outlet": _("at the outlet")}
    lines = [
        Line(
            row.title,
            " ".join(filter(None, (where[row.measured_at], row.share_of_time))),
            f"{row.low_volt:g} … {row.high_volt:g} V ({row.low_percent:+.3g} / "
            f"{row.high_percent:+.3g} %)",
        )
        for row in value.rows
    ]
    lines.append(Line(_("highest crest"), "√2 × V_high", f"{value.crest_volt:.1f} V"))
    if given.measured_volt is not None:
        off = _percent(given.measured_volt, value.nominal_volt)
        lines.append(Line(_("measured"), "V / V_nominal − 1", f"{off:+.3g} %"))
    return lines


def _sources(rows: list[BandRow]) -> list[Source]:
    return [*dict.fromkeys(row.source for row in rows), SYSTEMS_SOURCE, FREQUENCY_SOURCE]


def _cautions(given: BandIn) -> list[str]:
    said = [_("Measuring at a live outlet is for a competent person, with probes made for mains.")]
    if given.nominal_volt == 230:
        said.append(_("Supplies that were 240 V before are often still near 240 V."))
    return said


def _differ(rows: list[BandRow]) -> list[str]:
    """Other sources for the bands shown; one sentence each, never averaged."""
    standards = {row.standard for row in rows}
    texts = {row.source.text for row in rows}
    said = []
    if {"australia", "new_zealand"} & standards:
        said.append(_("Upper limit of 230 V: Australia 253 V, New Zealand 243.8 V."))
    if "australia" in standards:
        said.append(_("Some product tests there are still done at 240 V (AS/NZS 3100)."))
    if "japan" in standards:
        said.append(_("Japan: the law says 101 ± 6 V, a 1989 booklet 100 V ± 10 %."))
    if standards & {"ansi_a", "ansi_b"} and not any("240 V" in text for text in texts):
        said.append(_("One state of the USA says 113 to 127 V for 120 V (rule 410.300)."))
    if any("240 V: 228" in text for text in texts):
        said.append(_("One state of the USA says 216 to 252 V for a plain 240 V service."))
    if "uk_before_1995" in standards:
        said.append(_("One page prints 254.5 V; 240 V + 6 % is 254.4 V."))
    return said
