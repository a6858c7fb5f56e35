"""What a capacitor must read to pass: the borders of `capacitors.verdict`, beforehand."""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.capacitors.esr import guides_for
from shop.calc.capacitors.inputs import Farad, Ohm, RatedVolt
from shop.calc.capacitors.leakage import modern_ampere, old_ampere
from shop.calc.capacitors.verdict import (
    PASS_SHARE,
    PASS_TIMES,
    REPLACE_SHARE,
    REPLACE_TIMES,
    SOURCES,
)
from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.shown import amperes, farads, ohms
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working


class LimitsIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A part by its marking."""

    farad: Farad
    rated_volt: RatedVolt
    high_percent: Annotated[
        float,
        Meta(
            title="Upper tolerance",
            ge=0,
            le=150,
            description="percent above the marked value; 50 or 80 for old parts, 20 if left out",
        ),
    ] = 20.0
    good_ohm: Annotated[
        Ohm | None,
        Meta(title="ESR of a good one", description="ohm at about 100 kHz, from the maker's sheet "
             "or a new part; guide tables if left out"),
    ] = None  # fmt: skip


class CapacitorLimits(msgspec.Struct, frozen=True):
    """The borders; an ESR is None where no guide has the part, the old leakage above 450 V."""

    pass_low_farad: float
    pass_high_farad: float
    replace_below_farad: float
    pass_below_ohm: float | None
    replace_above_ohm: float | None
    modern_ampere: float
    old_ampere: float | None
    old_else_modern_ampere: float


EXAMPLE = {"farad": 100e-6, "rated_volt": 63.0}


@calculator(
    "capacitors.limits",
    "What a capacitor must read",
    question="Which capacitance, ESR and leakage must this capacitor have to stay?",
    example=EXAMPLE,
)
def limits(given: LimitsIn) -> Answer[CapacitorLimits]:
    """The borders of pass and replace for capacitance, ESR and leakage.

    Units: farad, volt, percent in; farad, ohm at about 100 kHz, ampere out. Pass: 80 % to the upper
    tolerance, less than twice the ESR of a good part. Where two guide tables speak, the lower one
    passes and the higher one condemns, so that both agree.
    Source: as `capacitors.verdict`, whose borders these are.
    """
    given = fit(given)
    good = _good_ohms(given)
    modern = modern_ampere(given.farad, given.rated_volt)
    old = old_ampere(given.farad, given.rated_volt)
    value = CapacitorLimits(
        pass_low_farad=given.farad * PASS_SHARE,
        pass_high_farad=given.farad * (1 + given.high_percent / 100),
        replace_below_farad=given.farad * REPLACE_SHARE,
        pass_below_ohm=min(good) * PASS_TIMES if good else None,
        replace_above_ohm=max(good) * REPLACE_TIMES if good else None,
        modern_ampere=modern,
        old_ampere=old,
        old_else_modern_ampere=modern if old is None else old,
    )
    working = Working(_lines(given, value, good), [*SOURCES, OURS], _cautions())
    return Answer(Outcome.OK if good else Outcome.WARN, _said(value), value, working)


def _good_ohms(given: LimitsIn) -> list[float]:
    if given.good_ohm is not None:
        return [given.good_ohm]
    guides = guides_for(given.farad, given.rated_volt, None)
    return [one.ohm for one in guides if one.ohm is not None]


def _said(value: CapacitorLimits) -> str:
    text = _(
        "{low} to {high}; leakage at most {modern} for a new part",
        low=farads(value.pass_low_farad),
        high=farads(value.pass_high_farad),
        modern=amperes(value.modern_ampere),
    )
    if value.old_ampere is not None:
        text += ", " + _("{old} for an old one", old=amperes(value.old_ampere))
    if value.pass_below_ohm is None:
        return text + ". " + _("No guide has its ESR: compare with a new part.")
    return text + "; " + _("ESR below {ohm}.", ohm=ohms(value.pass_below_ohm))


def _lines(given: LimitsIn, value: CapacitorLimits, good: list[float]) -> list[Line]:
    lines = [
        Line(_("part"), "C, U", f"{farads(given.farad)}, {given.rated_volt:g} V"),
        Line(_("capacitance"), "0.8 C … C (1 + p)",
             f"{farads(value.pass_low_farad)} … {farads(value.pass_high_farad)}"),
        Line(_("replace below"), "0.7 C", farads(value.replace_below_farad)),
    ]  # fmt: skip
    if value.pass_below_ohm is not None and value.replace_above_ohm is not None:
        shown = ", ".join(ohms(ohm) for ohm in good)
        lines += [
            Line(_("ESR of a good one"), _("as stated or by the guides"), shown),
            Line(_("ESR passes below"), _("2 x the lowest"), ohms(value.pass_below_ohm)),
            Line(_("replace above"), _("3 x the highest"), ohms(value.replace_above_ohm)),
        ]
    none = _("none: its table ends at 450 V")
    old = none if value.old_ampere is None else amperes(value.old_ampere)
    return [
        *lines,
        Line(_("leakage, modern"), "0.01 C U + 3 µA", amperes(value.modern_ampere)),
        Line(_("leakage, old"), "K C + 0.3 mA", old),
    ]


def _cautions() -> list[str]:
    return [
        _("Discharge it before a meter is put on it; one end lifted, parts in parallel mislead."),
        _("A bulge, a leak or a smell means replace, whatever the meter says."),
        _("Leakage is read at the rated volts: that can kill. Enclose it, discharge it, read it "
          "again."),
    ]  # fmt: skip


OURS: Final = Source("of two guide tables the lower one passes, the higher one condemns",
                     Status.PROPOSED)  # fmt: skip
