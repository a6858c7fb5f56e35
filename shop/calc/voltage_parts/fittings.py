"""Lamps, switches, plugs and the rest of what belongs to one supply voltage."""

from __future__ import annotations

from collections.abc import Callable

from shop.calc.fuses.scale import rated_volt_suffices
from shop.calc.voltage_parts.capacitors import check_varistor, check_x, check_y
from shop.calc.voltage_parts.parts import CheckIn, Item, Part, Verdict
from shop.calc.words import _
from shop.calc.working import BadInput, Source, Status

NEON_SOURCE = Source(
    "R = (V_mains − V_maintain) / I, W = I² R",
    Status.SECOND_HAND,
    "studylib.net/doc/25395895/avicenna-s-solution---neon-lamps",
)
STRIKE_SOURCE = Source(
    "Neon strikes near 90 V and maintains 60 to 70 V at 0.3 to 1 mA",
    Status.SECOND_HAND,
    "cal16.calculator.city/ne-2-resistor-calculator/",
)
SWITCH_SOURCE = Source("IEC 61058-1: volts and ampere of the switch", Status.FROM_MEMORY)
LINK_SOURCE = Source("IEC 60691, IEC 61558-1: thermal links", Status.FROM_MEMORY)
PLATE_SOURCE = Source("IEC 62368-1 annex F, IEC 60065 clause 5: rating plate", Status.FROM_MEMORY)
FUSE_SOURCE = Source("Rated volts of a fuse against the supply", Status.COMPUTED)
FREQUENCY_SOURCE = Source("Synchronous speed follows the frequency", Status.COMPUTED)
WIRING_SOURCE = Source("Internal wiring insulated for 300 V r.m.s.", Status.FROM_MEMORY)
LEAST_ABOVE_MAINTAIN_VOLT = 10.0
FITTED_MORE = 1.25  # times the lamp's current that a fitted resistor may let through
SAME_WITHIN = 0.06  # 120 V outlets on 117 V have not changed
OURS = Source("Checklist of a mains conversion", Status.PROPOSED)


def neon_resistor(mains_volt: float, maintain_volt: float, ampere: float) -> tuple[float, float]:
    """Series resistor of a neon in ohm and its watts. R = (V − V_m) / I; P = I² R."""
    ohm = (mains_volt - maintain_volt) / ampere
    return ohm, ampere**2 * ohm


def _fuse(given: CheckIn, part: Part, high: float) -> Item:
    numbers = {"upper_limit_volt": high}
    if part.rated_volt is None:
        reason = _("read the rated voltage; 250 V for supplies of 220 to 240 V")
        return _item(part, "check", reason, numbers, FUSE_SOURCE)
    if rated_volt_suffices(part.rated_volt, given.nominal_volt, high):
        return _item(
            part,
            "check",
            _("volts suffice; the current follows the fuse proposal"),
            numbers,
            FUSE_SOURCE,
        )
    reason = _("{volt:g} V fuse on a {nominal:g} V supply", volt=part.rated_volt,
               nominal=given.nominal_volt)  # fmt: skip
    return _item(part, "replace", reason, numbers, FUSE_SOURCE)


def _neon(given: CheckIn, part: Part, high: float) -> Item:
    if given.nominal_volt < part.maintain_volt + LEAST_ABOVE_MAINTAIN_VOLT:
        raise BadInput("parts.maintain_volt", _("the neon would not light on this supply"))
    ohm, watt = neon_resistor(given.nominal_volt, part.maintain_volt, part.lamp_ampere)
    hot = neon_resistor(high, part.maintain_volt, part.lamp_ampere)[0] / ohm
    numbers = {"series_ohm": ohm, "watt": watt, "watt_at_upper_limit": watt * hot**2}
    sources = [NEON_SOURCE, STRIKE_SOURCE]
    if part.resistance_ohm is None:
        return _item(part, "check", _("read the series resistor"), numbers, *sources)
    if not 100 <= part.resistance_ohm <= 1e8:
        raise BadInput("parts.resistance_ohm", _("a neon's resistor lies above 100 ohm"))
    now = (given.nominal_volt - part.maintain_volt) / part.resistance_ohm
    numbers["current_with_fitted_milliampere"] = now * 1000
    if now > part.lamp_ampere * FITTED_MORE:
        reason = _("the fitted resistor lets {now:.2f} mA through", now=now * 1000)
        return _item(part, "replace", reason, numbers, *sources)
    return _item(part, "keep", _("the fitted resistor keeps the current down"), numbers, *sources)


def _by_volt(given: CheckIn, part: Part, high: float) -> Item:
    """Pilot lamp, switch: rated volts against the supply."""
    source = SWITCH_SOURCE if part.kind == "switch" else OURS
    numbers = {"upper_limit_volt": high}
    if part.rated_volt is None:
        return _item(part, "check", _("read its rated voltage"), numbers, source)
    if part.kind == "pilot_lamp":
        numbers["share_of_rated"] = given.nominal_volt / part.rated_volt
        if not 0.85 <= given.nominal_volt / part.rated_volt <= 1.1:
            return _item(part, "replace", _("made for another voltage"), numbers, source)
        return _item(part, "keep", _("made for this voltage"), numbers, source)
    if not rated_volt_suffices(part.rated_volt, given.nominal_volt, high):
        return _item(part, "replace", _("marked for less than this supply"), numbers, source)
    return _by_ampere(given, part, numbers, source)


def _by_ampere(given: CheckIn, part: Part, numbers: dict[str, float], source: Source) -> Item:
    if part.rated_ampere is not None and given.line_ampere is not None:
        numbers["line_ampere"] = given.line_ampere
        if part.rated_ampere < given.line_ampere:
            return _item(part, "replace", _("marked for less current"), numbers, source)
    if part.rated_ampere is None:
        return _item(part, "check", _("volts suffice; read its ampere"), numbers, source)
    return _item(part, "keep", _("volts and ampere suffice"), numbers, source)


def _plug(given: CheckIn, part: Part, _high: float) -> Item:
    letters = ", ".join(given.plug_letters) or "?"
    if part.plug_letter is None or not given.plug_letters:
        reason = _("plugs of the country: {letters}", letters=letters)
        return _item(part, "check", reason, {}, OURS)
    if part.plug_letter in given.plug_letters:
        return _item(part, "keep", _("fits the country's sockets"), {}, OURS)
    reason = _("plug {have}; the country has {letters}", have=part.plug_letter, letters=letters)
    return _item(part, "replace", reason, {}, OURS)


def _cord(given: CheckIn, part: Part, high: float) -> Item:
    numbers = {"upper_limit_volt": high}
    if given.line_ampere is not None:
        numbers["line_ampere"] = given.line_ampere
    reason = _("cross-section by the new current; each core's colour proved by a reading")
    if given.old_nominal_volt is not None and given.old_nominal_volt > given.nominal_volt:
        share = given.old_nominal_volt / given.nominal_volt
        reason = _("the current rises {share:.2f} times: cross-section anew", share=share)
        numbers["current_factor"] = share
    if part.rated_volt is not None and part.rated_volt < high:
        return _item(part, "replace", _("marked for less than this supply"), numbers, OURS)
    return _item(part, "check", reason, numbers, OURS)


def is_other_voltage(old_volt: float, new_volt: float) -> bool:
    """Whether an outlet carries another voltage than its plate says: more than 6 % off."""
    return abs(new_volt / old_volt - 1) > SAME_WITHIN


def _rear_outlet(given: CheckIn, part: Part, _high: float) -> Item:
    old = given.old_nominal_volt
    if old is not None and not is_other_voltage(old, given.nominal_volt):
        return _item(part, "keep", _("carries about the voltage it is marked for"), {}, OURS)
    reason = _("carries {volt:g} V now: remove, blank or relabel", volt=given.nominal_volt)
    return _item(part, "replace", reason, {}, OURS)


def _motor(given: CheckIn, part: Part, high: float) -> Item:
    numbers = {"upper_limit_volt": high}
    if given.old_hz is not None:
        numbers["speed_factor"] = given.hz / given.old_hz
        if given.hz != given.old_hz:
            reason = _("a synchronous motor runs at {share:.3f} times its speed",
                       share=given.hz / given.old_hz)  # fmt: skip
            return _item(part, "replace", reason, numbers, FREQUENCY_SOURCE)
    if part.rated_volt is not None and not 0.9 <= given.nominal_volt / part.rated_volt <= 1.1:
        reason = _("made for another voltage")
        return _item(part, "replace", reason, numbers, FREQUENCY_SOURCE)
    return _item(part, "check", _("read its volts and hertz"), numbers, FREQUENCY_SOURCE)


def _always(
    reason: Callable[[], str], source: Source, verdict: Verdict = "check"
) -> Callable[[CheckIn, Part, float], Item]:
    def item(_given: CheckIn, part: Part, _high: float) -> Item:
        return _item(part, verdict, reason(), {}, source)

    return item


def _item(
    part: Part, verdict: Verdict, reason: str, numbers: dict[str, float], *sources: Source
) -> Item:
    return Item(part.kind, part.name or part.kind, verdict, reason, numbers, list(sources))


CHECKS: dict[str, Callable[[CheckIn, Part, float], Item]] = {
    "fuse": _fuse,
    "varistor": check_varistor,
    "x_capacitor": check_x,
    "y_capacitor": check_y,
    "line_to_chassis_capacitor": check_y,
    "neon": _neon,
    "pilot_lamp": _by_volt,
    "switch": _by_volt,
    "cord": _cord,
    "plug": _plug,
    "rear_outlet": _rear_outlet,
    "thermal_link": _always(
        lambda: _("continuity of each; in parallel each section needs its own"), LINK_SOURCE
    ),
    "motor": _motor,
    "selector": _always(lambda: _("lock or remove; blank the unused position"), OURS),
    "internal_wiring": _always(
        lambda: _("insulated for 300 V or more; cross-section by the new current"), WIRING_SOURCE
    ),
    "rating_plate": _always(
        lambda: _("re-mark volts, hertz, current or power, fuse beside its holder, date, shop"),
        PLATE_SOURCE,
        "replace",
    ),
}
