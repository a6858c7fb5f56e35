"""The sentences and the working of a scaled fuse."""

from __future__ import annotations

from shop.calc.fuses.gates import ul_breaking_ampere
from shop.calc.fuses.marking import MARKING_SOURCES, FuseMark
from shop.calc.fuses.proposal import FuseProposal
from shop.calc.fuses.scale_input import ScaleIn
from shop.calc.fuses.series import SERIES_MEMORY, SERIES_SOURCE, in_words
from shop.calc.words import _
from shop.calc.working import Line, Source, Status

TOP_5_X_20 = 10000.0  # mA
SOURCES = [
    Source("Power balance: volt-amperes of a re-connected primary are unchanged", Status.COMPUTED),
    SERIES_SOURCE,
    SERIES_MEMORY,
    MARKING_SOURCES[0],
    MARKING_SOURCES[1],
    Source(
        "Substitution: never a higher current, lower voltage, slower kind or lower breaking "
        "capacity",
        Status.SECOND_HAND,
        "mypdh.engineer/lessons/proper-type-of-replacement-fuse/",
    ),
    Source("Neighbours shown from a residual of 6 %", Status.PROPOSED),
    Source("Rated volts by nominal system voltage, upper limit up to 6 % above", Status.PROPOSED),
]


def sentence(proposal: FuseProposal) -> str:
    """One sentence for a tech: the maker's fuse, or the computed proposal."""
    if not proposal.from_maker:
        return _("Proposed fuse: {mark}, to be confirmed.", mark=proposal.mark)
    if proposal.computed_mark is None:
        return _("The maker's marking holds: {mark}.", mark=proposal.mark)
    return _(
        "The maker's marking holds: {mark} (computed for comparison: {computed}).",
        mark=proposal.mark,
        computed=proposal.computed_mark,
    )


def working_lines(formula: str, proposal: FuseProposal, high: float) -> list[Line]:
    """The way from the old rating to the proposal."""
    exact = proposal.exact_milliampere
    lines = [
        Line(_("exact current"), formula, "–" if exact is None else in_words(round(exact, 3))),
        Line(_("upper limit of the supply"), "V_max", f"{high:g} V"),
    ]
    lines.append(Line(_("computed pick"), "R10, nearest by ratio", proposal.computed_mark or "–"))
    lines.append(Line(_("places in the list"), "R10", f"{proposal.steps:+d}"))
    lines.append(
        Line(
            _("pick against exact"),
            "(pick / exact − 1) × 100",
            f"{proposal.residual_percent:+.1f} %",
        )
    )
    return lines


def cautions(
    old: FuseMark, proposal: FuseProposal, position: str, reconnected: bool, volts_suffice: bool
) -> list[str]:
    """What stands beside the answer wherever it is shown."""
    said = [
        _("A computed fuse is a proposal for a competent person to confirm."),
        _("The maker's marking for the target supply always wins over a computed value."),
        _("Local codes and licensed practice come first."),
    ]
    said += _about_current(proposal)
    said += _about_kind(old, proposal)
    if not volts_suffice:
        said.append(
            _(
                "The marking says {volt} V, too little for this supply: ask before fitting.",
                volt=proposal.rated_volt,
            )
        )
    if position == "winding":
        said.append(_("A fuse in each winding stays: the current of a winding is unchanged."))
    elif not reconnected:
        said.append(_("The primary was not re-connected: the old rating stays."))
    return said


def traps(given: ScaleIn, old: FuseMark, proposal: FuseProposal, is_far_off: bool) -> list[str]:
    """What makes the proposal other than it looks; each is a warning."""
    said = []
    if is_far_off:
        said.append(
            _(
                "{new:g} V on a winding made for {old:g} V is no matter of fuses: do not power it.",
                new=given.new_volt,
                old=given.old_volt,
            )
        )
    if old.standard == "ul" and not proposal.from_maker and is_kept(given):
        said.append(
            _(
                "{current} is a UL rating: an IEC fuse of that number opens far later.",
                current=in_words(old.current_milliampere),
            )
        )
    if proposal.current_milliampere > TOP_5_X_20 >= old.current_milliampere:
        said.append(
            _("Fuses of 5 × 20 mm end at 10 A, by older editions at 6.3 A: holder and wiring too?")
        )
    return said


def is_kept(given: ScaleIn) -> bool:
    """Whether the old rating stays: a winding's current, or the same winding's, is unchanged."""
    return given.position == "winding" or not given.primary_reconnected


def _about_current(proposal: FuseProposal) -> list[str]:
    said = []
    if proposal.show_lower and proposal.lower_milliampere and not proposal.from_maker:
        said.append(
            _("Next lower member: {current}.", current=in_words(proposal.lower_milliampere))
        )
    if proposal.show_higher and proposal.higher_milliampere and not proposal.from_maker:
        said.append(
            _(
                "Next higher member, for comparison only: {current}.",
                current=in_words(proposal.higher_milliampere),
            )
        )
    if abs(proposal.steps_from_maker or 0) > 1:
        said.append(
            _("Maker's marking and computed value are more than one step apart: find out why.")
        )
    return said


def _about_kind(old: FuseMark, proposal: FuseProposal) -> list[str]:
    said = []
    if proposal.old_rated_volt_suffices is False:
        said.append(
            _("The old fuse is rated {volt} V, too little for this supply.", volt=old.rated_volt)
        )
    if old.standard == "ul" and proposal.rated_volt > 125:
        breaks = ul_breaking_ampere(old.current_milliampere / 1000, 250)
        if breaks is not None:
            said.append(
                _(
                    "A UL fuse of {current} breaks {ampere:g} A at 250 V, against 10 kA at 125 V.",
                    current=in_words(old.current_milliampere),
                    ampere=breaks,
                )
            )
    if old.unit_assumed:
        said.append(_("The old marking names no unit of current."))
    if proposal.characteristic is None:
        said.append(
            _("Characteristic unknown: read it from the unit; never fit a slower kind by guess.")
        )
    if proposal.characteristic in ("F", "FF"):
        said.append(
            _("A quick fuse in a transformer primary only where the unit's own marking says so.")
        )
    if proposal.breaking_letter is None:
        said.append(_("Breaking capacity unknown: never fit a lower one than the old fuse had."))
    return said
