"""Set a unit's primary for a supply: links, voltages, heaters, flux, or why it cannot be done."""

from __future__ import annotations

from typing import Any

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.windings.arrangements import require_known_terminals
from shop.calc.windings.choosing import (
    Candidate,
    Choice,
    candidates,
    choose,
    line_volt,
    plate_volt_of,
)
from shop.calc.windings.draw import draw
from shop.calc.windings.flux import flux_cautions
from shop.calc.windings.for_supply_input import ForSupplyIn
from shop.calc.windings.phasing import phasing_tests
from shop.calc.windings.secondaries import at_line, heater_verdict
from shop.calc.windings.sections import require_sound_sections
from shop.calc.windings.setting import ExpectedVolt, ForSupplyOut
from shop.calc.windings.supply_words import cautions, lines, set_words, sources, window_words
from shop.calc.windings.verdicts import (
    worst,
)
from shop.calc.windings.window import window_of
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Outcome, Working

EXAMPLE: dict[str, Any] = {
    "sections": [
        {"name": "A", "start": "P1", "finish": "P2", "rated_volt": 115.0, "rated_ampere": 0.652},
        {"name": "B", "start": "P3", "finish": "P4", "rated_volt": 115.0, "rated_ampere": 0.652},
    ],
    "target_volt": 120.0,
    "target_hz": 60.0,
    "plate_hz": [50.0, 60.0],
    "measured_volt": 118.0,
    "rated_va": 150.0,
    "secondaries": [{"name": "heaters", "rated_volt": 6.3, "is_heater": True}],
    "links_now": [["P2", "P3"]],
}


@calculator(
    "windings.for_supply",
    "Set the primary for a supply",
    question="Which links must be made and broken for this supply, and does the unit stand it?",
    example=EXAMPLE,
)
def for_supply(given: ForSupplyIn) -> Answer[ForSupplyOut]:
    """Choose the arrangement of the primary for a target supply and say what follows from it.

    Units: V, Hz, A, VA. The model sheet's links are taken where one of its settings fits the
    supply; else the arrangement of all sections nearest by ratio. Secondaries and heaters are
    judged at the line as measured, flux at the higher of nominal and measured. "Cannot be
    converted" is an answer.
    Raises BadInput for sections or terminals that cannot be.
    Source: ten-volume electrical guide, vol. 6; E = 4.44 f N B A; limits proposed.
    """
    given = fit(given)
    _require_sound(given)
    choice = choose(given, candidates(given))
    value = _value(given, choice)
    outcome = Outcome.REFUSE if not value.can_be_converted else _outcome(value, choice)
    text = (
        _("Cannot be converted: {reason}.", reason=value.reason)
        if not value.can_be_converted
        else set_words(value)
    )
    working = Working(
        lines(given, value),
        sources(),
        cautions(
            [*choice.warnings, *flux_cautions(value.flux_verdict), *window_words(given, value)]
        ),
        [_("One page says 20 % lower voltage for 50 Hz; it is 16.7 % (5/6).")],
    )
    return Answer(outcome, text, value, working)


def _require_sound(given: ForSupplyIn) -> None:
    require_sound_sections(given.sections)
    for place, setting in enumerate(given.model_sheet_settings):
        require_known_terminals(
            given.sections,
            setting.links,
            setting.line_terminals,
            f"model_sheet_settings[{place}].links",
            f"model_sheet_settings[{place}].line_terminals",
        )
    if given.links_now:
        terminals = given.links_now[0]
        require_known_terminals(
            given.sections, given.links_now, terminals, "links_now", "links_now"
        )
    if (
        given.measured_volt is not None
        and not 0.7 <= given.measured_volt / given.target_volt <= 1.3
    ):
        raise BadInput(
            "measured_volt",
            _("{volt:g} V is not a reading of this supply", volt=given.measured_volt),
        )


def _value(given: ForSupplyIn, choice: Choice) -> ForSupplyOut:
    best, volt = choice.candidate, line_volt(given)
    factor = volt / best.rated_volt
    found = [at_line(secondary, factor) for secondary in given.secondaries]
    now, wanted = _as_set(given.links_now), _as_set(best.links)
    return ForSupplyOut(
        can_be_converted=not choice.reason,
        reason=choice.reason,
        arrangement=best.name,
        mode=best.mode,
        from_model_sheet=best.from_model_sheet,
        rated_volt=best.rated_volt,
        line_volt=volt,
        line_terminals=best.line_terminals,
        links=best.links,
        links_to_set=[link for link in best.links if frozenset(link) not in now],
        links_to_remove=[link for link in given.links_now if frozenset(link) not in wanted],
        section_volts=[
            ExpectedVolt(
                one.name,
                [one.start, one.finish],
                one.rated_volt * factor,
                one.name in best.sections_used,
            )
            for one in given.sections
        ],
        factor=factor,
        secondaries=found,
        heater_verdict=heater_verdict(found),
        flux_ratio=choice.flux_ratio,
        flux_verdict=choice.flux_verdict,
        voltage_verdict=choice.voltage_verdict,
        line_ampere=_line_ampere(given, best),
        available_va=best.available_va,
        phasing_tests=phasing_tests(given.sections, best.links, best.line_terminals),
        drawing=draw(given.sections, best.links, best.line_terminals),
        drawing_now=draw(given.sections, given.links_now, []) if given.links_now else None,
        tolerable_volts=window_of(
            best.rated_volt,
            plate_volt_of(given, best.rated_volt),
            given.target_hz / min(given.plate_hz),
        ),
    )


def _as_set(links: list[list[str]]) -> set[frozenset[str]]:
    return {frozenset(link) for link in links}


def _line_ampere(given: ForSupplyIn, best: Candidate) -> float | None:
    return given.rated_va / best.rated_volt if given.rated_va is not None else best.line_ampere


def _outcome(value: ForSupplyOut, choice: Choice) -> Outcome:
    told = Outcome.WARN if choice.warnings else Outcome.OK
    verdicts = [value.flux_verdict, value.voltage_verdict, value.heater_verdict or Outcome.OK, told]
    return worst(verdicts)
