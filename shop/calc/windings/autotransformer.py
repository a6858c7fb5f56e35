"""A low-voltage winding in series with the mains: boost or buck."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from shop.calc.fields import Ampere, MainsVolt, fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.words import gettext_noop as _noop
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

AUTOTRANSFORMER_SOURCE = Source(
    "Boost: V_out = V + V_w; I_in = I V_out / V; winding current I V_w / V",
    Status.SECOND_HAND,
    "voltsecond.com DIY_Stepped_Autoformer",
)


class AutotransformerIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Mains on the primary, a second winding aiding (boost) or opposing (buck), and the load."""

    mains_volt: Annotated[MainsVolt, Meta(title="Mains")]
    winding_volt: Annotated[
        MainsVolt,
        Meta(title="Low-voltage winding", description="volts it gives with the mains as above"),
    ]
    load_ampere: Annotated[Ampere, Meta(title="Load current")]
    sense: Annotated[
        Literal["boost", "buck"],
        Meta(
            title="Sense",
            description="aiding or opposing the mains",
            extra_json_schema={
                "x-labels": {"boost": _noop("aiding (boost)"), "buck": _noop("opposing (buck)")}
            },
        ),
    ] = "boost"


class AutotransformerOut(msgspec.Struct, frozen=True):
    """Volts out, ampere from the mains, ampere in the mains winding."""

    out_volt: float
    input_ampere: float
    mains_winding_ampere: float


@calculator(
    "windings.autotransformer",
    "Boost or buck with a low-voltage winding",
    question="What does a low-voltage winding in series with the mains give and carry?",
    example={"mains_volt": 115.0, "winding_volt": 6.3, "load_ampere": 1.0},
)
def autotransformer(given: AutotransformerIn) -> Answer[AutotransformerOut]:
    """What a low-voltage winding in series with the mains makes of it, without losses.

    Units: V, A. Formula: V_out = V ± V_w; I_in = I V_out / V; mains winding I V_w / V.
    Raises BadInput where a bucking winding leaves no voltage. Source: see the working.
    """
    given = fit(given)
    sign = 1 if given.sense == "boost" else -1
    out = given.mains_volt + sign * given.winding_volt
    if out <= 0:
        raise BadInput("winding_volt", _("the winding would leave no voltage"))
    value = AutotransformerOut(
        out_volt=out,
        input_ampere=given.load_ampere * out / given.mains_volt,
        mains_winding_ampere=given.load_ampere * given.winding_volt / given.mains_volt,
    )
    lines = [
        Line(_("out"), f"{given.mains_volt:g} V {sign * given.winding_volt:+g} V", f"{out:g} V"),
        Line(_("from the mains"), "I V_out / V", f"{value.input_ampere:.4g} A"),
        Line(_("in the mains winding"), "I V_w / V", f"{value.mains_winding_ampere:.4g} A"),
        Line(_("in the low-voltage winding"), "I", f"{given.load_ampere:.4g} A"),
    ]
    text = _(
        "{volt:.4g} V out; the low-voltage winding carries all of the {load:.4g} A.",
        volt=out,
        load=given.load_ampere,
    )
    working = Working(lines, [AUTOTRANSFORMER_SOURCE], _cautions())
    return Answer(Outcome.OK, text, value, working)


def _cautions() -> list[str]:
    return [
        _("It does not isolate: the output stays on the mains."),
        _("The low-voltage winding stands at mains volts: its insulation to core and to the other "
          "windings must be made for mains."),
        _("The wrong sense turns boost into buck: prove it unloaded, before anything is fed."),
        _("A fuse in the line, an earth through to the unit, all of it in a closed case."),
        _("Mains work is for a competent person; local codes and licensed practice come first."),
    ]  # fmt: skip
