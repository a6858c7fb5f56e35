"""Job templates drawn at random: every kind of step, loops, variants, conditions, procedures.

What is drawn can be published. `ANSWERS` are to what it asks, `SHEET` lets it be started.
"""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from tests.factories.jobs import template
from tests.factories.sheets import full_sheet

Step = dict[str, Any]
KINDS = (
    "caution", "instruction", "look", "reading", "photo", "take_part", "computed", "timer",
    "sign_off", "note", "ramp", "table",
)  # fmt: skip
CHANNELS = [{"name": "left", "output_dbu": 4}, {"name": "right", "output_dbu": 4}]
# Make and model are left out: each sheet of a shop has its own.
SHEET = {
    name: fact for name, fact in full_sheet(channels=CHANNELS).items()
    if name not in ("make", "model")
}  # fmt: skip
FACTS = [
    {"key": "turns", "title": "How many?", "quantity": "count", "required": True},
    {"key": "names", "title": "Which?", "names": True, "required": True},
    {"key": "way", "title": "How?", "choices": [
        {"key": "a", "label": "a"}, {"key": "b", "label": "b", "value": 2}]},
    {"key": "watt", "title": "Idle power?", "quantity": "power", "from": "sheet.idle_watt"},
]  # fmt: skip
ANSWERS = {"turns": "2", "names": "C1, C2", "way": "a"}
WORK = [
    {"name": "fuse", "title": "Fuse", "calculator": "fuses.scale", "given": {
        "old_mark": {"fact": "sheet.at_set_for.fuse"},
        "old_volt": {"fact": "supply.set_for.volt"},
        "new_volt": {"fact": "supply.use_at.volt"}}},
]  # fmt: skip
LOOPS = (
    {"over": "sheet.rails", "as": "row", "max": 4},
    {"over": "sheet.channels", "as": "row", "max": 4},
    {"over": "asked.names", "as": "row", "max": 4},
    {"over": "asked.turns", "as": "row", "max": 4},
)
FACT_CONDITIONS = (
    {"known": "sheet.idle_watt"},
    {"eq": ["sheet.supply_kind", "linear"]},
    {"not": {"in": ["sheet.protection_class", ["II", "III"]]}},
    {"at_least": ["sheet.highest_reservoir_volt", 50]},
    {"has": ["sheet.features", "motor"]},
    {"or": [{"eq": ["asked.way", "a"]}, {"eq": ["asked.way", 2]}]},
)
BANDS = (
    {"low": 4, "high": 6},
    {"high": 10},
    {"low": 2},
    {"low": 4, "high": {"fact": "sheet.idle_watt", "times": 2}, "nominal": 5},
    {"high": {"first": [{"fact": "sheet.cord_length_m", "times": 10}, {"value": 20}]}},
)
QUANTITIES = ("voltage_dc", "power", "resistance", "count", "level", "length")


class Drawing:
    """A template while it is drawn: what later steps may name."""

    def __init__(self, draw: Any) -> None:
        self.draw, self.number = draw, 0
        self.looks: dict[str, tuple[bool, list[str]]] = {}  # id: whether it is safety, its choices
        self.readings: list[str] = []  # that are always there, so that a band may run along

    def one_of(self, *choices: Any) -> Any:
        return self.draw(st.sampled_from(choices))

    def maybe(self) -> bool:
        return bool(self.draw(st.booleans()))

    def step(self, kind: str, *, is_plain: bool = False) -> Step:
        """One step. `is_plain`: nothing outside a loop may name it, nor it anything outside."""
        self.number += 1
        made: Step = {"id": f"s{self.number}", "kind": kind, "title": f"Step {self.number}"}
        made |= getattr(self, f"_{kind}", dict)()
        if kind not in ("ramp", "table", "note") and self.maybe():
            made["safety"] = True
        elif self.maybe():
            made["required"] = self.maybe()
        if self.maybe():
            made[self.one_of("mains", "energised")] = True
        if self.maybe():
            made["pictures"] = [{"sha256": "ab" * 32, "caption": "{unit.model}"}]
        if not is_plain:
            self._hang(made)
            self._remember(made)
        return made

    def first_look(self) -> Step:
        """A look step on which whatever comes after it may hang."""
        made = {"id": "begin", "kind": "look", "title": "Which?", "safety": True, **self._look()}
        self._remember(made)
        return made

    def _hang(self, made: Step) -> None:
        """Perhaps behind a choice, behind a fact, with a variant for a choice."""
        near = {n: keys for n, (safe, keys) in self.looks.items() if safe or not made.get("safety")}
        if near and self.one_of(True, True, False):
            made["when"] = self._condition(near)
        if self.draw(st.integers(0, 3)) == 0:
            made["when_fact"] = self.one_of(*FACT_CONDITIONS)
        if self.looks and self.maybe():
            name = self.one_of(*self.looks)
            case = self.one_of(*self.looks[name][1])
            changes = {"title": "Now another"}
            if made["kind"] == "reading":
                changes["band"] = self.one_of(*BANDS)
            made["variants"] = {"keys": [name], "cases": {case: changes}}
        band = {"along": self.readings[-1], "points": {"value": [[-1e6, 0, 9], [1e6, 0, 9]]}} if (
            self.readings) else None  # fmt: skip
        if made["kind"] == "reading" and band and self.maybe():
            made["band"] = band

    def _condition(self, near: dict[str, list[str]]) -> Step:
        name = self.one_of(*near)
        key = self.one_of(*near[name])
        word = self.one_of("eq", "in", "not", "and")
        plain = {"eq": [name, key]}
        others = {"in": {"in": [name, [key]]}, "not": {"not": plain}, "and": {"and": [plain]}}
        return others.get(word, plain)

    def _remember(self, made: Step) -> None:
        if made["kind"] == "look":
            keys = [choice["key"] for choice in made["choices"]]
            self.looks[made["id"]] = (bool(made.get("safety")), keys)
        hangs = made.keys() & {"when", "when_fact"}
        if made["kind"] == "reading" and made.get("required", True) and not hangs:
            self.readings.append(made["id"])

    # What only some kinds have

    def _look(self) -> Step:
        verdicts = [self.one_of("pass", None), self.one_of("pass", "fail", None)]
        choices = [
            {"key": k, "label": k, "verdict": v} for k, v in zip("ab", verdicts, strict=True)
        ]
        return {"choices": choices}

    def _reading(self) -> Step:
        band = self.one_of(None, *BANDS)
        made = {
            "quantity": self.one_of(*QUANTITIES),
            "phase": self.one_of("as_found", "as_left", None),
        }
        made["rule"] = self.one_of("simple", "guarded", "non_binary")
        return made | ({"band": band, "blocks": self.maybe()} if band else {})

    def _take_part(self) -> Step:
        return {"part": "fuse", "quantity": self.one_of(1, 2)}

    def _computed(self) -> Step:
        return {"work": "fuse"}

    def _timer(self) -> Step:
        return {"seconds": self.one_of(5, {"value": 60})}

    def _sign_off(self) -> Step:
        return {"role": "tech", "other_person": self.maybe()}

    def _ramp(self) -> Step:
        rows = [{"set_percent": p, "set_volt": p * 2, "low": 0, "high": p} for p in (25, 50)]
        columns = [
            {"key": "set", "title": "Set", "quantity": "voltage_ac"},
            {"key": "watt", "title": "Power", "quantity": "power", "along": "set", "low": "low",
             "high": "high"},
        ]  # fmt: skip
        return {"ramp": {"rows": {"value": rows}, "dwell_seconds": 5, "columns": columns}}

    def _table(self) -> Step:
        one, other = self.one_of(*QUANTITIES), self.one_of(*QUANTITIES)
        columns = [
            {"key": "a", "title": "A", "quantity": one, "band": self.one_of(*BANDS)},
            {"key": "b", "title": "B", "quantity": other, "required": self.maybe()},
        ]
        named = [{"title": "One", "limits": {"a": {"low": 1, "high": 3}}}, {"title": "Two"}]
        rows = self.one_of(named, *({**loop, "title": "Row"} for loop in LOOPS))
        return {"table": {"rows": rows, "columns": columns}, "blocks": self.maybe()}


@st.composite
def templates(draw: Any, slug: str = "drawn", procedures: tuple[str, ...] = ()) -> Step:
    """A template that can be published once those it works are."""
    drawing = Drawing(draw)
    steps: list[Step] = [{"id": "first", "kind": "caution", "title": "First", "safety": True}]
    steps.append(drawing.first_look())
    shapes = st.sampled_from(("step", "step", "step", "loop", "block", "procedure"))
    for shape in draw(st.lists(shapes, min_size=3, max_size=8)):
        steps.append(_entry(drawing, shape, procedures))
    parts = [{"key": "fuse", "name": "Fuse of the tests", "quantity": 1}]
    return template(*steps, slug=slug, facts=FACTS, parts=parts, work=WORK)


def _entry(drawing: Drawing, shape: str, procedures: tuple[str, ...]) -> Step:
    kind = drawing.one_of(*KINDS)
    if shape == "procedure" and procedures:
        drawing.number += 1
        named = {"template": drawing.one_of(*procedures)}
        return {"id": f"s{drawing.number}", "kind": "procedure", "procedure": named}
    if shape == "loop":
        return {**drawing.step(kind, is_plain=True), "repeat": drawing.one_of(*LOOPS)}
    if shape == "block":
        look = {**drawing.step("look", is_plain=True), "safety": True}
        look.pop("required", None)
        inner = drawing.step(kind, is_plain=True)
        inner["when"] = {"eq": [look["id"], "a"]}
        return {"repeat": drawing.one_of(*LOOPS), "steps": [look, inner]}
    return drawing.step(kind)


@st.composite
def books_of_templates(draw: Any) -> list[Step]:
    """Templates in the order in which they can be published; later ones work earlier ones."""
    innermost = draw(templates(slug="innermost"))
    inner = draw(templates(slug="inner", procedures=("innermost",)))
    return [innermost, inner, draw(templates(slug="outer", procedures=("innermost", "inner")))]


def with_everything(slug: str = "everything") -> Step:
    """One template that has each kind of step and nearly every field. Works `dead-working`."""
    safe = [{"key": "a", "label": "a", "verdict": "pass"}, {"key": "b", "label": "b"}]
    along = {"along": "volt", "points": {"value": [[0, 0, 9], [99, 1, 9]]}}
    columns = [
        {"key": "a", "title": "A", "quantity": "level",
         "band": {"low": {"fact": "row.output_dbu"}}},
        {"key": "b", "title": "B", "quantity": "ratio", "unit": "dB", "required": False},
    ]  # fmt: skip
    ramp = {
        "rows": {"value": [{"v": 10, "high": 1}, {"v": 20, "high": 2}]}, "set_volt": "v",
        "dwell_seconds": 5, "stop_rules": ["Stop at smoke."],
        "columns": [{"key": "set", "title": "Set", "quantity": "voltage_ac"},
                    {"key": "w", "title": "W", "quantity": "power", "along": "set",
                     "high": "high"}],
    }  # fmt: skip
    steps: list[Step] = [
        {"id": "first", "kind": "caution", "title": {"en": "First", "de": "Erst"}, "safety": True},
        {"id": "which", "kind": "look", "title": "Which?", "safety": True, "choices": safe},
        {"id": "volt", "kind": "reading", "title": "Volts", "quantity": "voltage_dc", "unit": "V",
         "phase": "as_left", "band": BANDS[3], "blocks": True, "rule": "guarded", "mains": True,
         "meter_kinds": ["multimeter"], "pictures": [{"sha256": "ab" * 32, "caption": "Here"}]},
        {"id": "next", "kind": "reading", "title": "Next", "quantity": "voltage_dc", "phase": None,
         "band": along, "variants": {"keys": ["which"], "cases": {"a": {"band": {"low": 1}}}},
         "when": {"not": {"in": ["which", ["b"]]}}},
        {"id": "ramp", "kind": "ramp", "title": "Ramp", "ramp": ramp, "energised": True},
        {"id": "table", "kind": "table", "title": "Table", "blocks": True, "table": {
            "rows": {**LOOPS[1], "title": "{row.name}"}, "columns": columns}},
        {"id": "wait", "kind": "timer", "title": "Wait", "seconds": {"value": 5}},
        {"id": "take", "kind": "take_part", "title": "Take", "part": "fuse", "quantity": {
            "fact": "asked.turns"}},
        {"id": "how", "kind": "computed", "title": "{work.fuse.value.mark}", "work": "fuse"},
        {"id": "each", "kind": "note", "title": "{row.number}", "repeat": LOOPS[3]},
        {"repeat": LOOPS[2], "when_fact": FACT_CONDITIONS[5], "steps": [
            {"id": "photo", "kind": "photo", "title": "{row.name}"}]},
        {"id": "dead", "kind": "procedure", "procedure": {"template": "dead-working"},
         "when_fact": FACT_CONDITIONS[3]},
        {"id": "sign", "kind": "sign_off", "title": "Sign", "role": "tech", "other_person": True},
    ]  # fmt: skip
    gates = [{"when": {"has": ["sheet.hazards", "asbestos"]}, "reason": "Not here."}]
    parts = [{"key": "fuse", "name": "Fuse {work.fuse.value.mark}", "quantity": 1}]
    head = {"facts": FACTS, "gates": gates, "parts": parts, "work": WORK, "cautions": ["Mind it."]}
    return template(*steps, slug=slug, **head)
