"""What a potentiometer or fader must read, and how much d.c. on its wiper is heard as crackle.

Track: the marked ohms and their tolerance. Crackle: contact resistance wanders by a share of the
track, so d.c. across it becomes noise, V_crackle = V_dc x share. Units: ohm, volt, per cent, dBu.
"""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.levels.scales import SOURCES as LEVEL_SOURCES
from shop.calc.levels.scales import Level, volts_of
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

TOLERANCE_PERCENT: Final = 20.0
CONTACT_PERCENT: Final = 1.0
CRACKLE_DBU: Final = -70.0
END_SHARE, LEAST_END_OHM = 0.01, 20.0

EXAMPLE = {"track_ohm": 10000}


class PotentiometerIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A track with a wiper; without its ohms only the d.c. is limited."""

    track_ohm: Annotated[
        Annotated[float, Meta(ge=1, le=1e8)] | None,
        Meta(title="Track", description="ohm from end to end, as marked or by the sheet"),
    ] = None
    tolerance_percent: Annotated[
        float, Meta(ge=0.1, le=50, title="Tolerance", description="of the track, either way")
    ] = TOLERANCE_PERCENT
    contact_percent: Annotated[
        float,
        Meta(ge=0.01, le=100, title="Contact", description="by which the contact wanders, per cent "
             "of the track"),
    ] = CONTACT_PERCENT  # fmt: skip
    crackle_dbu: Annotated[
        float,
        Meta(ge=-140, le=20, title="Crackle at most", description="dBu at the wiper, below which "
             "nobody hears it"),
    ] = CRACKLE_DBU  # fmt: skip


class Potentiometer(msgspec.Struct, frozen=True):
    """Limits of the track, of what is left at its ends, and of d.c. at the wiper, either sign."""

    low_ohm: float | None
    high_ohm: float | None
    most_end_ohm: float | None
    most_wiper_volt: float


@calculator(
    "controls.potentiometer",
    "Limits of a potentiometer",
    question="What must this potentiometer read, and how much d.c. on its wiper crackles?",
    example=EXAMPLE,
)
def potentiometer(given: PotentiometerIn) -> Answer[Potentiometer]:
    """Ohms end to end, ohms left at the stops, and the most d.c. at the wiper.

    Units: ohm, volt d.c., dBu. Formula: V_dc = V_crackle / share of contact.
    Source: 20 % is the usual class of carbon tracks; share and level are proposed.
    """
    given = fit(given)
    value = _value(given)
    millivolt = value.most_wiper_volt * 1000
    text = _("At most {volt:.3g} mV d.c. on the wiper.", volt=millivolt)
    if value.low_ohm is not None and value.high_ohm is not None:
        low, high = value.low_ohm, value.high_ohm
        text = _("{low:.5g} to {high:.5g} ohm end to end.", low=low, high=high) + " " + text
    return Answer(Outcome.OK, text, value, _working(given, value))


def _value(given: PotentiometerIn) -> Potentiometer:
    ohm, off = given.track_ohm, given.tolerance_percent / 100
    crackle = volts_of(Level(given.crackle_dbu), "crackle_")
    return Potentiometer(
        low_ohm=None if ohm is None else ohm * (1 - off),
        high_ohm=None if ohm is None else ohm * (1 + off),
        most_end_ohm=None if ohm is None else max(ohm * END_SHARE, LEAST_END_OHM),
        most_wiper_volt=crackle / (given.contact_percent / 100),
    )


def _working(given: PotentiometerIn, value: Potentiometer) -> Working:
    lines = [
        Line(
            _("d.c. at the wiper, at most"),
            f"{given.crackle_dbu:g} dBu / {given.contact_percent:g} %",
            f"{value.most_wiper_volt * 1000:.3g} mV",
        )
    ]
    if value.low_ohm is not None and value.most_end_ohm is not None:
        track = f"{value.low_ohm:.5g} – {value.high_ohm:.5g} ohm"
        formula = f"{given.track_ohm:g} ohm ± {given.tolerance_percent:g} %"
        end = f"{value.most_end_ohm:.3g} ohm"
        lines.insert(0, Line(_("end to end"), formula, track))
        lines.insert(1, Line(_("left at a stop, at most"), _("1 %, at least 20 ohm"), end))
    return Working(lines, _SOURCES, [_caution()], [_disagreement()])


def _caution() -> str:
    return _("In valve units hundreds of volts may stand on a track: clip on dead, read live.")


def _disagreement() -> str:
    return _(
        "Some hold d.c. for the cause of most crackle, others dirt and worn track: measure the "
        "d.c. first, it is quickly done."
    )


_SOURCES = [
    Source("10 % and 20 % are the classes of carbon potentiometers", Status.SECOND_HAND,
           "precisionelectronics.com/0-40a-010c"),
    Source("contact resistance varies as the wiper moves", Status.SECOND_HAND,
           "bourns.com/bu/bu02_44usefulterms"),
    Source("a leaking coupling capacitor puts d.c. on the track and makes it scratch",
           Status.SECOND_HAND, "tomsguitarprojects.blogspot.com/2014/12/scratchy-pots"),
    Source("1 % of contact in a serviceable old track, -70 dBu unheard", Status.PROPOSED),
    Source("1 % of the track or 20 ohm left at a stop", Status.FROM_MEMORY),
    *LEVEL_SOURCES[:1],
]  # fmt: skip
