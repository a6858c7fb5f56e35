"""The sentences and the working of a primary's setting for a supply."""

from __future__ import annotations

from shop.calc.windings.arrangements import RULE_SOURCES, phasing_caution
from shop.calc.windings.choosing import plate_volt_of
from shop.calc.windings.for_supply_input import ForSupplyIn
from shop.calc.windings.secondaries import RATIO_SOURCE
from shop.calc.windings.setting import ForSupplyOut
from shop.calc.windings.verdicts import (
    FIVE_PERCENT,
    FLUX_LIMITS,
    FLUX_SOURCE,
    HEATER_SOURCE,
    LINE_SOURCE,
    THORIATED_SOURCE,
)
from shop.calc.windings.way import MODE_WORDS
from shop.calc.words import _
from shop.calc.working import Line, Source, Status


def set_words(value: ForSupplyOut) -> str:
    """The setting as a tech reads it: which terminals are joined, where the line goes."""
    named = {
        "volt": value.rated_volt,
        "name": value.arrangement,
        "links": links_in_words(value.links),
        "first": value.line_terminals[0],
        "second": value.line_terminals[1],
    }
    if value.from_model_sheet:
        return _(
            "Set for {volt:g} V as the model sheet says. Joined: {links}; "
            "mains to {first} and {second}.",
            **named,
        )
    return _("Set for {volt:g} V: {name}. Joined: {links}; mains to {first} and {second}.", **named)


def links_in_words(links: list[list[str]]) -> str:
    """`P1–P3, P2–P4`."""
    return ", ".join("–".join(link) for link in links) or _("none")


def lines(given: ForSupplyIn, value: ForSupplyOut) -> list[Line]:
    """The way from the sections to what stands on the secondaries."""
    hertz = min(given.plate_hz)
    volt = max(value.line_volt, given.target_volt)
    plate = plate_volt_of(given, value.rated_volt)
    return [
        Line(_("arrangement"), _(MODE_WORDS[value.mode]), f"{value.rated_volt:g} V"),
        *_changes(given, value),
        Line(
            _("factor of all windings"),
            f"{value.line_volt:g} V / {value.rated_volt:g} V",
            f"{value.factor:.4f}",
        ),
        Line(
            _("flux against the plate"),
            f"({volt:g} / {plate:g}) × ({hertz:g} / {given.target_hz:g})",
            f"{value.flux_ratio:.4f}",
        ),
        *(
            Line(one.name, f"{one.rated_volt:g} V × {value.factor:.4f}", f"{one.loaded_volt:.4g} V")
            for one in value.secondaries
        ),
    ]


def _changes(given: ForSupplyIn, value: ForSupplyOut) -> list[Line]:
    """What to break and what to make, where the links as found are known."""
    if not given.links_now:
        return []
    to_break, to_make = links_in_words(value.links_to_remove), links_in_words(value.links_to_set)
    return [
        Line(_("links to break"), _("joined now, not for this supply"), to_break),
        Line(_("links to make"), _("for this supply, not joined now"), to_make),
    ]


def sources() -> list[Source]:
    """Where all of it comes from."""
    return [
        *RULE_SOURCES,
        FLUX_SOURCE,
        FLUX_LIMITS,
        RATIO_SOURCE,
        HEATER_SOURCE,
        FIVE_PERCENT,
        THORIATED_SOURCE,
        LINE_SOURCE,
        Source("A setting of the model sheet is taken before a computed one", Status.PROPOSED),
    ]


def window_words(given: ForSupplyIn, value: ForSupplyOut) -> list[str]:
    """For a lower frequency than the plate's: the narrow band where core and heaters agree."""
    if given.target_hz >= min(given.plate_hz):
        return []
    band = value.tolerable_volts
    if band is None:
        return [_("No voltage at {hz:g} Hz suits both core and heaters.", hz=given.target_hz)]
    return [
        _(
            "At {hz:g} Hz this setting tolerates {low:.4g} V to {high:.4g} V only.",
            hz=given.target_hz,
            low=band.low_volt,
            high=band.high_volt,
        )
    ]


def cautions(more: list[str]) -> list[str]:
    """What stands beside every setting, and more."""
    return [
        phasing_caution(),
        _("The maker's instructions for the target supply win over a computed setting."),
        _("Mains work is for a competent person; local codes and licensed practice come first."),
        *more,
    ]
