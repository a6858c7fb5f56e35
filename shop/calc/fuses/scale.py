"""The fuse of a primary that has been re-connected for another mains voltage."""

from __future__ import annotations

from contextlib import suppress

import msgspec

from shop.calc.fields import fit
from shop.calc.fuses.gates import (
    BREAKING_SOURCE,
    GATE_SOURCE,
    UL_BREAKING_SOURCE,
    breaking_capacity_ampere,
)
from shop.calc.fuses.marking import FuseMark, read_mark
from shop.calc.fuses.proposal import FuseProposal
from shop.calc.fuses.scale_input import ScaleIn
from shop.calc.fuses.scale_words import SOURCES, cautions, is_kept, sentence, traps, working_lines
from shop.calc.fuses.series import R10_MILLIAMPERE, around, in_words, nearest, reaches
from shop.calc.fuses.ul import CONTINUOUS_LOAD_OF_UL, UL_RATIO_SOURCE
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Working

QUIET_PERCENT = 6.0
# As far as one winding may be off its supply at all: windings.verdicts refuses beyond.
SAME_WINDING_WITHIN = 0.10


class Scaled(msgspec.Struct, frozen=True):
    """Where the old rating leads: exact current, the member picked, and how far it is off."""

    exact: float
    pick: float
    steps: int
    residual_percent: float


def scale_current(old: FuseMark, factor: float) -> Scaled | None:
    """Old rating times factor, snapped to the nearest R10 member by ratio; None past the series.

    A UL rating counts as 75 % of itself, and its pick never lies above that.
    Formula: I_new = I_old V_old / V_new (volt-amperes unchanged).
    """
    basis = old.current_milliampere
    if old.standard == "ul":
        basis *= CONTINUOUS_LOAD_OF_UL
    exact = basis * factor
    if not reaches(exact):
        return None
    pick = nearest(exact)
    if old.standard == "ul" and pick > exact:
        pick = around(pick)[0] or pick
        if pick > exact:
            return None
    start = R10_MILLIAMPERE.index(nearest(basis))
    steps = R10_MILLIAMPERE.index(pick) - start
    return Scaled(exact, pick, steps, (pick / exact - 1) * 100)


def kept(old: FuseMark) -> Scaled:
    """The old rating, unchanged: each winding's current, or the same winding's, is unchanged."""
    return Scaled(old.current_milliampere, old.current_milliampere, 0, 0.0)


def rated_volt_suffices(rated: float, nominal: float, high: float) -> bool:
    """Whether a fuse's rated voltage covers a supply.

    The rated voltage must reach the upper limit; as fuses are rated by nominal system voltages, one
    that reaches the nominal value and is exceeded by less than 6 % stays in use (250 V on 230 V).
    """
    return rated >= high or (rated >= nominal and high <= rated * 1.06)


@calculator(
    "fuses.scale",
    "Fuse for another supply",
    question="Which fuse does a unit need whose primary was re-connected for another supply?",
    # common practice, no source: 80 mA on 230 V is 160 mA on 115 V.
    example={"old_volt": 230.0, "new_volt": 115.0, "old_mark": "T80mAL250V"},
)
def scale(given: ScaleIn) -> Answer[FuseProposal]:
    """Scale the line fuse of a re-connected primary to the new mains voltage.

    Units: V, mA. Formula: I_new = I_old V_old / V_new, then the nearest R10 member by ratio.
    The maker's marking for the target supply wins. Characteristic and breaking capacity are kept,
    the rated voltage is kept or raised. Raises BadInput for a fuse in no series.
    Source: power balance; IEC 60127-1 for the series.
    """
    given = fit(given)
    maker = _maker(given)
    old, scaled = _old(given, maker)
    high = _high(given)
    if scaled is None and maker is None:
        return _past_the_series(given, old)
    proposal = _proposal(given, old, maker, scaled, high)
    loud = _needs_a_look(given, old, proposal)
    sources = [*SOURCES, BREAKING_SOURCE, GATE_SOURCE]
    if "ul" in (old.standard, maker.standard if maker else ""):
        sources += [UL_RATIO_SOURCE, UL_BREAKING_SOURCE]
    working = Working(
        working_lines(_formula(given, old), proposal, high),
        sources,
        [
            *cautions(
                old,
                proposal,
                given.position,
                given.primary_reconnected,
                rated_volt_suffices(proposal.rated_volt, given.new_volt, high),
            ),
            *traps(given, old, proposal, _is_far_off(given)),
        ],
        [_("A 250 V fuse on a 230 V supply lies below its upper limit of 253 V and is in use.")]
        if proposal.rated_volt < high <= proposal.rated_volt * 1.06
        else [],
    )
    return Answer(Outcome.WARN if loud else Outcome.OK, sentence(proposal), proposal, working)


def _maker(given: ScaleIn) -> FuseMark | None:
    if given.maker_marking is None or not given.maker_marking.strip():
        return None
    if len(given.maker_marking) > 40:
        raise BadInput("maker_marking", _("a marking has at most 40 characters"))
    try:
        return read_mark(given.maker_marking, "maker_marking")
    except BadInput as refused:
        # Plates for North American supplies name UL ratings; what is in neither series is refused.
        with suppress(BadInput):
            return read_mark(given.maker_marking, "maker_marking", "ul")
        raise refused from None


def _old(given: ScaleIn, maker: FuseMark | None) -> tuple[FuseMark, Scaled | None]:
    """The old fuse and what it scales to; the maker's stands in where the old one is unknown."""
    if given.old_mark is None:
        if maker is None:
            raise BadInput("old_mark", _("give the old fuse or the maker's marking"))
        return maker, None
    old = read_mark(given.old_mark, "old_mark", given.old_standard)
    return old, _scaled(given, old)


def _high(given: ScaleIn) -> float:
    high = given.supply_high_volt
    if high is None:
        return given.new_volt * 1.1
    if not given.new_volt <= high <= 1100:
        raise BadInput("supply_high_volt", _("the upper limit must not lie below the supply"))
    return high


def _scaled(given: ScaleIn, old: FuseMark) -> Scaled | None:
    if is_kept(given):
        return kept(old)
    return scale_current(old, given.old_volt / given.new_volt)


def _proposal(
    given: ScaleIn, old: FuseMark, maker: FuseMark | None, scaled: Scaled | None, high: float
) -> FuseProposal:
    computed = _fuse(old, scaled.pick, given.new_volt, high) if scaled else None
    chosen = maker or computed
    assert chosen is not None  # noqa: S101  # scale() has answered already when both are missing
    lower, higher = around(chosen.current_milliampere)
    residual = scaled.residual_percent if scaled else 0.0
    letter = chosen.breaking_letter
    current = chosen.current_milliampere
    return FuseProposal(
        mark=chosen.text(),
        from_maker=maker is not None,
        current_milliampere=current,
        current_text=in_words(current),
        characteristic=chosen.characteristic,
        breaking_letter=letter,
        breaking_capacity_ampere=breaking_capacity_ampere(letter, current / 1000)
        if letter
        else None,
        rated_volt=chosen.rated_volt or _volt_class(None, given.new_volt, high),
        old_rated_volt_suffices=None
        if old.rated_volt is None or given.old_mark is None
        else rated_volt_suffices(old.rated_volt, given.new_volt, high),
        computed_mark=computed.text() if computed else None,
        exact_milliampere=_exact(given, old, scaled),
        steps=scaled.steps if scaled else 0,
        residual_percent=residual,
        lower_milliampere=lower,
        higher_milliampere=higher,
        show_lower=residual > 1e-9 or abs(residual) > QUIET_PERCENT,
        show_higher=abs(residual) > QUIET_PERCENT,
        steps_from_maker=_steps_between(computed, maker),
    )


def _exact(given: ScaleIn, old: FuseMark, scaled: Scaled | None) -> float | None:
    if given.old_mark is None:
        return None
    return scaled.exact if scaled else old.current_milliampere * given.old_volt / given.new_volt


def _is_far_off(given: ScaleIn) -> bool:
    """Whether a winding that was not re-connected is asked to take quite another supply."""
    off = abs(given.new_volt / given.old_volt - 1)
    return not given.primary_reconnected and off > SAME_WINDING_WITHIN + 1e-9


def _formula(given: ScaleIn, old: FuseMark) -> str:
    if given.old_mark is None:
        return _("old fuse unknown")
    if is_kept(given):
        return _("{current}, unchanged", current=in_words(old.current_milliampere))
    factor = f"{CONTINUOUS_LOAD_OF_UL:g} × " if old.standard == "ul" else ""
    current = in_words(old.current_milliampere)
    return f"{factor}{current} × {given.old_volt:g} V / {given.new_volt:g} V"


def _fuse(old: FuseMark, milliampere: float, nominal: float, high: float) -> FuseMark:
    volt = _volt_class(old.rated_volt, nominal, high)
    return FuseMark(milliampere, old.characteristic, old.breaking_letter, volt)


def _volt_class(old: int | None, nominal: float, high: float) -> int:
    """Keep or raise: never below the old rating, never below 250 V."""
    classes = [volt for volt in (250, 300, 350, 500, 600, 1000) if volt >= (old or 0)]
    enough = [volt for volt in classes if rated_volt_suffices(volt, nominal, high)]
    if old is not None and old > 250 and rated_volt_suffices(old, nominal, high):
        return old
    return enough[0] if enough else 1000


def _steps_between(computed: FuseMark | None, maker: FuseMark | None) -> int | None:
    if computed is None or maker is None:
        return None
    places = R10_MILLIAMPERE.index
    share = CONTINUOUS_LOAD_OF_UL if maker.standard == "ul" else 1.0
    return places(nearest(maker.current_milliampere * share)) - places(
        nearest(computed.current_milliampere)
    )


def _needs_a_look(given: ScaleIn, old: FuseMark, proposal: FuseProposal) -> bool:
    unchecked = proposal.computed_mark is None and given.old_mark is not None
    maker_differs = unchecked or abs(proposal.steps_from_maker or 0) > 1
    unsure = not proposal.from_maker and proposal.show_higher
    volt_short = proposal.old_rated_volt_suffices is False
    too_low = not rated_volt_suffices(proposal.rated_volt, given.new_volt, _high(given))
    no_letter = proposal.characteristic is None
    odd = _is_far_off(given) or bool(traps(given, old, proposal, False))
    return maker_differs or unsure or volt_short or too_low or no_letter or old.unit_assumed or odd


def _past_the_series(given: ScaleIn, old: FuseMark) -> Answer[FuseProposal]:
    exact = old.current_milliampere * given.old_volt / given.new_volt
    text = _(
        "{exact} lies outside the series (32 mA to 20 A); no fuse is proposed.",
        exact=in_words(round(exact, 1)),
    )
    lines = [Line(_("exact current"), _formula(given, old), in_words(round(exact, 1)))]
    return Answer(Outcome.NO_ANSWER, text, None, Working(lines, list(SOURCES)))
