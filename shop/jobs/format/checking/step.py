"""The checks of one step against those before it."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _

from shop.jobs.format.bench_conditions import can_hold, steps_in
from shop.jobs.format.checking.grids import check_ramp, check_table
from shop.jobs.format.checking.limits import (
    check_fixed_band,
    check_points,
    check_unit,
)
from shop.jobs.format.checking.seen import Seen, Step
from shop.jobs.format.checking.values import Checker
from shop.jobs.format.problems import Path

# Fields that only some kinds have, for what a case of `variants` may change.
OWN_FIELDS = {
    "look": {"choices"},
    "reading": {"quantity", "unit", "band", "rule", "meter_kinds", "blocks"},
    "table": {"table", "rule", "meter_kinds", "blocks"},
    "ramp": {"ramp"},
    "timer": {"seconds", "waiting_text"},
    "take_part": {"part", "quantity"},
    "sign_off": {"role", "other_person"},
}  # fmt: skip
ANY_KIND = {"title", "text", "cautions", "pictures", "required", "work"}
# Steps that packing itself puts before the first energised one.
TAKEN_IDS = {"isolation", "second-person"}


def has_limits(band: dict[str, Any] | None) -> bool:
    """Whether a band has a limit at all; `{"low": null}` has none."""
    if not band:
        return False
    return "along" in band or any(band.get(side) is not None for side in ("low", "high"))


class StepCheck:
    """The checks of one step."""

    def __init__(
        self, step: Step, path: Path, checker: Checker, seen: Seen, block: Path | None
    ) -> None:
        self.step, self.path, self.checker, self.seen, self.block = step, path, checker, seen, block

    def run(self) -> None:
        if self.step["id"] in self.seen.steps:
            self._add("id", _("The id %r stands twice.") % self.step["id"])
        if self.step["id"] in TAKEN_IDS:
            self._add("id", _("%r is an id that the shop's own steps have.") % self.step["id"])
        self._conditions()
        self._safety()
        self._fields(self.step, self.path)
        self._variants()
        self._blocks()
        self._writes()

    def _add(self, name: str, reason: object) -> None:
        self.checker.add((*self.path, name), reason)

    def _conditions(self) -> None:
        if "when_fact" in self.step:
            self.checker.fact_condition(self.step["when_fact"], (*self.path, "when_fact"))
        when = self.step.get("when")
        known = [self._look(name, keys, "when") for name, keys in steps_in(when)]
        if when and all(known) and not can_hold(when, self.seen.keys, self.seen.conditions):
            self._add("when", _("This condition can never hold."))

    def _look(self, name: str, keys: list[str], where: str) -> bool:
        """Whether `name` is an earlier look step with these choices."""
        if self.seen.kind(name) != "look":
            self._add(where, _("%r is no earlier look step.") % name)
            return False
        unknown = [key for key in keys if key not in self.seen.keys[name]]
        for key in unknown:
            self._add(where, _("%r is no choice of %r.") % (key, name))
        return not unknown

    def _safety(self) -> None:
        step = self.step
        needs = {
            "mains": _("A step that touches mains needs a caution before it."),
            "energised": _("A step with power on needs a caution before it."),
        }
        asking = [name for name in needs if step.get(name)]
        if asking and not self.seen.has_caution(step, self.block):
            for name in asking:
                self._add(name, needs[name])
        if not step.get("safety"):
            return
        if step.get("required") is False:
            self._add("required", _("A safety step is always required."))
        for name, _keys in steps_in(step.get("when")):
            if name in self.seen.steps and not self.seen.is_safety(name):
                reason = _("A safety step may hang only on safety steps; %r can be skipped.")
                self._add("when", reason % name)

    def _fields(self, step: Step, path: Path) -> None:
        """Fields that a step and its variants share."""
        checker = self.checker
        self._texts(step, path)
        checker.number(step.get("seconds"), (*path, "seconds"), "s")
        if isinstance(step.get("seconds"), int | float) and step["seconds"] < 0:
            checker.add((*path, "seconds"), _("No time is shorter than none."))
        if "work" in step:
            checker.expression({"work": step["work"]}, (*path, "work"))
        if "part" in step and step["part"] not in checker.scope.parts:
            checker.add((*path, "part"), _("%r is not among the parts.") % step["part"])
        self._choices(step, path)
        self._reading(step, path)
        self._part(step, path)
        if "ramp" in step:
            check_ramp(step["ramp"], (*path, "ramp"), checker)
        if "table" in step:
            blocks = bool(step.get("blocks", self.step.get("blocks")))
            check_table(step["table"], (*path, "table"), checker, blocks=blocks)

    def _texts(self, step: Step, path: Path) -> None:
        checker = self.checker
        for name in ("group", "title", "text", "waiting_text"):
            checker.text(step.get(name), (*path, name))
        for index, text in enumerate(step.get("cautions", [])):
            checker.text(text, (*path, "cautions", index))
        for index, picture in enumerate(step.get("pictures", [])):
            checker.text(picture.get("caption"), (*path, "pictures", index, "caption"))
        for index, choice in enumerate(step.get("choices", [])):
            checker.text(choice["label"], (*path, "choices", index, "label"))
            checker.text(choice.get("text"), (*path, "choices", index, "text"))

    def _choices(self, step: Step, path: Path) -> None:
        choices = step.get("choices", [])
        keys = [choice["key"] for choice in choices]
        for index, choice in enumerate(choices):
            at = (*path, "choices", index)
            if keys.index(choice["key"]) < index:
                self.checker.add(at, _("The key %r stands twice.") % choice["key"])
            failed_safety = self.step.get("safety") and choice.get("verdict") == "fail"
            if choice.get("goes_on") and not failed_safety:
                reason = _("Only a failed choice of a safety step can say that work goes on.")
                self.checker.add((*at, "goes_on"), reason)
        if choices and all(choice.get("verdict") == "fail" for choice in choices):
            self.checker.add((*path, "choices"), _("Every choice fails: this can never be passed."))

    def _reading(self, step: Step, path: Path) -> None:
        """Unit and limits of a reading."""
        if self.step["kind"] != "reading":
            return
        quantity = step.get("quantity", self.step["quantity"])
        if not isinstance(quantity, str):
            self.checker.add((*path, "quantity"), _("A reading is of a quantity."))
            return
        check_unit(step, quantity, path, self.checker)
        band = step.get("band") or {}
        if "along" not in band:
            check_fixed_band(band, (*path, "band"), self.checker, quantity)
            return
        check_points(band, (*path, "band"), self.checker)
        self._along(band["along"], (*path, "band", "along"))

    def _along(self, name: str, path: Path) -> None:
        """The other reading is an earlier one, of the same turn, and there whenever this is."""
        if self.seen.kind(name) != "reading":
            self.checker.add(path, _("%r is no earlier reading.") % name)
        elif self.seen.blocks[name] not in (None, self.block):
            self.checker.add(path, _("%r is repeated elsewhere; which turn is meant?") % name)
        elif self.seen.can_be_hidden(name, self.step):
            self.checker.add(path, _("%r can be hidden while this is shown.") % name)

    def _part(self, step: Step, path: Path) -> None:
        if self.step["kind"] != "take_part" or "quantity" not in step:
            return
        if isinstance(step["quantity"], str):
            self.checker.add((*path, "quantity"), _("How many pieces is a number."))
        self.checker.number(step["quantity"], (*path, "quantity"))

    def _variants(self) -> None:
        variants = self.step.get("variants")
        if not variants:
            return
        keys = variants["keys"]
        if not all(self._look(name, [], "variants") for name in keys):
            return
        for case, changes in variants["cases"].items():
            path = (*self.path, "variants", "cases", case)
            self._case(case, keys, path)
            for name in changes.keys() - ANY_KIND - OWN_FIELDS.get(self.step["kind"], set()):
                self.checker.add((*path, name), _("A step of this kind has no %r.") % name)
            if self.step.get("safety"):
                self._no_laxer(changes, path)
            self._fields(changes, path)

    def _no_laxer(self, changes: dict[str, Any], path: Path) -> None:
        """Whatever was chosen, a safety step stays one: required, passed, with limits."""
        if changes.get("required") is False:
            self.checker.add((*path, "required"), _("A safety step is always required."))
        if not self.step.get("blocks"):
            return
        if changes.get("blocks") is False:
            self.checker.add((*path, "blocks"), _("A safety reading must pass in every case."))
        if "band" in changes and not has_limits(changes["band"]):
            self.checker.add((*path, "band"), _("A reading that must pass needs limits."))

    def _case(self, case: str, keys: list[str], path: Path) -> None:
        chosen = case.split("|")
        if len(chosen) != len(keys):
            self.checker.add(path, _("This case must name %d choices.") % len(keys))
            return
        for name, key in zip(keys, chosen, strict=True):
            if key not in self.seen.keys[name]:
                self.checker.add(path, _("%r is no choice of %r.") % (key, name))

    def _blocks(self) -> None:
        """A reading that must pass needs something to pass."""
        cases = self.step.get("variants", {}).get("cases", {}).values()
        bands = [self.step.get("band"), *(case.get("band") for case in cases)]
        is_judged = any(has_limits(band) for band in bands)
        if self.step["kind"] == "reading" and self.step.get("blocks") and not is_judged:
            self._add("blocks", _("A reading that must pass needs limits."))

    def _writes(self) -> None:
        writes = self.step.get("writes")
        if writes == "sheet.idle_watt" and self.step.get("quantity") != "power":
            self._add("writes", _("Only a reading of power can be noted as idle power."))
        if writes == "unit.set_for" and self.step["kind"] != "look":
            self._add("writes", _("Only a look step can say what the unit is now set for."))
