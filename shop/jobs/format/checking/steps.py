"""Checks of the steps: ids, order, references, units, safety."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from django.utils.translation import gettext as _

from shop.calc.quantities import RULES, Quantity
from shop.jobs.format.bench_conditions import can_hold, steps_in
from shop.jobs.format.checking.ramps import check_ramp
from shop.jobs.format.checking.scope import Scope
from shop.jobs.format.checking.values import Checker
from shop.jobs.format.problems import Findings, Path


@dataclass
class Seen:
    """What earlier steps offer to later ones."""

    kinds: dict[str, str] = field(default_factory=dict)
    blocks: dict[str, Path | None] = field(default_factory=dict)
    keys: dict[str, list[str]] = field(default_factory=dict)
    conditions: dict[str, Any] = field(default_factory=dict)
    safety: set[str] = field(default_factory=set)
    quantities: dict[str, str] = field(default_factory=dict)
    has_caution: bool = False

    def add(self, step: dict[str, Any], block: Path | None) -> None:
        name = step["id"]
        self.kinds[name], self.blocks[name] = step["kind"], block
        self.conditions[name] = step.get("when")
        if isinstance(step.get("quantity"), str):
            self.quantities[name] = step["quantity"]
        if step.get("safety"):
            self.safety.add(name)
        if step["kind"] == "look":
            self.keys[name] = [choice["key"] for choice in _all_choices(step)]
        self.has_caution = self.has_caution or step["kind"] == "caution"


def _all_choices(step: dict[str, Any]) -> Iterator[dict[str, Any]]:
    yield from step["choices"]
    for case in step.get("variants", {}).get("cases", {}).values():
        yield from case.get("choices", [])


def check_steps(body: dict[str, Any], scope: Scope, found: Findings) -> None:
    """Check every step in order, each against those before it."""
    seen = Seen()
    for step, path, inside, block in _placed(body, scope, found):
        checker = Checker(inside, found, step["id"])
        _StepCheck(step, path, checker, seen, block).run()
        seen.add(step, block)


def _placed(
    body: dict[str, Any], scope: Scope, found: Findings
) -> Iterator[tuple[dict[str, Any], Path, Scope, Path | None]]:
    """Every step with its path, its scope, and the block it is repeated with."""
    for index, entry in enumerate(body["steps"]):
        path: Path = ("steps", index)
        step_id = entry.get("id")
        checker = Checker(scope, found, step_id)
        if "when_fact" in entry and "steps" in entry:
            checker.fact_condition(entry["when_fact"], (*path, "when_fact"))
        inside = scope
        if "repeat" in entry:
            inside = checker.loop(entry["repeat"], (*path, "repeat"))
        if "steps" not in entry:
            yield entry, path, inside, path if "repeat" in entry else None
            continue
        for number, step in enumerate(entry["steps"]):
            if "repeat" in step:
                found.add((*path, "steps", number, "repeat"), _("No loop in a loop."), step["id"])
            yield step, (*path, "steps", number), inside, path


class _StepCheck:
    """The checks of one step."""

    def __init__(
        self, step: dict[str, Any], path: Path, checker: Checker, seen: Seen, block: Path | None
    ) -> None:
        self.step, self.path, self.checker, self.seen, self.block = step, path, checker, seen, block

    def run(self) -> None:
        if self.step["id"] in self.seen.kinds:
            self._add("id", _("The id %r stands twice.") % self.step["id"])
        self._conditions()
        self._safety()
        self._fields(self.step, self.path)
        self._variants()
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
        if self.seen.kinds.get(name) != "look":
            self._add(where, _("%r is no earlier look step.") % name)
            return False
        unknown = [key for key in keys if key not in self.seen.keys[name]]
        for key in unknown:
            self._add(where, _("%r is no choice of %r.") % (key, name))
        return not unknown

    def _safety(self) -> None:
        step = self.step
        if step.get("mains") and not self.seen.has_caution:
            self._add("mains", _("A step that touches mains needs a caution before it."))
        if not step.get("safety"):
            return
        if step.get("required") is False:
            self._add("required", _("A safety step is always required."))
        for name, _keys in steps_in(step.get("when")):
            if name in self.seen.kinds and name not in self.seen.safety:
                reason = _("A safety step may hang only on safety steps; %r can be skipped.")
                self._add("when", reason % name)

    def _fields(self, step: dict[str, Any], path: Path) -> None:
        """Fields that a step and its variants share."""
        checker = self.checker
        for name in ("group", "title", "text", "waiting_text"):
            checker.text(step.get(name), (*path, name))
        for index, text in enumerate(step.get("cautions", [])):
            checker.text(text, (*path, "cautions", index))
        for index, choice in enumerate(step.get("choices", [])):
            checker.text(choice["label"], (*path, "choices", index, "label"))
            checker.text(choice.get("text"), (*path, "choices", index, "text"))
        checker.expression(step.get("seconds"), (*path, "seconds"))
        if "work" in step:
            checker.expression({"work": step["work"]}, (*path, "work"))
        if "part" in step and step["part"] not in checker.scope.parts:
            checker.add((*path, "part"), _("%r is not among the parts.") % step["part"])
        self._choices(step, path)
        self._unit(step, path)
        self._band(step.get("band"), (*path, "band"))
        if "ramp" in step:
            check_ramp(step["ramp"], (*path, "ramp"), checker)

    def _choices(self, step: dict[str, Any], path: Path) -> None:
        keys = [choice["key"] for choice in step.get("choices", [])]
        for index, key in enumerate(keys):
            if keys.index(key) < index:
                self.checker.add((*path, "choices", index), _("The key %r stands twice.") % key)
        for index, choice in enumerate(step.get("choices", [])):
            failed_safety = self.step.get("safety") and choice.get("verdict") == "fail"
            if choice.get("goes_on") and not failed_safety:
                reason = _("Only a failed choice of a safety step can say that work goes on.")
                self.checker.add((*path, "choices", index, "goes_on"), reason)

    def _unit(self, step: dict[str, Any], path: Path) -> None:
        quantity = step.get("quantity", self.step.get("quantity"))
        if "unit" not in step or not isinstance(quantity, str):
            return
        rule = RULES[Quantity(quantity)]
        if step["unit"] not in (rule.unit, rule.symbol):
            reason = _("The unit of %s is %s, not %s.")
            self.checker.add((*path, "unit"), reason % (quantity, rule.unit, step["unit"]))

    def _band(self, band: dict[str, Any] | None, path: Path) -> None:
        if not band:
            return
        for name in ("low", "high", "nominal", "points"):
            self.checker.expression(band.get(name), (*path, name), whole_list=name == "points")
        low, high = band.get("low"), band.get("high")
        if isinstance(low, int | float) and isinstance(high, int | float) and low > high:
            self.checker.add(path, _("The lower limit is above the upper one."))
        if "along" in band:
            self._along(band["along"], (*path, "along"))

    def _along(self, name: str, path: Path) -> None:
        if self.seen.kinds.get(name) != "reading":
            self.checker.add(path, _("%r is no earlier reading.") % name)
        elif self.seen.blocks[name] not in (None, self.block):
            self.checker.add(path, _("%r is repeated elsewhere; which turn is meant?") % name)

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
            self._fields(changes, path)

    def _case(self, case: str, keys: list[str], path: Path) -> None:
        chosen = case.split("|")
        if len(chosen) != len(keys):
            self.checker.add(path, _("This case must name %d choices.") % len(keys))
            return
        for name, key in zip(keys, chosen, strict=True):
            if key not in self.seen.keys[name]:
                self.checker.add(path, _("%r is no choice of %r.") % (key, name))

    def _writes(self) -> None:
        writes = self.step.get("writes")
        if writes == "sheet.idle_watt" and self.step.get("quantity") != "power":
            self._add("writes", _("Only a reading of power can be noted as idle power."))
        if writes == "unit.set_for" and self.step["kind"] != "look":
            self._add("writes", _("Only a look step can say what the unit is now set for."))
