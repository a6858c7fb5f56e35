"""Steps of a pack: loops unrolled, facts filled in, what cannot be judged says why."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from django.utils.translation import gettext as _

from shop.calc.quantities import RULES, Quantity
from shop.jobs.format.bench_conditions import renamed
from shop.jobs.packing.bands import band_of, number, seconds_of, work_named
from shop.jobs.packing.grids import ramp_of, table_of
from shop.jobs.packing.loops import rows_of
from shop.jobs.packing.patience import STEP
from shop.jobs.packing.values import NotKnown, Values

Step = dict[str, Any]
Parts = Mapping[str, dict[str, Any]]
Names = Callable[[str], list[str]]


class Unrolled:
    """Which pack steps each step of a template became, in which turn of which block."""

    def __init__(self, template: dict[str, Any], values: Values) -> None:
        self.turns: dict[str, tuple[int, int] | None] = {}  # step: (block, turns), None: once
        self.rows: dict[int, list[Any]] = {}
        for index, entry in enumerate(template["steps"]):
            loop = entry.get("repeat")
            if loop:
                self.rows[index] = rows_of(loop, values)
            for step in entry.get("steps", [entry]):
                self.turns[step["id"]] = (index, len(self.rows[index])) if loop else None

    def names(self, block: int | None, turn: int | None) -> Names:
        """From a step's id to the ids it became, seen from one turn of a block."""

        def became(name: str) -> list[str]:
            where = self.turns.get(name)
            if where is None:
                return [name]
            if where[0] == block and turn is not None:
                return [f"{name}.{turn}"]
            return [f"{name}.{number}" for number in range(1, where[1] + 1)]

        return became


def steps_of(
    template: dict[str, Any],
    values: Values,
    parts: Parts,
    work_procedure: Callable[[Step], list[Step]],
) -> list[Step]:
    """All steps of the pack in order; `work_procedure` makes those of another template."""
    unrolled = Unrolled(template, values)
    found: list[Step] = []
    for step, inside, names in _placed(template, values, unrolled):
        if not inside.holds(step.get("when_fact")):
            continue
        if step["kind"] == "procedure":
            when = renamed(step["when"], names) if "when" in step else None
            found += work_procedure({**step, "when": when})
        elif step.get("part", "") in {"", *parts}:
            found.append(_Maker(step, inside, names, parts).make())
    return found


def _placed(
    template: dict[str, Any], values: Values, unrolled: Unrolled
) -> Iterator[tuple[Step, Values, Names]]:
    for index, entry in enumerate(template["steps"]):
        loop = entry.get("repeat")
        if not loop:
            yield entry, values, unrolled.names(None, None)
            continue
        if "steps" in entry and not values.holds(entry.get("when_fact")):
            continue
        for turn, row in enumerate(unrolled.rows[index], 1):
            inside = values.inside(loop, row, turn)
            for step in entry.get("steps", [entry]):
                yield step, inside, unrolled.names(index, turn)


class _Maker:
    """Makes one step of a pack."""

    def __init__(self, step: Step, values: Values, names: Names, parts: Parts) -> None:
        self.step, self.values, self.names, self.parts = step, values, names, parts
        self.why_not: list[str] = []

    def make(self) -> Step:
        self.values.patience.spend(STEP)
        step = self.step
        made = {
            "id": self.names(step["id"])[0],
            "kind": step["kind"],
            "safety": step.get("safety", False),
            "mains": step.get("mains", False),
            "phase": step.get("phase"),
            "when": renamed(step["when"], self.names) if "when" in step else None,
            "writes": step.get("writes"),
        }
        if step.get("energised"):
            made["energised"] = True
        made |= {"group": "", "text": "", "cautions": [], "required": True, "work": None}
        made |= self._changes(step, step["kind"])
        if step["kind"] == "take_part":
            self._without_part(made)
        made["variants"] = self._variants()
        made["why_not_judged"] = " ".join(dict.fromkeys(self.why_not)) or None
        return made

    def _changes(self, fields: Step, kind: str) -> Step:
        """What the step itself or one of its variants says."""
        text = self.values.text
        made: Step = {
            name: text(fields[name])
            for name in ("group", "title", "text", "waiting_text")
            if name in fields
        }
        if "cautions" in fields:
            made["cautions"] = [text(caution) for caution in fields["cautions"]]
        if "pictures" in fields:
            made["pictures"] = [self._picture(picture) for picture in fields["pictures"]]
        if "required" in fields:
            made["required"] = fields["required"]
        if "work" in fields:
            made["work"] = self._work(fields["work"])
        if "choices" in fields:
            made["choices"] = [self._choice(choice) for choice in fields["choices"]]
        kinds: dict[str, Callable[[Step], Step]] = {
            "reading": self._reading, "take_part": self._part, "timer": self._timer,
            "sign_off": self._sign_off, "ramp": self._ramp, "table": self._table,
        }  # fmt: skip
        special = kinds.get(kind)
        return made | special(fields) if special else made

    def _work(self, name: str) -> str | None:
        """The work entry a step shows; one without an answer says so on the step."""
        name = self.values.work_name(name)
        answer = self.values.work.get(name)
        if answer and answer["outcome"] in ("no_answer", "refuse"):
            self.why_not.append(answer["text"])
        return name if answer else None

    def _picture(self, picture: Step) -> Step:
        caption = self.values.text(picture.get("caption", ""))
        return {"sha256": picture["sha256"], "caption": caption}

    def _choice(self, choice: Step) -> Step:
        made = {**choice, "label": self.values.text(choice["label"])}
        made["verdict"] = choice.get("verdict")
        if "text" in choice:
            made["text"] = self.values.text(choice["text"])
        return made

    def _reading(self, fields: Step) -> Step:
        made: Step = {}
        base = fields is self.step
        if base or "quantity" in fields:
            made["quantity"] = fields["quantity"]
            made["unit"] = RULES[Quantity(fields["quantity"])].unit
        if base or "band" in fields:
            made["band"], why = band_of(fields.get("band"), self.values, self.names)
            self.why_not += [why] if why else []
            source = work_named(fields.get("band"), self.values) if made["band"] else None
            made |= {"limits_from": source} if source else {}
        return made | self._judging(fields)

    def _judging(self, fields: Step) -> Step:
        """How readings are judged, and what that stops."""
        base = fields is self.step
        normal = {"rule": "simple", "meter_kinds": [], "blocks": False}
        return {n: fields.get(n, usual) for n, usual in normal.items() if base or n in fields}

    def _part(self, fields: Step) -> Step:
        made: Step = {}
        if "part" in fields:
            part = self.parts[fields["part"]]
            made["part"] = {name: part[name] for name in ("code", "name", "bin")}
            made["quantity"] = part["quantity"]
        if "quantity" in fields:
            made |= self._pieces(fields["quantity"])
        return made

    def _pieces(self, expression: Any) -> Step:
        """How many; where that is not known, the number named with the part stands."""
        try:
            return {"quantity": max(1, int(number(self.values.evaluate(expression)) or 1))}
        except NotKnown as missing:
            self.why_not.append(missing.reason)
        except ValueError as error:
            self.why_not.append(str(error))
        return {}

    def _without_part(self, made: Step) -> None:
        """A part that is not on the parts wall cannot be taken from it."""
        if not made["part"]["code"]:
            made["required"] = False
            self.why_not.append(_("The parts wall has no such part: %s.") % made["part"]["name"])

    def _timer(self, fields: Step) -> Step:
        if "seconds" not in fields:
            return {}
        seconds, why = seconds_of(fields["seconds"], self.values)
        self.why_not += [why] if why else []
        return {"seconds": seconds, "ring": True}

    def _sign_off(self, fields: Step) -> Step:
        base = fields is self.step
        made: Step = {"role": fields["role"]} if "role" in fields else {}
        if base or "other_person" in fields:
            made["other_person"] = fields.get("other_person", False)
        return made

    def _ramp(self, fields: Step) -> Step:
        if "ramp" not in fields:
            return {}
        made, why = ramp_of(fields["ramp"], self.values)
        self.why_not += why
        return made

    def _table(self, fields: Step) -> Step:
        made, why = table_of(fields["table"], self.values) if "table" in fields else ({}, [])
        self.why_not += why
        return made | self._judging(fields)

    def _variants(self) -> Step | None:
        variants = self.step.get("variants")
        if not variants:
            return None
        cases = {
            case: self._changes(changes, self.step["kind"])
            for case, changes in variants["cases"].items()
        }
        return {"keys": [self.names(key)[0] for key in variants["keys"]], "cases": cases}
